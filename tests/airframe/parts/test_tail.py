"""Stabiliser, elevator, fin, rudder, their hinges and horns."""

from __future__ import annotations

from math import pi, radians, tan
from typing import Any

import numpy as np
import pytest

from airframe import solids
from airframe.axes import Array
from airframe.drawing import Bead, Panel, Part, PartError, Wire
from airframe.folding import fold
from airframe.layout import Layout
from airframe.parts import tail
from airframe.schema.design import Design
from tests.designs import plain
from tests.overlaps import manifolds, overlaps

SLIVER_MM3 = 0.5
TAPERED = {"stabiliser": {"tip_chord": "60 mm"}, "fin": {"tip_chord": "50 mm"}, "rudder": {"tip_chord": "28 mm"}}
SPLIT = {"elevator": {"split": True, "tip_chord": "30 mm"}}


def changed(**tables: dict[str, Any]) -> Design:
    """The plain design with changes in the tail's tables."""
    return plain(**{f"tail__{name}": table for name, table in tables.items()})


def by_name(design: Design) -> dict[str, Part]:
    return {part.name: part for part in tail.parts(Layout(design))}


def built(**tables: dict[str, Any]) -> dict[str, Part]:
    return by_name(changed(**tables))


def panel_of(part: Part) -> Panel:
    assert isinstance(part.shape, Panel)
    return part.shape


def corners(part: Part) -> Array:
    """Every corner of both faces, in the aeroplane's frame."""
    facet = fold(panel_of(part)).facets[0]
    return part.place.apply(np.vstack([facet.outer[0], facet.inner[0]]))


def volume(part: Part) -> float:
    return solids.exact(solids.solid(panel_of(part))).mass


def paths(part: Part) -> Array:
    assert isinstance(part.shape, Bead)
    return np.array(part.shape.paths)


# --- surfaces -------------------------------------------------------------------------------------------------


def test_stabiliser_weighs_its_trapezia() -> None:
    """Span 320 mm, mean chord (90 + 60) / 2 mm, 440 g/m^2."""
    part = built(**TAPERED)["stabiliser"]
    assert volume(part) * part.material.weight == pytest.approx(0.320 * 0.075 * 440.0, rel=1e-9)


def test_elevator_loses_its_bevel() -> None:
    """A bevel of 45 deg along 320 mm takes t^2 / 2 tan(45 deg) x 320 mm^3 from 320 x 40 x 5 mm^3."""
    elevator = built()["elevator"]
    assert volume(elevator) == pytest.approx(320.0 * 40.0 * 5.0 - 5.0**2 / 2.0 * tan(radians(45.0)) * 320.0, rel=1e-9)
    square = built(elevator={"hinge": {"bevel": "0 deg"}})["elevator"]
    assert volume(square) == pytest.approx(320.0 * 40.0 * 5.0, rel=1e-9)


def test_hinge_lines_and_gaps() -> None:
    """The moving surfaces begin a gap behind the fixed ones; their bevels lie below and on the right."""
    parts = built(elevator={"hinge": {"gap": "2 mm"}})
    assert corners(parts["stabiliser"])[:, 0].max() == pytest.approx(595.0)
    elevator = corners(parts["elevator"])
    upper, lower = elevator[elevator[:, 2] > 44.0], elevator[elevator[:, 2] < 41.0]
    assert upper[:, 0].min() == pytest.approx(597.0)
    assert lower[:, 0].min() == pytest.approx(597.0 + 5.0)
    rudder = corners(parts["rudder"])
    left, right = rudder[rudder[:, 1] < 0.0], rudder[rudder[:, 1] > 0.0]
    assert left[:, 0].min() == pytest.approx(596.0)
    assert right[:, 0].min() == pytest.approx(596.0 + 5.0)


def test_upright_surfaces_stand_on_the_stabiliser() -> None:
    """The fin stands on the upper face on the centre plane, the rudder its clearance above it, both equally high."""
    parts = built(rudder={"root_clearance": "11 mm"})
    fin, rudder = corners(parts["fin"]), corners(parts["rudder"])
    assert fin[:, 2].min() == pytest.approx(45.0)
    assert rudder[:, 2].min() == pytest.approx(56.0)
    assert fin[:, 2].max() == rudder[:, 2].max() == pytest.approx(155.0)
    assert sorted({*fin[:, 1], *rudder[:, 1]}) == [-2.5, 2.5]


