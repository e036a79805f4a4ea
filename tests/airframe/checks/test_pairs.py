"""Pairs of parts: shared volume, gaps, and what is remembered."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, inf, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from airframe.axes import Place, about_x, about_y, about_z, at
from airframe.checks.pairs import (
    NOISE_MM3,
    TOUCH_MM,
    Meeting,
    PairCache,
    Pairs,
    closed_body,
    is_curved,
    judged,
    relative,
)
from airframe.drawing import Block, Panel, Part, PartError, Rod, Shape, circle, rectangle
from airframe.materials import MATERIALS
from airframe.model import Aeroplane
from tests.designs import plain_data
from tests.mending import flown

SINGLE_MM = 1e-4
"""Display meshes hold single precision."""


@pytest.fixture(scope="module")
def pairs() -> Pairs:
    return Pairs(flown(plain_data()))


def part(name: str, shape: Shape, place: Place) -> Part:
    return Part(name, "payload", shape, place, MATERIALS["bought item"])


CUBE = Block((10.0, 10.0, 10.0))


def test_two_blocks_share_the_box_that_both_take(pairs: Pairs) -> None:
    """Cubes of 10 mm shifted by (4, 5, 7) share 6 x 5 x 3 = 90 mm^3."""
    meeting = pairs.meeting(part("a", CUBE, at()), part("b", CUBE, at(4.0, 5.0, 7.0)))
    assert meeting.overlap_mm3 == pytest.approx(90.0, rel=1e-6)
    assert meeting.gap_mm == 0.0


def test_the_gap_of_two_blocks_is_that_of_their_nearest_edges(pairs: Pairs) -> None:
    """Cubes of 10 mm, 13 and 14 mm apart in two directions, are hypot(3, 4) = 5 mm apart."""
    meeting = pairs.meeting(part("a", CUBE, at()), part("b", CUBE, at(13.0, 14.0)), search_mm=6.0)
    assert meeting == Meeting(0.0, pytest.approx(hypot(3.0, 4.0), abs=SINGLE_MM))


def test_a_gap_beyond_the_search_distance_is_infinite(pairs: Pairs) -> None:
    """5 mm apart and searched to 4 mm: nothing is there."""
    meeting = pairs.meeting(part("a", CUBE, at()), part("b", CUBE, at(15.0)), search_mm=4.0)
    assert meeting == Meeting(0.0, inf)


def test_blocks_face_to_face_touch_and_share_nothing(pairs: Pairs) -> None:
    """Touching on a whole face is no overlap, however the two are turned together."""
    turn = about_z(0.3).after(about_x(1.1))
    first, second = (
        part("a", Block((700.0, 90.0, 5.0)), turn),
        part("b", Block((700.0, 90.0, 5.0)), turn.after(at(0, 0, 5))),
    )
    meeting = pairs.meeting(first, second)
    assert meeting.overlap_mm3 == 0.0
    assert meeting.gap_mm <= TOUCH_MM


def test_the_kernel_settles_curved_hits(pairs: Pairs) -> None:
    """Equal cylinders crossing squarely share 16 r^3 / 3 (Archimedes, The Method; from memory): the mesh gives less."""
    r = 4.0
    first, second = part("a", Rod(30.0, 2 * r), at()), part("b", Rod(30.0, 2 * r), about_z(pi / 2.0))
    exact = 16.0 / 3.0 * r**3
    assert pairs.meeting(first, second).overlap_mm3 == pytest.approx(exact, rel=1e-4)
    assert pairs.meeting(first, second, settle_mm3=inf).overlap_mm3 < 0.999 * exact


def test_a_rod_in_its_hole_touches_and_does_not_overlap(pairs: Pairs) -> None:
    """A 6 mm rod through a 6 mm hole in 5 mm sheet: the kernel finds nothing shared, whatever the meshes think."""
    sheet = Panel(rectangle(-20.0, -20.0, 20.0, 20.0), 5.0, (circle(0.0, 0.0, 6.0),))
    along_z = Place(((0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)))
    meeting = pairs.meeting(part("sheet", sheet, at()), part("rod", Rod(40.0, 6.0), along_z))
    assert meeting.overlap_mm3 <= NOISE_MM3
    assert meeting.gap_mm <= TOUCH_MM


def test_mirrored_parts_meet_as_their_mirror_images_do(pairs: Pairs) -> None:
    """Left to left is as right to right, and takes no second measurement."""
    wedge = Panel(rectangle(0.0, 0.0, 30.0, 20.0), 5.0)
    first, second = part("a", wedge, about_x(0.4).moved(3.0, 40.0)), part("b", CUBE, at(10.0, 48.0, 6.0))
    right = pairs.meeting(first, second, search_mm=20.0)
    known = len(pairs.cache.meetings)
    assert pairs.meeting(first.mirrored("c"), second.mirrored("d"), search_mm=20.0) == right
    assert len(pairs.cache.meetings) == known
    assert right.gap_mm < 20.0


@given(st.lists(st.tuples(*[st.floats(-60, 60)] * 3, *[st.floats(1, 40)] * 3), min_size=2, max_size=8), st.floats(0, 9))
@settings(max_examples=30, deadline=None)
def test_boxes_find_every_pair_that_could_meet(rows: list[tuple[float, ...]], search_mm: float) -> None:
    """As pair by pair: kept if in all three directions the boxes are no further apart than the search distance."""
    pairs = Pairs(flown(plain_data()))
    parts = [part(str(i), Block((row[3], row[4], row[5])), at(*row[:3])) for i, row in enumerate(rows)]
    found = {frozenset((a.name, b.name)) for a, b in pairs.near(parts, parts, search_mm)}
    for i, a in enumerate(rows):
        for j, b in enumerate(rows[:i]):
            apart = max(abs(a[k] - b[k]) - (a[k + 3] + b[k + 3]) / 2.0 for k in range(3))
            if abs(apart - search_mm) > 1e-3:
                assert (frozenset((str(i), str(j))) in found) == (apart <= search_mm)


def test_only_pairs_of_the_part_that_moved_are_measured_again() -> None:
    """Of four blocks in a row, one that moves has at most two neighbours to be asked about."""
    cache = PairCache()
    row = [part(str(i), Block((10.0, 10.0, 10.0 + i)), at(11.0 * i)) for i in range(4)]
    Pairs(flown(plain_data()), cache).meetings(row, row, 2.0)
    assert len(cache.meetings) == 3
    row[3] = replace(row[3], place=at(33.5))
    Pairs(flown(plain_data()), cache).meetings(row, row, 2.0)
    assert len(cache.meetings) == 4


def test_moving_everything_together_measures_nothing_again() -> None:
    """The key is the relative place, so a rigid motion of the whole changes no pair."""
    cache, motion = PairCache(), about_z(0.7).after(about_x(-1.2)).after(at(100.0, -3.0, 8.0))
    row = [part(str(i), Block((10.0, 10.0, 10.0 + i)), about_x(0.1 * i).moved(10.5 * i)) for i in range(4)]
    first = Pairs(flown(plain_data()), cache).meetings(row, row, 50.0)
    known = set(cache.meetings)
    moved = [replace(one, place=motion.after(one.place)) for one in row]
    again = Pairs(flown(plain_data()), cache).meetings(moved, moved, 50.0)
    assert set(cache.meetings) == known
    assert [met[2] for met in again] == [met[2] for met in first]


@given(st.floats(-3, 3), st.floats(-3, 3), st.tuples(*[st.floats(-500, 500)] * 3))
@settings(max_examples=50, deadline=None)
def test_the_relative_place_carries_the_first_place_to_the_second(a: float, b: float, move: tuple[float, ...]) -> None:
    """first after relative(first, second) = second, to the rounding of keys at arm's length."""
    first, second = about_x(a).moved(*move), about_z(b).mirrored()
    again = first.after(relative(first, second))
    assert np.allclose(again.apply([[100.0, 50.0, 20.0]]), second.apply([[100.0, 50.0, 20.0]]), atol=2e-3)


