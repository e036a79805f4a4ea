"""The look that all plots share."""

from __future__ import annotations

import re
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.text import Text
from PIL import Image

from viewers import plot_files, plots
from viewers.palette import PAPER, rgb

X = np.linspace(100.0, 300.0, 21)


def full() -> Figure:
    """A figure with one of everything."""
    fig, (left, right) = plots.figure("A sweep", "What to look for. " * 12, grid=(1, 2))
    for number in range(len(plots.STROKES)):
        plots.line(left, X, 0.1 * X + number, number, f"case {number}", marked=True)
    plots.band(left, X, 0.1 * X - 2.0, 0.1 * X + 2.0)
    plots.label(left, "track, mm", "angle, deg")
    plots.pass_region(left, 25.0, None, name="passes")
    plots.legend(left)
    plots.contour(right, X, X, np.hypot(X[None, :], X[:, None]), (200.0, 300.0))
    plots.label(right, "track, mm", "height, mm", "two ways")
    plots.note(right, (200.0, 200.0), "as drawn")
    return fig


def test_no_lettering_is_smaller_than_nine_points() -> None:
    """Titles, axes, legends, notes and the numbers on contours, at the size of paper."""
    fig = full()
    fig.canvas.draw()
    sizes = [text.get_fontsize() for text in fig.findobj(Text) if isinstance(text, Text) and text.get_text()]
    assert len(sizes) > 20
    assert min(sizes) >= 9.0


def test_lines_differ_in_more_than_colour() -> None:
    """No two strokes share dashes, mark or hatching; each colour stands out from the paper (WCAG 2: 4.5 to 1)."""
    for kind in ("dashes", "marker", "hatch", "colour"):
        assert len({getattr(stroke, kind) for stroke in plots.STROKES}) == len(plots.STROKES)
    for stroke in plots.STROKES:
        assert contrast(stroke.colour, PAPER) >= 4.5


def contrast(one: str, other: str) -> float:
    """Of two colours, as WCAG 2 defines it."""
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Relative, as WCAG 2 defines it."""
    shares = [value / 255.0 for value in rgb(colour)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_one_figure_gives_one_text() -> None:
    """An SVG holds no date and no chance: drawn again it is the same to the letter."""
    assert plot_files.svg(full(), "a sweep") == plot_files.svg(full(), "a sweep")


def test_two_figures_share_a_page() -> None:
    """Names of things differ from one figure to the next, and nothing in it styles the page around it."""
    other, (ax,) = plots.figure("Another")
    plots.band(ax, X, X, X + 1.0)
    texts = plot_files.svg(full(), "one"), plot_files.svg(other, "two")
    names = [set(re.findall(r'\bid="([^"]*)"', text)) for text in texts]
    assert names[0] and names[1] and not names[0] & names[1]
    for text, own in zip(texts, names, strict=True):
        used = set(re.findall(r'href="#([^"]*)"', text)) | set(re.findall(r"url\(#([^)]*)\)", text))
        assert used <= own
        assert "<style" not in text and "<metadata" not in text and not text.startswith("<?xml")


def test_an_svg_says_what_it_shows() -> None:
    """It is one sound element with a label, whatever the words are."""
    root = ElementTree.fromstring(plot_files.svg(full(), 'a "sweep" & <more>'))
    assert root.get("aria-label") == 'a "sweep" & <more>'
    assert root.get("role") == "img"


def test_a_picture_is_as_large_as_paper() -> None:
    """Pixels are inches times the density asked for; the corner is warm paper."""
    picture = Image.open(BytesIO(plot_files.png(full(), 100.0)))
    assert picture.size == (round(plots.WIDE_IN * 100), round(plots.TALL_IN * 100))
    assert picture.convert("RGB").getpixel((0, 0)) == rgb(PAPER)


@pytest.mark.parametrize("is_turned", [False, True])
def test_a_pass_region_reaches_to_the_end_of_the_axis(is_turned: bool) -> None:
    """An open side is shaded to the axis's end, which stays where it was, turned round or not."""
    _, (ax,) = plots.figure("Region")
    plots.line(ax, X, 0.1 * X)
    if is_turned:
        ax.invert_yaxis()
    before = ax.get_ylim()
    plots.pass_region(ax, 25.0, None)
    assert ax.get_ylim() == before
    (region,) = (patch for patch in ax.patches if to_hex(patch.get_facecolor()) == plots.PASS)
    box = region.get_path().get_extents(region.get_patch_transform())
    assert (box.y0, box.y1) == (25.0, max(before))


def test_a_contour_shades_what_passes() -> None:
    """Of hypot(x, y) between 200 and 300: points within are shaded, points outside are not."""
    _, (ax,) = plots.figure("Contour")
    plots.contour(ax, X, X, np.hypot(X[None, :], X[:, None]), (200.0, 300.0))
    (shaded,) = (c for c in ax.collections if len(c.get_facecolor()) and to_hex(c.get_facecolor()[0]) == plots.PASS)
    path = shaded.get_paths()[0]
    assert path.contains_points([(150.0, 200.0), (110.0, 220.0)]).all()
    assert not path.contains_points([(110.0, 110.0), (290.0, 290.0), (150.0, 270.0)]).any()


def test_a_contour_of_no_answers_draws_nothing() -> None:
    """Where nothing could be built there is no line to draw, and no warning."""
    _, (ax,) = plots.figure("Contour")
    plots.contour(ax, X, X, np.full((21, 21), np.nan), (0.0, 2.0))
    assert not ax.collections


@pytest.mark.parametrize(("limit", "regions"), [((0.0, 2.0), 1), ((2.0, 3.0), 0), ((None, None), 0)])
def test_a_level_field_is_shaded_or_not(limit: tuple[float | None, float | None], regions: int) -> None:
    """Where all variants give the same, everything passes or nothing does; there are no lines, and no warning."""
    _, (ax,) = plots.figure("Contour")
    plots.contour(ax, X, X, np.ones((21, 21)), limit)
    assert len(ax.collections) == regions