def test_fin_station_holds_on_a_sloping_stabiliser() -> None:
    """The fin's leading edge meets the stabiliser's upper face at the station stated, however the top line slopes."""
    rows = [("0 mm", "40 mm", "-40 mm"), ("350 mm", "40 mm", "-40 mm"), ("600 mm", "15 mm", "0 mm")]
    stations = [dict(zip(("station", "top", "bottom"), row, strict=True)) for row in rows]
    design = plain(fuselage={"stations": stations}, tail__fin={"station": "512 mm"})
    layout, fin = Layout(design), by_name(design)["fin"]
    assert layout.stabiliser_place.rotation[0][2] > 0.05
    own = (corners(fin) - np.array(layout.stabiliser_place.origin)) @ np.array(layout.stabiliser_place.rotation)
    root = own[np.abs(own[:, 2] - 5.0) < 1e-6]
    foot = layout.stabiliser_place.apply([root[:, 0].min(), 0.0, 5.0])
    assert foot[0] == pytest.approx(512.0, abs=1e-6)


def test_everything_is_symmetric_about_the_centre_plane() -> None:
    """Split halves are mirror images of one shape; stabiliser, fin and hinge glue are symmetric in themselves."""
    parts = built(**SPLIT, **TAPERED)
    assert parts["elevator left"].shape == parts["elevator right"].shape
    assert parts["elevator left"].place == parts["elevator right"].place.mirrored()
    for name in ("stabiliser", "fin", "rudder"):
        body = solids.exact(solids.placed(solids.solid(parts[name].shape), parts[name].place))
        # The rudder's bevel on its right face is the one thing that is not symmetric.
        assert abs(body.centre[1]) < (0.2 if name == "rudder" else 1e-9)
    y = paths(parts["glue, elevator hinge"])[:, :, 1].ravel()
    assert sorted(y) == pytest.approx(sorted(-y))


def test_surfaces_that_come_to_nothing_are_refused() -> None:
    """No room above the clearance, no chord behind the bevel, no stabiliser under the fin: refused, with a number."""
    with pytest.raises(PartError, match=r"rudder: a root clearance of 109 mm .* 108.0 mm or less would do"):
        built(rudder={"root_clearance": "109 mm"})
    with pytest.raises(PartError, match=r"elevator: its chord of 6 mm .* needs 7\.0 mm"):
        built(elevator={"tip_chord": "6 mm"})
    with pytest.raises(PartError, match=r"fin: less than half .* station at 505.0 mm"):
        built(fin={"station": "560 mm"})


# --- hinges and glue --------------------------------------------------------------------------------------------


def test_hinge_strips_are_evenly_spaced() -> None:
    """Four strips of 30 mm on 320 mm: middles 80 mm apart, symmetric, on the upper face in the middle of the gap."""
    strips = paths(built(elevator={"hinge": {"strips": 4, "strip_length": "30 mm"}})["glue, elevator hinge"])
    assert strips[:, :, 1].mean(axis=1) == pytest.approx([-120.0, -40.0, 40.0, 120.0])
    assert np.ptp(strips[:, :, 1], axis=1) == pytest.approx(30.0)
    assert strips[:, :, 0] == pytest.approx(595.5)
    assert strips[:, :, 2] == pytest.approx(45.0)


def test_split_halves_share_the_strips() -> None:
    """An odd number of strips is rounded up, the same number on each half."""
    strips = paths(built(elevator={"split": True, "hinge": {"strips": 3}})["glue, elevator hinge"])
    assert sum(strips[:, :, 1].mean(axis=1) > 0.0) == 2
    assert len(strips) == 4


def test_strips_that_do_not_fit_are_refused() -> None:
    """Four strips of 40 mm on a rudder 102 mm high are refused; the length named in the message fits."""
    with pytest.raises(PartError, match="rudder: 4 hinge strips of 40 mm") as refused:
        built(rudder={"hinge": {"strips": 4, "strip_length": "40 mm"}})
    length = refused.value.problem.split("make them ", 1)[1].split(" long")[0]
    assert "rudder" in built(rudder={"hinge": {"strips": 4, "strip_length": length}})


def test_stabiliser_is_glued_where_it_lies_on_the_fuselage() -> None:
    """Two lines along the sides' edges from leading edge to hinge line; none for a stabiliser held clear of them."""
    lines = paths(built()["glue, stabiliser to fuselage"])
    assert lines[0] == pytest.approx(np.array([(505.0, 35.0, 40.0), (595.0, 35.0, 40.0)]))
    assert lines[1] == pytest.approx(lines[0] * (1.0, -1.0, 1.0))
    assert "glue, stabiliser to fuselage" not in built(stabiliser={"water_line": "60 mm"})


# --- horns and joiner -------------------------------------------------------------------------------------------


