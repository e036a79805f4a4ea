"""Figures and names on the page's drawing: there, apart from one another, and readable."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from playwright.sync_api import Page

from tests.viewers.bench.view.drawn import call

LEAST_CONTRAST = 4.5
"""Of lettering against its paper: WCAG 2.2, success criterion 1.4.3, level AA."""
BOXES = """() => [...document.querySelectorAll("svg text")]
  .filter((text) => text.getAttribute("visibility") === "visible").map((text) => text.getBoundingClientRect())
  .map((box) => [box.left, box.top + 2, box.right, box.bottom - 2])"""
STYLES = """() => [...document.querySelectorAll("svg g text")].map((text) => getComputedStyle(text))
  .map((style) => [style.fill, style.stroke, style.fontSize])"""


@pytest.mark.parametrize("size", [(700, 520), (420, 360), (1200, 800)])
def test_figures_never_overlap(page: Page, size: tuple[int, int]) -> None:
    """In every view each line of lettering stands clear of the others and on the paper."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    for look in ("three-quarter", "side", "front", "top"):
        page.evaluate("async (name) => { await view.look(name); await view.select('battery'); }", look)
        boxes = page.evaluate(BOXES)
        assert len(boxes) >= 2
        for a, b in combinations(boxes, 2):
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert all(x0 >= 0 and y0 >= 0 and x1 <= size[0] and y1 <= size[1] for x0, y0, x1, y1 in boxes)


def test_each_view_has_its_dimensions(page: Page) -> None:
    """Seen from the side length and balance, from ahead span and track, from above span, track and length."""
    wanted = {"side": {"length", "70"}, "front": {"span", "track"}, "top": {"span", "track", "length"}}
    for look, names in wanted.items():
        call(page, f"look('{look}')")
        texts = page.locator("svg text:visible").all_text_contents()
        assert names <= {text.split()[0] for text in texts}


def luminance(colour: str) -> float:
    """Relative luminance of an rgb(...) text (WCAG 2.2)."""
    values = np.array([float(value) for value in colour[4:-1].split(",")]) / 255.0
    linear = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    return float(linear @ (0.2126, 0.7152, 0.0722))


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_lettering_reads_on_its_paper(page: Page, theme: str) -> None:
    """Every colour of lettering has contrast AA against the paper, and none is smaller than 14 px."""
    call(page, f"setTheme('{theme}')")
    styles = page.evaluate(STYLES)
    paper = page.evaluate("getComputedStyle(document.getElementById('view')).backgroundColor")
    assert styles
    for fill, edge, size in styles:
        assert edge == paper
        bright, dim = sorted((luminance(fill), luminance(paper)), reverse=True)
        assert (bright + 0.05) / (dim + 0.05) >= LEAST_CONTRAST
        assert float(size.removesuffix("px")) >= 14.0
