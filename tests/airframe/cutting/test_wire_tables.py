"""Bend tables and elevations of wires, and what they are cut from."""

from __future__ import annotations

from math import degrees, pi, sqrt, tan

import numpy as np
import pytest
import shapely

from airframe.axes import Place
from airframe.cutting.lengths import SAW_MM, lengths, sticks
from airframe.cutting.wire_tables import wire_table, wire_tables
from airframe.drawing import Block, Part, PartError, Rod, Wire
from airframe.materials import MATERIALS
from airframe.schema.stock import Stock

STEEL, BEECH = MATERIALS["music wire"], MATERIALS["beech"]


def table(points, diameter=3.0, radius=6.0, place=None):
    wire = Wire(tuple(tuple(float(v) for v in p) for p in points), diameter, radius)
    return wire_table(Part("leg", "landing gear", wire, place or Place(), STEEL), wire)


def test_a_right_angle() -> None:
    """Legs of 50 and 40 mm, bend 90 deg, inside radius 6, wire 3: R = 7.5 uses up R tan 45 = 7.5 of each leg.

    Straight 42.5 and 32.5, arc 7.5 pi / 2, cut 75 + 11.78 = 86.78 mm (closed form).
    """
    made = table([(0, 0, 0), (50, 0, 0), (50, 40, 0)])
    (row,) = made.rows
    assert (row.straight_mm, row.mark_mm, made.last_straight_mm) == pytest.approx((42.5, 42.5, 32.5))
    assert degrees(row.angle_rad) == pytest.approx(90) and row.turn_rad == 0.0
    assert made.cut_mm == pytest.approx(75.0 + 7.5 * pi / 2.0)


def test_straights_and_arcs_make_up_the_cut_length() -> None:
    """For three bends in space the table's lengths add up to what is cut, and each mark to what comes before."""
    made = table([(0, 0, 0), (60, 0, 0), (90, 40, 0), (90, 40, 70), (130, 60, 90)])
    arcs = [7.5 * row.angle_rad for row in made.rows]
    assert sum(row.straight_mm for row in made.rows) + made.last_straight_mm + sum(arcs) == pytest.approx(made.cut_mm)
    for k, row in enumerate(made.rows):
        assert row.mark_mm == pytest.approx(sum(r.straight_mm for r in made.rows[: k + 1]) + sum(arcs[:k]))


@pytest.mark.parametrize(
    ("last", "turn"), [((50, 40, 40), 90.0), ((50, 40, -40), -90.0), ((90, 40, 0), 180.0), ((10, 40, 0), 0.0)]
)
def test_turn_of_the_plane(last, turn) -> None:
    """Along +x, then +y (to the left in plan), then up, down, back to the right, or on round to the left.

    Looking along the second leg (+y), up after left is a quarter turn clockwise (right-hand rule about +y: x cross y
    is z, y cross z is x).
    """
    made = table([(0, 0, 0), (50, 0, 0), (50, 40, 0), last], radius=2.0)
    assert degrees(made.rows[1].turn_rad) == pytest.approx(turn)


def test_left_wire_turns_the_other_way() -> None:
    """In a mirrored place straights and angles are the same, and turns change sign."""
    points = [(0, 0, 0), (50, 0, 0), (50, 40, 0), (60, 70, 50)]
    right, left = table(points), table(points, place=Place().mirrored())
    assert [r.straight_mm for r in left.rows] == pytest.approx([r.straight_mm for r in right.rows])
    assert left.rows[1].turn_rad == pytest.approx(-right.rows[1].turn_rad)
    assert left.cut_mm == pytest.approx(right.cut_mm)


def test_the_table_bends_the_wire_back() -> None:
    """Walking the table (straight on, turn the plane, bend) ends exactly where the wire ends."""
    points = [(0, 0, 0), (60, 0, 0), (90, 40, 0), (80, 50, 70), (130, 60, 90)]
    made = table(points)
    at, way = np.zeros(3), np.array([1.0, 0.0, 0.0])
    axis = np.cross(way, np.subtract(points[2], points[1]))
    axis = axis / np.linalg.norm(axis)
    for k, row in enumerate(made.rows):
        at = at + way * row.straight_mm
        if k:
            axis = axis * np.cos(row.turn_rad) + np.cross(way, axis) * np.sin(row.turn_rad)
        side = np.cross(axis, way)
        at = at + 7.5 * (way * np.sin(row.angle_rad) + side * (1.0 - np.cos(row.angle_rad)))
        way = way * np.cos(row.angle_rad) + side * np.sin(row.angle_rad)
    np.testing.assert_allclose(at + way * made.last_straight_mm, points[-1], atol=1e-6)


