"""The weight statement: sums, and what the kitchen scale overrides."""

from __future__ import annotations

import numpy as np
import pytest

from airframe import inertia, mass
from airframe.axes import at
from airframe.drawing import Block, Part, PartError, bead
from airframe.materials import MATERIALS, solid
from airframe.schema.weighing import Weighed

OAK = solid("test wood", "wood", 700.0, "a round number for a test")


def _block(name: str, group: str, x_mm: float, mass_g: float | None = None) -> tuple[Part, inertia.Body]:
    part = Part(name, group, Block((10.0, 20.0, 30.0)), at(x_mm, 5.0, -7.0), OAK, mass_g)
    return part, inertia.box(10.0, 20.0, 30.0)


def _statement(*pairs: tuple[Part, inertia.Body], weighed: list[dict[str, str]] | None = None) -> mass.Statement:
    items = [Weighed.model_validate(item) for item in weighed or []]
    return mass.statement([p for p, _ in pairs], [b for _, b in pairs], items)


def test_a_block_weighs_its_volume_times_its_density() -> None:
    """6000 mm^3 of 700 kg/m^3 are 4.2 g, at the middle of the block."""
    statement = _statement(_block("a", "wing", 100.0))
    assert statement.whole.mass == pytest.approx(4.2)
    assert statement.whole.centre == pytest.approx((100.0, 5.0, -7.0))
    assert statement.entries[0].volume_mm3 == 6000.0


def test_two_equal_blocks_balance_between_them() -> None:
    """Pitch inertia of two equal masses m a distance 2 d apart is 2 (I + m d^2): the parallel-axis theorem."""
    pairs = [_block("a", "wing", 0.0, 50.0), _block("b", "tail", 200.0, 50.0)]
    whole = _statement(*pairs).whole
    assert whole.centre == pytest.approx((100.0, 5.0, -7.0))
    own = 50.0 * (10.0**2 + 30.0**2) / 12
    assert whole.inertia[1, 1] == pytest.approx(2 * (own + 50.0 * 100.0**2))


def test_parts_and_groups_add_up_to_the_whole() -> None:
    """Summing entries, or groups, gives the whole's mass, centre and inertia to 1e-9."""
    rng = np.random.default_rng(7)
    pairs = [_block(f"p{i}", "wing" if i % 3 else "tail", x, m) for i, (x, m) in enumerate(rng.uniform(1, 90, (20, 2)))]
    statement = _statement(*pairs)
    for bodies in ([e.body for e in statement.entries], list(statement.groups.values())):
        total = inertia.combined(bodies)
        assert total.mass == pytest.approx(statement.whole.mass, rel=1e-9)
        assert total.centre == pytest.approx(statement.whole.centre, rel=1e-9)
        assert total.inertia == pytest.approx(statement.whole.inertia, rel=1e-9, abs=1e-6)


def test_a_weighed_part_keeps_its_shape() -> None:
    """The scale changes mass and inertia in one proportion, and leaves centre and amount alone."""
    drawn = _statement(_block("a", "wing", 10.0)).entries[0]
    on_scale = _statement(_block("a", "wing", 10.0), weighed=[{"what": "a", "mass": "8.4 g"}]).entries[0]
    assert on_scale.basis == "weighed"
    assert on_scale.mass_g == pytest.approx(8.4)
    assert on_scale.drawn_g == pytest.approx(4.2)
    assert on_scale.body.centre == pytest.approx(drawn.body.centre)
    assert on_scale.body.inertia == pytest.approx(2.0 * drawn.body.inertia)
    assert on_scale.amount == drawn.amount


def test_a_weighed_group_leaves_its_weighed_parts_alone() -> None:
    """What the group weighs beyond its weighed parts is shared among the others in proportion."""
    pairs = [_block("a", "wing", 0.0, 10.0), _block("b", "wing", 1.0, 20.0), _block("c", "wing", 2.0, 30.0)]
    result = _statement(*pairs, weighed=[{"what": "a", "mass": "12 g"}, {"what": "wing", "mass": "72 g"}])
    assert [e.mass_g for e in result.entries] == pytest.approx([12.0, 24.0, 36.0])
    assert result.groups["wing"].mass == pytest.approx(72.0)


@pytest.mark.parametrize(
    ("weighed", "words"),
    [
        ([{"what": "wnig", "mass": "5 g"}], "did you mean 'wing'"),
        ([{"what": "a", "mass": "5 g"}, {"what": "a", "mass": "6 g"}], "twice"),
        ([{"what": "a", "mass": "50 g"}, {"what": "wing", "mass": "20 g"}], "less than its weighed parts"),
        ([{"what": "a", "mass": "5 g"}, {"what": "b", "mass": "5 g"}, {"what": "wing", "mass": "20 g"}], "add up to"),
    ],
)
def test_nonsense_on_the_scale_is_refused(weighed: list[dict[str, str]], words: str) -> None:
    """Names that do not exist, double entries and impossible sums get a message of their own."""
    with pytest.raises(PartError, match=words):
        _statement(_block("a", "wing", 0.0), _block("b", "wing", 9.0), weighed=weighed)


def test_a_bead_weighs_by_its_length() -> None:
    """A metre of a bead weighs what the table says a metre weighs, and has no volume of its own."""
    glue = MATERIALS["hot glue bead"]
    path = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0)]
    part = Part("glue", "glue", bead(path), at(), glue)
    entry = _statement((part, inertia.polyline(path))).entries[0]
    assert entry.mass_g == pytest.approx(1000 * glue.weight)
    assert entry.volume_mm3 is None
