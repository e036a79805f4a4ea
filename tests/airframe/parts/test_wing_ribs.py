"""Ribs and spar under the wing's skin."""

from __future__ import annotations

from math import atan, sin, tan
from typing import Any

import numpy as np
import pytest

from airframe.drawing import Bead, Block, Panel, Part, PartError
from airframe.layout import Layout
from airframe.parts import wing
from airframe.parts.wing_ribs import LEAST_HEIGHT_MM
from tests.designs import plain
from tests.overlaps import manifolds

TOUCH_MM = 1e-3


def built(width: str = "70 mm", **wing_table: Any) -> dict[str, Part]:
    """The wing's parts by name, on a fuselage of some width."""
    design = plain(fuselage={"width": width}, wing=wing_table)
    return {part.name: part for part in wing.parts(Layout(design))}


def panel_of(part: Part) -> Panel:
    assert isinstance(part.shape, Panel)
    return part.shape


@pytest.mark.parametrize("width_mm", [60.0, 92.0])
def test_centre_ribs_follow_the_fuselage(width_mm: float) -> None:
    """The centre ribs' outer faces are flush with the fuselage's sides, and their feet stand on its edges."""
    parts = built(width=f"{width_mm} mm", incidence="0 deg")
    rib = parts["centre rib right"]
    flat = panel_of(rib).outline.flattened()
    for depth, expected in ((0.0, width_mm / 2.0 - 5.0), (-5.0, width_mm / 2.0)):
        face = rib.place.apply(np.column_stack([flat, np.full(len(flat), depth)]))
        assert face[:, 1] == pytest.approx(expected, abs=1e-9)
        assert face[:, 2].min() == pytest.approx(40.0, abs=1e-9)
    assert parts["centre rib left"].place == rib.place.mirrored()


def test_centre_rib_reaches_down_under_dihedral() -> None:
    """With dihedral in the first panel the inner lower edge of a centre rib still stands on the fuselage's edge."""
    rib = built(incidence="0 deg", panels=[{"span": "450 mm", "dihedral": "8 deg"}])["centre rib right"]
    flat = panel_of(rib).outline.flattened()
    inner = rib.place.apply(np.column_stack([flat, np.zeros(len(flat))]))
    outer = rib.place.apply(np.column_stack([flat, np.full(len(flat), -5.0)]))
    assert inner[:, 2].min() == pytest.approx(40.0, abs=1e-6)
    assert outer[:, 2].min() >= 40.0


def test_rib_area_under_two_facets() -> None:
    """One score in the middle of the chord makes a roof; the rib under it is two trapezia.

    Slope s = 2 m, s = tan a; the underside lies t sin a tan a under the line through z = 0 at the
    leading edge, measured upright, and the rib ends where 1.5 mm are left.
    """
    m, chord, t = 0.08, 200.0, 5.0
    slope = 2.0 * m
    below = t * sin(atan(slope)) * tan(atan(slope))
    middle = slope * chord / 2.0 - below
    front = (LEAST_HEIGHT_MM + below) / slope
    area = 2.0 * (LEAST_HEIGHT_MM + middle) / 2.0 * (chord / 2.0 - front)
    rib = built(camber="8 %", camber_position="50 %", scores=1, rib_positions=["200 mm"])["wing rib 1 right"]
    assert panel_of(rib).area() == pytest.approx(area, rel=1e-7)


def test_same_size_ribs_share_a_shape() -> None:
    """Ribs under an untapered panel are one shape, right, left and centre, swept or not."""
    parts = built(panels=[{"span": "450 mm", "sweep": "4 deg"}], rib_positions=["150 mm", "300 mm", "440 mm"])
    shapes = {part.shape for name, part in parts.items() if "rib" in name and isinstance(part.shape, Panel)}
    assert len(shapes) == 1


def test_ribs_reach_the_skin() -> None:
    """A rib of a tapered panel touches the skin's underside."""
    panels = [{"span": "450 mm", "tip_chord": "140 mm", "dihedral": "3 deg"}]
    parts = built(panels=panels, rib_positions=["200 mm"], spar={})
    bodies = manifolds(parts.values())
    skin = bodies["wing skin 1 right"]
    assert skin.min_gap(bodies["wing rib 1 right"], 1.0) < TOUCH_MM
    assert skin.min_gap(bodies["centre rib right"], 1.0) < TOUCH_MM
    assert skin.min_gap(bodies["wing spar 1 right"], 1.0) < TOUCH_MM