def test_horn_holes_lie_on_the_hinge_lines() -> None:
    """The holes are at the hinge lines' stations, their height below the elevator and left of the rudder."""
    points = tail.horn_points(Layout(changed(horns={"height": "18 mm", "rudder_height": "25 mm"})))
    assert points["elevator horn"] == pytest.approx((595.5, 20.0, 40.0 - 18.0))
    assert points["rudder horn"] == pytest.approx((595.5, -2.5 - 18.0, 53.0 + 25.0))


def test_horns_stand_on_their_surfaces() -> None:
    """A horn touches its surface along its base and is glued along both sides of it with the plywood adhesive."""
    parts = built()
    bodies = manifolds(parts.values())
    for surface in ("elevator", "rudder"):
        assert bodies[surface].min_gap(bodies[f"{surface} horn"], 1.0) < 1e-3
        glue = parts[f"glue, {surface} horn"]
        assert glue.material.name == "epoxy fillet"
        assert np.linalg.norm(np.diff(paths(glue), axis=1), axis=2).ravel() == pytest.approx([22.0, 22.0])


def test_horn_beside_its_surface_is_refused() -> None:
    """A horn in the gap of a split elevator, or with a base longer than the chord, is refused with the room for it."""
    with pytest.raises(PartError, match=r"elevator horn: at 5 mm .* from 15\.8 to 159\.2 mm"):
        built(**SPLIT, horns={"elevator_butt_line": "-5 mm"})
    with pytest.raises(PartError, match=r"elevator horn: its base of 42 mm .* 34\.0 mm or less"):
        built(horns={"base": "42 mm"})
    with pytest.raises(PartError, match=r"rudder horn: at 110 mm .* from 0\.8 to 101\.2 mm"):
        built(horns={"rudder_height": "110 mm"})


def test_joiner_wire_is_as_long_as_its_bends_make_it() -> None:
    """Two legs and a cross piece, less 2 R for each right-angled bend, plus pi R / 2; R = 1.5 d on the centre line."""
    joiner = built(**SPLIT)["elevator joiner"]
    assert isinstance(joiner.shape, Wire)
    radius, d = 3.0, 2.0
    straight = float(np.linalg.norm(np.diff(np.array(joiner.shape.points), axis=0), axis=1).sum())
    length = straight + 2.0 * (pi * radius / 2.0 - 2.0 * radius)
    wire = solids.exact(solids.solid(joiner.shape)).mass
    assert wire == pytest.approx(pi * d * d / 4.0 * length, rel=1e-6)


def test_joiner_with_the_fuselage_under_it_is_refused() -> None:
    """A joiner that would run through the end of the fuselage is refused, with how far it must move."""
    with pytest.raises(PartError, match=r"elevator joiner: the fuselage reaches 10\.0 mm under it"):
        by_name(plain(tail__elevator={"split": True}, tail__stabiliser={"station": "493 mm", "water_line": "30 mm"}))


# --- whole tails ------------------------------------------------------------------------------------------------

INCHES = {
    "material": "foam board 3/16 in",
    "stabiliser": {"span": "13 in", "root_chord": "3 1/2 in", "tip_chord": "2 1/2 in"},
    "elevator": {"root_chord": "1 3/4 in", "split": True, "split_gap": "1 in", "joiner_wire": "3/32 in"},
    "fin": {"height": "4 1/2 in", "root_chord": "3 1/2 in", "tip_chord": "2 in"},
    "rudder": {"root_chord": "1 3/4 in"},
    "horns": {"material": "birch plywood 1/16 in", "height": "3/4 in", "base": "3/4 in"},
}


@pytest.mark.parametrize("tables", [{}, TAPERED, {**TAPERED, **SPLIT}, INCHES], ids=["plain", "tapered", "split", "in"])
def test_parts_do_not_overlap(tables: dict[str, Any]) -> None:
    """No two solids of a tail share more than a sliver, and every name is given once."""
    parts = tail.parts(Layout(changed(**tables)))
    assert len({part.name for part in parts}) == len(parts)
    assert overlaps(parts, SLIVER_MM3) == {}


@pytest.mark.parametrize("butt_line", [-21.0, 16.0, 24.0, 27.0, 30.0, 60.0])
def test_horn_and_joiner_keep_clear(butt_line: float) -> None:
    """Wherever the elevator's horn stands, the joiner's legs make room for it."""
    parts = tail.parts(Layout(changed(**SPLIT, horns={"elevator_butt_line": f"{butt_line} mm"})))
    assert overlaps(parts, SLIVER_MM3) == {}
