"""Which part is which, before and after."""

from __future__ import annotations

from dataclasses import replace

import pytest

from airframe.axes import about_z, at
from airframe.compare.drawings import is_same_drawing, size
from airframe.compare.parts import Pair, paired
from airframe.drawing import Block, Film, Panel, Score, Wire, bead, circle, loop, rectangle
from airframe.mass import Entry
from tests.bodies import FOAM, entry, whole

PLATE = Panel(rectangle(0.0, 0.0, 60.0, 40.0), 5.0, holes=(circle(20.0, 20.0, 6.0),))


def _pairs(old: list[Entry], new: list[Entry]) -> dict[str, Pair]:
    return {pair.name: pair for pair in paired(whole(*old), whole(*new))}


def test_an_equal_part_is_unchanged() -> None:
    """The same drawing in the same place, of the same material and mass."""
    assert _pairs([entry("box")], [entry("box")])["box"].fate == "unchanged"


def test_added_and_removed() -> None:
    """What only one aeroplane has brings or takes all of its mass."""
    pairs = _pairs([entry("strap", 3.0)], [entry("cowl", 5.0)])
    assert (pairs["cowl"].fate, pairs["cowl"].mass_g) == ("added", 5.0)
    assert (pairs["strap"].fate, pairs["strap"].mass_g) == ("removed", -3.0)


def test_moved() -> None:
    """The shift is that of the place, in the aeroplane's frame, and nothing else changed."""
    pair = _pairs([entry("box", place=at(10.0))], [entry("box", place=at(22.0, 0.0, -4.0))])["box"]
    assert pair.moved_mm == pytest.approx((12.0, 0.0, -4.0))
    assert (pair.is_same_shape, pair.is_turned, pair.is_same_material, pair.mass_g) == (True, False, True, 0.0)


def test_turned() -> None:
    """The same shape at another attitude has turned; its middle has not moved."""
    pair = _pairs([entry("box")], [entry("box", place=about_z(0.2))])["box"]
    assert (pair.is_turned, pair.has_moved, pair.fate) == (True, False, "changed")


def test_heavier() -> None:
    """A part that only weighs more has kept shape and place."""
    pair = _pairs([entry("box", 10.0)], [entry("box", 12.3)])["box"]
    assert pair.mass_g == pytest.approx(2.3)
    assert (pair.is_same_shape, pair.has_moved, pair.fate) == (True, False, "changed")


def test_of_another_material() -> None:
    """A material of one name that weighs otherwise is another material."""
    heavier = replace(FOAM, weight=2.0 * FOAM.weight)
    pair = _pairs([entry("box")], [entry("box", material=heavier)])["box"]
    assert (pair.is_same_material, pair.fate) == (False, "changed")


def test_a_renumbered_part_is_known_by_its_drawing() -> None:
    """A floor cut once more: the piece that is now number 3 is the one that was number 2, the one between is new."""
    front, middle, rear = (Block((length, 50.0, 5.0)) for length in (100.0, 40.0, 200.0))
    old = [entry("floor 1", shape=front, place=at(50.0)), entry("floor 2", shape=rear, place=at(300.0))]
    new = [
        entry("floor 1", shape=front, place=at(50.0)),
        entry("floor 2", shape=middle, place=at(130.0)),
        entry("floor 3", shape=rear, place=at(300.0)),
    ]
    pairs = _pairs(old, new)
    assert {name: pair.fate for name, pair in pairs.items()} == {
        "floor 1": "unchanged", "floor 2": "added", "floor 3": "unchanged",
    }  # fmt: skip
    assert pairs["floor 3"].old_name == "floor 2"


def test_a_number_may_be_new() -> None:
    """One floor cut in two: the nearer piece takes its place."""
    old = [entry("floor", shape=Block((300.0, 50.0, 5.0)), place=at(150.0))]
    new = [
        entry("floor 1", shape=Block((120.0, 50.0, 5.0)), place=at(60.0)),
        entry("floor 2", shape=Block((180.0, 50.0, 5.0)), place=at(210.0)),
    ]
    pairs = _pairs(old, new)
    assert (pairs["floor 2"].fate, pairs["floor 2"].old_name) == ("changed", "floor")
    assert pairs["floor 1"].fate == "added"


def test_equal_drawings_go_to_the_nearest() -> None:
    """Of equal ribs that all stay but one, the one that is left out is the one that is gone."""
    old = [entry(f"rib {k}", place=at(0.0, 100.0 * k)) for k in (1, 2, 3)]
    new = [entry("rib 1", place=at(0.0, 100.0)), entry("rib 2", place=at(0.0, 300.0))]
    pairs = paired(whole(*old), whole(*new))
    assert [(pair.name, pair.fate) for pair in pairs] == [
        ("rib 1", "unchanged"), ("rib 2", "unchanged"), ("rib 2", "removed"),
    ]  # fmt: skip


