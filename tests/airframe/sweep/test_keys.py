"""Keys of a sweep as they are typed and as they are given from Python."""

from __future__ import annotations

import re

import numpy as np
import pytest

from airframe.config import ConfigError
from airframe.sweep.keys import Axis, all_typed, given, typed
from airframe.units import MM_PER_INCH


def test_both_ends_are_among_equal_steps() -> None:
    """FROM:TO:N gives N values, the ends included, each written so that --set reads it."""
    axis = typed("gear.track=200 mm:300 mm:5")
    assert axis.values == (200.0, 225.0, 250.0, 275.0, 300.0)
    assert [axis.setting(index) for index in (0, 1)] == ['gear.track="200 mm"', 'gear.track="225 mm"']


def test_mixed_units_meet_exactly() -> None:
    """From inches to millimetres: in the unit of the first, the last still exactly what was typed."""
    axis = typed("gear.track=8 in:300 mm:4")
    assert axis.values[0] == pytest.approx(8 * MM_PER_INCH, rel=1e-15)
    assert axis.values[-1] == 300.0
    assert all(text.endswith(' in"') for text in axis.texts)


@pytest.mark.parametrize(
    ("text", "texts", "values"),
    [
        ("gear.track=240 mm, 10 in", ('"240 mm"', '"10 in"'), (240.0, 254.0)),
        ("equipment.battery.use=2-cell,3-cell", ('"2-cell"', '"3-cell"'), ("2-cell", "3-cell")),
        ('finish.0.on="nose, deck",fin', ('"nose, deck"', '"fin"'), ("nose, deck", "fin")),
        ("equipment.camera.fitted=true,false", ("true", "false"), ("true", "false")),
        ("wing.mounting.bands=4:8:3", ("4", "6", "8"), (4.0, 6.0, 8.0)),
        ('wing.mounting.bands="4:8:3"', ("4", "6", "8"), (4.0, 6.0, 8.0)),
        ("finish.0.on='a: b, c'", ("'a: b, c'",), ("a: b, c",)),
        ("a.b=1:2:3", ("1.0", "1.5", "2.0"), (1.0, 1.5, 2.0)),
        ("x.size=[1, 2],[3, 4]", ("[1, 2]", "[3, 4]"), ("[1, 2]", "[3, 4]")),
    ],
)
def test_lists_and_counts(text: str, texts: tuple[str, ...], values: tuple[float | str, ...]) -> None:
    """Commas part values but where quotes or brackets hold them; counts and words are as they are."""
    axis = typed(text)
    assert axis.texts == texts
    assert axis.values == values


def test_a_quoted_step_may_hold_the_equals_sign() -> None:
    """The key ends at the first sign outside its quotes."""
    assert typed('equipment."a=b".mass=1 g,2 g').path == ("equipment", "a=b", "mass")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("gear.track", "must be KEY=FROM:TO:N or KEY=a,b,c"),
        ("=1 mm,2 mm", "must be KEY=FROM:TO:N or KEY=a,b,c"),
        ("gear.track=200 mm:300 mm:1000000000", "too many"),
        ("gear.track=200 mm:300 mm", "write 200 mm:300 mm:11 for eleven"),
        ("gear.track=200 mm:300 g:4", "quantities of one kind"),
        ("gear.track=200 mm:300:4", "both with a unit"),
        ("gear.track=200 mm:wide:4", "'wide' is not a number with its unit"),
        ("gear.track=200 mm:300 mm:1", "2 or more, not '1'"),
        ("gear.track=200 mm:300 mm:many", "not 'many'"),
        ("gear.track=200 mm:300 mm:9999999", "too many"),
        ("gear.track=", "needs at least one value"),
        ("gear.track=1 mm,,2 mm", "commas between them"),
        ("gear.track=1 mm,", "a value is missing"),
        ("wing.panels[0].span=1 mm,2 mm", "write panels.0, not panels"),
    ],
)
def test_what_is_wrong_is_said(text: str, says: str) -> None:
    """One message that names what was typed and what would do."""
    with pytest.raises(ConfigError, match=re.escape(says)) as error:
        typed(text)
    assert len(error.value.problems) == 1


def test_all_wrong_keys_are_told_at_once() -> None:
    """Two keys that cannot be read give two problems, and the third is read all the same."""
    axes, problems = all_typed(["a=1 mm:2 mm", "gear.track=1 mm,2 mm", "b"])
    assert [axis.key for axis in axes] == ["gear.track"]
    assert len(problems) == 2


def test_values_from_python() -> None:
    """Texts with units, numbers of an array library, truth values, and a text as the command takes it."""
    assert given("gear.track", ["240 mm", "250 mm"]) == typed("gear.track=240 mm,250 mm")
    assert given("gear.track", "200 mm:300 mm:3") == typed("gear.track=200 mm:300 mm:3")
    assert given("wing.mounting.bands", np.arange(4, 9, 2).tolist()) == typed("wing.mounting.bands=4:8:3")
    assert given("a.b", list(np.array([0.5, 1.0]))).texts == ("0.5", "1.0")
    assert given("c.fitted", [True, False]).texts == ("true", "false")
    assert given("wing.scores", 4) == typed("wing.scores=4")


def test_what_must_be_tried() -> None:
    """Of numbers the outermost tell, whatever their order; of words each does, once."""
    assert _telling("k=3 mm,1 mm,2 mm") == (1, 0)
    assert _telling("k=a,b,a") == (2, 1)


def _telling(text: str) -> tuple[int, ...]:
    axis: Axis = typed(text)
    return axis.telling()