def test_an_open_mesh_is_refused_by_name() -> None:
    """A cube's corners with one triangle left out."""
    body = closed_body("whole", *_cube_mesh())
    assert body.volume() == pytest.approx(1.0)
    vertices, faces = _cube_mesh()
    with pytest.raises(PartError, match="half box"):
        closed_body("half box", vertices, faces[:-1])


def _cube_mesh() -> tuple[np.ndarray, np.ndarray]:
    import trimesh

    cube = trimesh.creation.box()
    return cube.vertices.astype(np.float32), cube.faces.astype(np.int32)


def test_what_is_curved() -> None:
    """Rods and round holes are; plain sheet is not."""
    plain = Panel(rectangle(0.0, 0.0, 10.0, 10.0), 1.0)
    assert not is_curved(plain) and not is_curved(CUBE)
    assert is_curved(replace(plain, holes=(circle(5.0, 5.0, 2.0),))) and is_curved(Rod(3.0, 1.0))


@pytest.mark.parametrize(
    ("overlap", "gap", "verdict"), [(10.0, 0.0, "fail"), (0.0, 0.01, "fail"), (0.0, 0.5, "caution"), (0.0, 1.0, "pass")]
)
def test_verdicts_of_a_meeting(overlap: float, gap: float, verdict: str) -> None:
    """Hit or touched: fail; nearer than 1 mm: caution; at the limit: pass."""
    assert judged(Meeting(overlap, gap), 1.0) == verdict


def test_a_full_cache_begins_anew_and_gives_no_name_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    """Past its room the cache holds the newest shapes only; a name of the time before never comes back."""
    monkeypatch.setattr("airframe.checks.pairs.SHAPES_KEPT", 3)
    cache = PairCache()
    shapes = [Block((1.0, 1.0, float(size))) for size in range(1, 8)]
    names = [cache.number(shape) for shape in shapes]
    assert len(set(names)) == len(names)
    assert list(cache.numbers) == shapes[6:]
    assert cache.number(shapes[6]) == names[6]
    assert cache.number(shapes[0]) not in names


def test_what_is_kept_does_not_hang_on_who_asked_first() -> None:
    """Two parts that move together meet with the same bits wherever they are measured, by whatever cache."""
    tilted = about_y(0.03).after(about_x(0.11))
    one = part("one", Block((40.0, 30.0, 7.0)), tilted)
    other = part("other", Block((9.0, 8.0, 7.0)), tilted.after(at(1.0, 2.0, 9.371)))
    aeroplane = flown(plain_data())
    alone = [_moved_meeting(aeroplane, one, other, x, PairCache()) for x in (0.0, 0.37, 123.456)]
    shared = PairCache()
    together = [_moved_meeting(aeroplane, one, other, x, shared) for x in (123.456, 0.37, 0.0)]
    assert 2.3 < alone[0].gap_mm < 2.4  # 9.371 less half of either height
    assert {*alone, *together} == {alone[0]}


def _moved_meeting(aeroplane: Aeroplane, a: Part, b: Part, x_mm: float, cache: PairCache) -> Meeting:
    moved = [replace(one, place=one.place.moved(dx_mm=x_mm)) for one in (a, b)]
    return Pairs(aeroplane, cache).meeting(moved[0], moved[1], 5.0)
