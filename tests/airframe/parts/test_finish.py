"""Paint and filler by the area of the faces they cover."""

from __future__ import annotations

from typing import Any

import pytest

from airframe.drawing import Film, Panel, Part, PartError
from airframe.layout import Layout
from airframe.parts import finish, gear
from airframe.shapes import measure
from tests.designs import plain
from tests.fittings import gear_data


def painted(*entries: dict[str, Any]) -> tuple[list[Part], list[Part]]:
    """The gear's parts, and the films that these entries put on them."""
    table = gear_data(fairing={}, plate={**gear_data()["plate"], "buttress_material": "birch plywood 3 mm"})
    layout = Layout(plain(gear=table, finish=entries))
    structure = gear.parts(layout)
    return structure, finish.parts(layout, structure)


def test_no_entries_no_films() -> None:
    """A design that says nothing of its finish has none."""
    assert painted()[1] == []


def test_paint_weighs_by_the_face_it_covers() -> None:
    """One coat of 70 g/m^2 on the gear plate's face of 60 x 60 mm: 0.252 g, in the plate's place."""
    structure, (film,) = painted({"on": "gear plate", "material": "acrylic paint"})
    plate = next(part for part in structure if part.name == "gear plate")
    assert isinstance(plate.shape, Panel)
    area = measure(film.shape).body.mass
    assert area == pytest.approx(plate.shape.area())
    assert area * film.material.weight == pytest.approx(60.0 * 60.0 * 70.0e-6)
    assert (film.name, film.group, film.place) == ("acrylic paint, gear plate", "finish", plate.place)


def test_coats_and_faces_multiply() -> None:
    """Two coats on both faces weigh four times one coat on one face, and say so."""
    _, (one, four) = painted(
        {"on": "gear plate", "material": "acrylic paint"},
        {"on": "gear plate", "material": "acrylic paint", "face": "both", "coats": 2},
    )
    ratio = measure(four.shape).body.mass * four.material.weight / (measure(one.shape).body.mass * one.material.weight)
    assert ratio == pytest.approx(4.0)
    assert four.material.name == "2 coats of acrylic paint"
    assert four.name == "acrylic paint, gear plate, both faces"


def test_pattern_takes_names_in_any_case() -> None:
    """Left and right fairing are found by one pattern and share one film shape."""
    _, films = painted({"on": "Leg Fairing*", "material": "light filler"})
    assert [film.name for film in films] == ["light filler, leg fairing right", "light filler, leg fairing left"]
    assert films[0].shape == films[1].shape


def test_pattern_takes_whole_groups_and_skips_what_has_no_face() -> None:
    """A group's sheet parts are painted, its wires and wheels are not."""
    structure, films = painted({"on": "landing gear", "material": "acrylic paint"})
    sheets = [part.name for part in structure if isinstance(part.shape, Panel)]
    assert [film.name.removeprefix("acrylic paint, ") for film in films] == sheets
    assert all(isinstance(film.shape, Film) for film in films)


def test_the_same_coat_twice_keeps_names_apart() -> None:
    """Two entries for one face give two entries in the weight statement."""
    entry = {"on": "gear plate", "material": "acrylic paint"}
    _, films = painted(entry, entry)
    assert [film.name for film in films] == ["acrylic paint, gear plate", "acrylic paint, gear plate (2)"]


@pytest.mark.parametrize(
    ("on", "text"),
    [
        ("gear plat", "names no part or group; did you mean 'gear plate'"),
        ("main wheel*", "names only parts that are not cut from sheet"),
    ],
)
def test_entry_that_paints_nothing_is_refused(on: str, text: str) -> None:
    """The refusal quotes the entry and gives the nearest right name."""
    with pytest.raises(PartError) as caught:
        painted({"on": on, "material": "acrylic paint"})
    assert caught.value.part == f"finish '{on}'"
    assert text in caught.value.problem
