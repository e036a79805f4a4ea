"""Outlines as they are drawn: rounded rectangles down to slots and circles."""

from __future__ import annotations

from math import pi

import pytest

from airframe.drawing import Panel, rectangle
from airframe.shapes import measure

FACETS_SHARE = 2e-4
"""What the weighing mesh may leave out of rounded corners."""


@pytest.mark.parametrize("radius", [0.0, 3.0, 8.0])
def test_a_rounded_rectangle_has_lost_its_corners(radius: float) -> None:
    """A square of 2 r less its circle is lost at the corners: (4 - pi) r^2 (closed form)."""
    outline = rectangle(0.0, 0.0, 18.0, 16.0, radius)
    assert outline.area() == pytest.approx(18.0 * 16.0 - (4.0 - pi) * radius**2)
    assert outline.length() == pytest.approx(2 * (18.0 + 16.0) - (8.0 - 2.0 * pi) * radius)


def test_corners_as_round_as_can_be_make_a_circle() -> None:
    """Radii that leave nothing straight between them leave four arcs."""
    outline = rectangle(-5.0, -5.0, 5.0, 5.0, 7.0)
    assert len(outline.points) == 4
    assert outline.area() == pytest.approx(pi * 5.0**2)


@pytest.mark.parametrize("left_mm", [1e-2, 1e-3, 1.1e-4, 7e-6, 2e-6, 1e-6, 0.0])
@pytest.mark.parametrize("radius", [8.0, 2e-6])
def test_hardly_any_side_or_corner_still_closes(left_mm: float, radius: float) -> None:
    """Where corners leave next to nothing of a side, or are next to nothing, the plate closes and weighs its due."""
    outline = rectangle(0.0, 0.0, 17.3, 16.0 + left_mm, radius)
    body = measure(Panel(outline, 5.0)).body
    assert body.mass == pytest.approx((17.3 * (16.0 + left_mm) - (4.0 - pi) * radius**2) * 5.0, rel=FACETS_SHARE)
