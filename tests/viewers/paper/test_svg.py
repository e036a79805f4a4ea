"""SVG: one unit is one millimetre, and the outlines are where they were drawn."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from airframe.drawing import circle
from viewers.paper.drawing import Drawing, outline
from viewers.paper.svg import svg

NS = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def root(drawing):
    return ElementTree.fromstring(svg(drawing))


def test_one_unit_is_one_millimetre(root, drawing) -> None:
    """Width, height and view box are the drawing's millimetres."""
    x0, y0, x1, y1 = drawing.box
    assert (root.get("width"), root.get("height")) == (f"{x1 - x0:g}mm", f"{y1 - y0:g}mm")
    assert [float(v) for v in root.get("viewBox").split()] == [x0, -y1, x1 - x0, y1 - y0]


def test_a_group_for_each_layer(root, drawing) -> None:
    """Layers are groups by name, with as many paths as curves."""
    groups = {group.get("id"): group for group in root.iter(f"{NS}g")}
    assert tuple(groups) == drawing.layers()
    for layer in set(groups) - {"TEXT"}:
        assert len(groups[layer]) == sum(curve.layer == layer for curve in drawing.curves)


def test_the_outline_is_500_mm_long(root) -> None:
    """The plate's corners run from x = 20 to 520, y upwards turned to SVG's downwards."""
    path = root.find(f"{NS}g[@id='CUT']/{NS}path").get("d")
    numbers = [tuple(map(float, pair)) for pair in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)]
    assert max(x for x, _ in numbers) - min(x for x, _ in numbers) == pytest.approx(500.0)
    assert numbers[0] == (20.0, -20.0)


def test_a_circle_is_two_arcs(root) -> None:
    """A left-turning half circle of radius 20 is an arc with sweep flag 0 (y points down in SVG 1.1)."""
    data = svg(Drawing("c", "c", (0, 0, 40, 40), (outline("CUT", circle(20, 20, 40)),), ()))
    assert re.findall(rb"A20 20 0 [01] 0 ", data) and b" 1 1 " not in data


def test_words_are_escaped(root) -> None:
    """Names with < and & come back as they were written."""
    assert "plate <1> & 45°" in {text.text for text in root.iter(f"{NS}text")}
