"""Names in a weighing log: what lay on the scale, and what is refused."""

from __future__ import annotations

import pytest

from airframe.drawing import PartError
from tests import flock

DRAWN = flock.aeroplane()


def names(row: dict[str, object]) -> list[str]:
    """The parts that a row speaks of."""
    return [DRAWN[index].part.name for index in flock.log(DRAWN, {"mass": "1 g", **row})[0].members]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ({"what": "fin"}, ["fin"]),
        ({"what": "Tail"}, ["stabiliser", "fin"]),
        ({"what": "skin *", "without": ["skin 0", "skin 3"]}, ["skin 1", "skin 2"]),
        ({"what": "fin", "together_with": ["stabiliser", "glue, tail"]}, ["stabiliser", "fin", "glue, tail"]),
        ({"what": "whole", "without": ["*"], "together_with": []}, None),
    ],
)
def test_what_lay_on_the_scale(row: dict[str, object], expected: list[str] | None) -> None:
    """A part, a group, a pattern; more and less of it; nothing at all is refused."""
    if expected is None:
        with pytest.raises(PartError, match="nothing of it is left"):
            names(row)
    else:
        assert names(row) == expected


def test_the_whole_is_everything_but_what_was_taken_out() -> None:
    """Whole without the battery is every entry but one."""
    found = names({"what": "whole", "without": ["battery"]})
    assert len(found) == len(DRAWN) - 1
    assert "battery" not in found


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (
            [{"what": "stabilizer"}],
            r"weighed 'stabilizer': no part or group has this name; did you mean 'stabiliser'\?",
        ),
        ([{"what": "hole"}], r"did you mean 'whole'\?"),
        ([{"what": "whole", "without": ["Whole"]}], "only `what` may be that"),
        ([{"what": "wing", "together_with": ["whole"]}], "only `what` may be that"),
        ([{"what": "fin", "together_with": ["glue, tial"]}], r"'glue, tial': .*did you mean 'glue, tail'\?"),
        ([{"what": "wing", "without": ["battery"]}], "'battery' is not part of it"),
        ([{"what": "tail"}, {"what": "stabiliser", "together_with": ["fin"]}], "twice"),
        ([{"what": "wing"}, {"what": "wing"}], "twice"),
    ],
)
def test_what_is_refused(rows: list[dict[str, object]], words: str) -> None:
    """Unknown names with the nearest right one, what is not there to leave out, and one piece weighed twice."""
    with pytest.raises(PartError, match=words):
        flock.log(DRAWN, *({"mass": "1 g", **row} for row in rows))


def test_a_name_tells_what_was_on_the_scale() -> None:
    """Messages call a piece by all that was said of it."""
    (piece,) = flock.log(DRAWN, {"what": "wing", "together_with": ["glue, rib *"], "without": ["rib 8"], "mass": "1 g"})
    assert piece.subject == "weighed 'wing with glue, rib * without rib 8'"