@pytest.mark.parametrize("position", [3.0, 246.0, 250.0, 253.5, 449.0])
def test_rib_on_a_joint_is_refused_with_a_place_that_does(position: float) -> None:
    """A rib too near a joint or the tip is refused by name; the nearest place named is accepted."""
    table: dict[str, Any] = {
        "panels": [{"span": "250 mm"}, {"span": "200 mm", "dihedral": "14 deg"}], "centre_ribs": False,
    }  # fmt: skip
    with pytest.raises(PartError, match=r"wing rib 1: .*nearest place for it is") as refused:
        built(**table, rib_positions=[f"{position} mm"])
    nearest = refused.value.problem.rsplit("nearest place for it is ", 1)[1].removesuffix(" from the centre")
    assert abs(float(nearest.removesuffix(" mm")) - position) < 12.0
    assert "wing rib 1 right" in built(**table, rib_positions=[nearest])


def test_ribs_that_overlap_are_refused() -> None:
    """Two ribs of 5 mm sheet need 5 mm from middle to middle; the centre ribs count too."""
    with pytest.raises(PartError, match=r"wing rib 2: it overlaps the wing rib 1: 3\.0 mm"):
        built(rib_positions=["200 mm", "203 mm"])
    with pytest.raises(PartError, match=r"wing rib 1: it overlaps the centre rib"):
        built(rib_positions=["35 mm"])
    assert "wing rib 2 left" in built(rib_positions=["200 mm", "205 mm"])


def test_fuselage_wider_than_the_first_panel_is_refused() -> None:
    """A centre rib that would not lie under the first panel is refused by name."""
    with pytest.raises(PartError, match=r"centre rib: the fuselage's sides, 46\.0 mm off the centre"):
        built(width="92 mm", panels=[{"span": "45 mm"}, {"span": "300 mm"}])


def test_spar_lies_under_the_skin_from_joint_to_tip() -> None:
    """Without taper and dihedral the spar is as long as its panel, at its share of the chord."""
    spar = built(incidence="0 deg", spar={"position": "35 %", "width": "8 mm", "height": "4 mm"})["wing spar 1 right"]
    assert isinstance(spar.shape, Block)
    assert spar.shape.size == pytest.approx((8.0, 450.0, 4.0))
    x, y, z = spar.place.origin
    assert (x, y) == pytest.approx((120.0 + 70.0, 225.0))
    assert 40.0 < z < 40.0 + 12.0


def test_spar_too_high_is_refused_with_a_height_that_does() -> None:
    """A spar with no room under the skin is refused; the height named in the message fits."""
    with pytest.raises(PartError, match=r"wing spar 1: 15 mm is more than .* would fit") as refused:
        built(spar={"height": "15 mm"}, centre_ribs=False)
    height = refused.value.problem.split("a height up to ", 1)[1].removesuffix(" would fit")
    assert "wing spar 1 right" in built(spar={"height": height}, centre_ribs=False)


def test_spar_that_halves_a_rib_is_refused_with_a_height_that_does() -> None:
    """A spar that leaves nothing of a rib beneath it is refused by the rib's name; the height named does."""
    with pytest.raises(PartError, match="centre rib: the spar cuts it in two") as refused:
        built(spar={"height": "11 mm"})
    height = refused.value.problem.split("a spar ", 1)[1].split(" high", 1)[0]
    assert "centre rib right" in built(spar={"height": height})


def test_spar_beyond_the_edge_is_refused() -> None:
    """A spar at the very leading edge has no skin above its whole width."""
    with pytest.raises(PartError, match="wing spar 1: it would stand out of the section"):
        built(spar={"position": "0 %"})


def test_notch_takes_the_spar_out_of_the_rib() -> None:
    """The rib loses the spar's width times height, and a little more where the skin is higher than the spar."""
    whole = panel_of(built()["centre rib right"]).area()
    notched = panel_of(built(spar={"width": "6 mm", "height": "3 mm"})["centre rib right"]).area()
    assert 6.0 * 3.0 <= whole - notched < 6.0 * 3.0 + 6.0 * 1.0


def test_glue_runs_along_both_faces_of_a_rib() -> None:
    """A rib's joint is two lines a side under the skin; a folded wing adds two on the lower skin."""
    for section, lines in (("curved plate", 2), ("folded", 4)):
        glue = built(section=section, nose_height="24 mm")["glue, centre rib"]
        assert isinstance(glue.shape, Bead)
        assert len(glue.shape.paths) == 2 * lines