def test_a_name_of_the_builders_own_stands() -> None:
    """Where every drawing is new, parts go by name, not by place."""
    old = [entry(f"former F{k}", shape=Block((k, 50.0, 50.0)), place=at(100.0 * k)) for k in (1, 2)]
    new = [entry(f"former F{k}", shape=Block((k, 80.0, 50.0)), place=at(100.0 * k + 90.0)) for k in (1, 2)]
    assert [pair.old_name for pair in paired(whole(*old), whole(*new))] == [None, None]


def test_groups_are_kept_apart() -> None:
    """A part that goes into another group leaves the one and joins the other, so that group totals stay true."""
    pairs = paired(whole(entry("box", group="payload")), whole(entry("box", group="electrical")))
    assert [(pair.group, pair.fate) for pair in pairs] == [("electrical", "added"), ("payload", "removed")]


def test_every_part_occurs_once() -> None:
    """Both aeroplanes are covered, and no part twice."""
    old = [entry(f"rib {k}", place=at(float(k))) for k in range(5)] + [entry("strap")]
    new = [entry(f"rib {k}", place=at(1.5 * k)) for k in range(7)]
    pairs = paired(whole(*old), whole(*new))
    assert sorted(p.old.part.name for p in pairs if p.old) == sorted(one.part.name for one in old)
    assert sorted(p.new.part.name for p in pairs if p.new) == sorted(one.part.name for one in new)


# --- drawings --------------------------------------------------------------------------------------------


def test_a_drawing_may_be_drawn_elsewhere() -> None:
    """A panel, a film, a bead and a wire shifted in their own frames are the same drawings."""
    shifted = Panel(rectangle(7.0, -3.0, 67.0, 37.0), 5.0, holes=(circle(27.0, 17.0, 6.0),))
    assert is_same_drawing(PLATE, shifted)
    assert is_same_drawing(Film(PLATE, "outer"), Film(shifted, "outer"))
    assert is_same_drawing(bead([(0, 0, 0), (9, 0, 0)]), bead([(0, 0, 16), (9, 0, 16)]))
    assert is_same_drawing(Wire(((0, 0, 0), (50, 0, 0)), 2.0, 6.0), Wire(((0, 5, 0), (50, 5, 0)), 2.0, 6.0))


@pytest.mark.parametrize(
    "other",
    [
        replace(PLATE, thickness_mm=3.0),
        replace(PLATE, holes=()),
        replace(PLATE, holes=(circle(21.0, 20.0, 6.0),)),
        replace(PLATE, outline=rectangle(0.0, 0.0, 60.0, 40.0, corner_radius=2.0)),
        replace(PLATE, outline=loop([(0, 0), (60, 0), (60, 40), (0, 40)], [0.1, 0, 0, 0])),
        replace(PLATE, scores=(Score((30.0, 0.0), (30.0, 40.0), 0.1),)),
        Film(PLATE, "outer"),
    ],
)
def test_a_drawing_that_differs_is_another(other: Panel) -> None:
    """Thickness, a hole, where the hole is, rounded corners, a curved edge, a score, another kind."""
    assert not is_same_drawing(PLATE, other)


def test_what_a_builder_measures() -> None:
    """A plate has its thickness, and its area without the hole; a wire its diameter and its length."""
    plate = size(entry("plate", shape=PLATE))
    assert plate == {"thickness": 5.0, "area": pytest.approx(60.0 * 40.0 - 3.141592653589793 * 9.0)}
    assert size(entry("rod", shape=Wire(((0, 0, 0), (50, 0, 0)), 2.0, 6.0))) == {"diameter": 2.0, "length": 50.0}


def test_twins_that_moved_keep_their_names() -> None:
    """Two equal bands 6 mm apart, both moved outward by 4: the first is not taken for the second, which was nearer."""
    old = [entry("band 1", place=at(0.0, 40.0)), entry("band 2", place=at(0.0, 46.0))]
    new = [entry("band 1", place=at(0.0, 44.0)), entry("band 2", place=at(0.0, 50.0))]
    pairs = _pairs(old, new)
    assert [pair.old_name for pair in pairs.values()] == [None, None]
    assert [pair.moved_mm[1] for pair in pairs.values()] == pytest.approx([4.0, 4.0])