def test_a_flat_wire_has_one_true_elevation() -> None:
    """All bends in one plane: one elevation, whose area is the cut length times the diameter (Pappus in the plane)."""
    made = table([(0, 0, 0), (0, 50, 0), (0, 80, 40), (0, 140, 40)])
    (elevation,) = made.elevations
    assert elevation.is_whole and elevation.bends == (1, 2)
    assert shapely.Polygon(elevation.edges[0]).area == pytest.approx(made.cut_mm * 3.0, rel=1e-3)


def test_bends_in_two_planes_have_two_elevations_each_true() -> None:
    """In a bend's elevation the straights beside it show at their own length."""
    made = table([(0, 0, 0), (50, 0, 0), (50, 40, 0), (50, 40, 60)])
    assert [e.bends for e in made.elevations] == [(1,), (2,)]
    first = np.array(made.elevations[0].middle)
    assert np.linalg.norm(first[1] - first[0]) == pytest.approx(42.5)


def test_a_straight_wire() -> None:
    """No bend, no row, one elevation as long as the wire."""
    made = table([(0, 0, 0), (30, 40, 0)])
    assert (made.rows, made.cut_mm) == ((), pytest.approx(50.0))
    assert np.ptp(np.array(made.elevations[0].middle)[:, 0]) == pytest.approx(50.0)


def test_every_wire_of_the_demo_has_its_table(teasel, teasel_plan) -> None:
    """The wires of the weight statement are tabulated, each once, and cut from some length once."""
    names = sorted(part.name for part in teasel.parts if isinstance(part.shape, Wire))
    assert sorted(wire.part.name for wire in teasel_plan.wires) == names
    cuts = [name for length in teasel_plan.lengths for name, _ in length.cuts]
    assert sorted(cuts) == sorted([*names, *(stick.part.name for stick in teasel_plan.sticks)])


def test_a_wire_of_the_demo_is_cut_as_long_as_it_is_heavy(teasel, teasel_plan) -> None:
    """Length times section times density is the mass of the weight statement's solid (Pappus; mesh: 1e-3)."""
    masses = {entry.part.name: entry.mass_g for entry in teasel.statement.entries}
    for wire in teasel_plan.wires:
        drawn = wire.cut_mm * pi * wire.diameter_mm**2 / 4.0 * wire.part.material.weight
        assert drawn == pytest.approx(masses[wire.part.name], rel=1e-3)


# --- lengths ------------------------------------------------------------------------------------------------


def rods(*lengths_mm: float) -> list[Part]:
    return [Part(f"dowel {k}", "wing", Rod(length, 6.0), Place(), BEECH) for k, length in enumerate(lengths_mm)]


def test_lengths_are_filled_longest_first() -> None:
    """From 1 m: 600 and 300 with the saw between them leave 98; 500 starts the next."""
    cut = lengths(sticks(rods(300, 600, 500)), [], Stock())
    assert [[c for _, c in one.cuts] for one in cut] == [[600, 300], [500]]
    assert cut[0].left_mm == pytest.approx(100.0 - SAW_MM)


def test_a_piece_longer_than_its_stock_is_refused() -> None:
    """It is named with what it takes."""
    with pytest.raises(PartError, match=r"dowel 0: takes 1200.0 mm.*comes in 1000 mm"):
        lengths(sticks(rods(1200)), [], Stock())


def test_sections_in_words() -> None:
    """A strip is named by its two smaller sides, its length the greatest, whichever way it lies."""
    block = Part("spar", "wing", Block((6.0, 328.0, 3.0)), Place(), BEECH)
    (stick,) = sticks([block])
    assert (stick.section, stick.length_mm) == ("6 x 3 mm", 328.0)


def test_a_diagonal_wire_is_as_long_as_it_is() -> None:
    """A wire along the diagonal of a cube of 100 mm is cut 173.2 mm long, less what its bend saves."""
    made = table([(0, 0, 0), (100, 100, 100), (200, 100, 100)])
    angle = made.rows[0].angle_rad
    assert made.cut_mm == pytest.approx(100 * sqrt(3) + 100 - 15.0 * tan(angle / 2) + 7.5 * angle)


def test_wires_of_nothing() -> None:
    """Parts without wires give no tables."""
    assert wire_tables(rods(100)) == []
