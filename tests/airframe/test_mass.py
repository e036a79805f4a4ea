"""The weight statement: sums, and what the kitchen scale overrides."""

from __future__ import annotations

from dataclasses import replace

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


def test_drawn_learned_and_weighed_stand_side_by_side() -> None:
    """What was learned counts; what was on the scale counts more; the drawing's mass stays on record."""
    pairs = [_block("a", "wing", 0.0), _block("b", "wing", 9.0)]
    weighed = [Weighed.model_validate({"what": "b", "mass": "5 g"})]
    a, b = mass.statement([p for p, _ in pairs], [u for _, u in pairs], weighed, [4.4, 4.4]).entries
    assert (a.drawn_g, a.learned_g, a.weighed_g, a.mass_g, a.basis) == pytest.approx(
        (4.2, 4.4, None, 4.4, "calculated")
    )
    assert (b.drawn_g, b.learned_g, b.weighed_g, b.mass_g, b.basis) == pytest.approx((4.2, 4.4, 5.0, 5.0, "weighed"))


def test_what_the_design_states_as_weighed_is_not_learned_away() -> None:
    """A battery stated as weighed keeps its stated mass."""
    part, unit = _block("battery", "electrical", 0.0, 118.0)
    kept = mass.statement([replace(part, basis="weighed")], [unit], (), [117.6]).entries[0]
    assert (kept.mass_g, kept.learned_g) == (118.0, None)


def test_the_whole_is_not_shared_out_among_its_parts() -> None:
    """Weighing the whole overrides no part, and needs only be no lighter than what was weighed of it."""
    pairs = [_block("a", "wing", 0.0, 10.0), _block("b", "tail", 1.0, 20.0)]
    result = _statement(*pairs, weighed=[{"what": "a", "mass": "12 g"}, {"what": "whole", "mass": "40 g"}])
    assert [entry.mass_g for entry in result.entries] == pytest.approx([12.0, 20.0])
    with pytest.raises(PartError, match=r"weighed 'whole': 9 g is less than what was weighed of it piece by piece, 12"):
        _statement(*pairs, weighed=[{"what": "a", "mass": "12 g"}, {"what": "whole", "mass": "9 g"}])


def test_pieces_within_pieces() -> None:
    """A part, then a pattern that holds it, then the group: each leaves what is already weighed alone."""
    pairs = [_block(name, "wing", i, 10.0) for i, name in enumerate(("rib 1", "rib 2", "rib 3", "skin"))]
    weighed = [{"what": "wing", "mass": "60 g"}, {"what": "rib *", "mass": "36 g"}, {"what": "rib 1", "mass": "8 g"}]
    assert [e.mass_g for e in _statement(*pairs, weighed=weighed).entries] == pytest.approx([8.0, 14.0, 14.0, 24.0])


def test_a_variant_keeps_what_has_not_changed() -> None:
    """A part drawn as before weighs what it did, on the scale or learned; a changed one what is thought of it now."""
    pairs = [_block("a", "wing", 0.0), _block("b", "wing", 9.0)]
    parts, units = [p for p, _ in pairs], [u for _, u in pairs]
    before = mass.statement(parts, units, [Weighed.model_validate({"what": "a", "mass": "5 g"})], [4.4, 4.4]).entries
    larger = [units[0], inertia.box(10.0, 20.0, 60.0)]
    a, b = mass.statement(parts, larger, learned_g=[4.3, 8.8], before=before).entries
    assert (a.mass_g, a.basis, a.weighed_g) == pytest.approx((5.0, "weighed", 5.0))
    assert (b.mass_g, b.basis, b.drawn_g) == pytest.approx((8.8, "calculated", 8.4))
