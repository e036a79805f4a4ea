"""What weighing one aeroplane does to it, to its variants and to a redesign, from files to masses."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.config import load, read
from airframe.mass import Entry
from airframe.model import Aeroplane
from airframe.store import MemoryStore
from tests.plane import PLANE

BARE = PLANE.partition("[[weighed]]")[0].replace('mass = "90 g"', 'mass = "90 g"\nbasis = "weighed"')
LOG = """
[[weighed]]
what = "wing skin *"
mass = "75 g"
[[weighed]]
what = "fin"
mass = "5 g"
[[weighed]]
what = "whole"
mass = "287 g"
"""
REDESIGN = 'name = "Second"\nbased_on = "first.toml"\n[fuselage]\nwidth = "80 mm"\n'
ALIKE = 1e-3
"""Parts of one sheet take one factor; their own cutting, of 2 %, takes up a little of what the whole weighed."""
STORE = MemoryStore()
"""Shapes, built once for all tests."""


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """A folder with a plane that was weighed and a redesign of it."""
    (tmp_path / "bare.toml").write_text(BARE)
    (tmp_path / "first.toml").write_text(BARE + LOG)
    (tmp_path / "second.toml").write_text(REDESIGN)
    return tmp_path


def entries(path: Path, *settings: str) -> dict[str, Entry]:
    """The weight statement of a file, by name."""
    return {e.part.name: e for e in Aeroplane.loaded(read(path, settings), STORE).statement.entries}


def ratio(entry: Entry) -> float:
    """What counts over what is drawn."""
    return entry.mass_g / entry.drawn_g


def test_without_a_log_nothing_changes(files: Path) -> None:
    """A design that nobody weighed is exactly its drawing, however it was read."""
    loaded = read(files / "bare.toml", ["fuselage.width=70 mm"])
    assert (loaded.base, loaded.as_filed) == (None, None)
    plain = Aeroplane(load(files / "bare.toml", ["fuselage.width=70 mm"]), STORE).statement
    read_so = Aeroplane.loaded(loaded, STORE).statement
    assert [e.mass_g for e in read_so.entries] == [e.mass_g for e in plain.entries]
    assert all(e.learned_g is None and e.weighed_g is None for e in read_so.entries)


def test_weighed_skins_teach_what_the_sheet_weighs(files: Path) -> None:
    """Every other foam part takes the same factor; what was on the scale has the scale's mass; the battery its own."""
    found = entries(files / "first.toml")
    skins = [entry for name, entry in found.items() if name.startswith("wing skin")]
    assert sum(entry.mass_g for entry in skins) == pytest.approx(75.0)
    assert found["fin"].mass_g == pytest.approx(5.0)
    factor = ratio(found["stabiliser"])
    assert factor == pytest.approx(75.0 / sum(entry.drawn_g for entry in skins), rel=0.02)
    assert ratio(found["fuselage side right"]) == pytest.approx(factor, rel=ALIKE)
    assert found["stabiliser"].learned_g == pytest.approx(found["stabiliser"].mass_g, rel=1e-14)
    assert found["battery"].mass_g == found["battery"].drawn_g == 90.0


def test_a_redesign_learns_from_what_it_is_based_on(files: Path) -> None:
    """Its foam takes the factor that the first one's log taught, and none of its parts counts as weighed."""
    first, second = entries(files / "first.toml"), entries(files / "second.toml")
    factor = ratio(first["stabiliser"])
    for name in ("wing skin 1 right", "fin", "fuselage side right"):
        assert ratio(second[name]) == pytest.approx(factor, rel=ALIKE), name
        assert second[name].basis == "calculated"


def test_a_chain_of_redesigns_learns_from_the_first(files: Path) -> None:
    """What was taught goes on from file to file."""
    (files / "third.toml").write_text('name = "Third"\nbased_on = "second.toml"\n')
    assert ratio(entries(files / "third.toml")["fin"]) == pytest.approx(ratio(entries(files / "second.toml")["fin"]))


def test_a_restated_weight_is_not_corrected_by_the_old_one(files: Path) -> None:
    """A redesign that states another weight for its sheet is believed: the factor was that of the old number."""
    own = 'kind = "sheet"\nthickness = "5 mm"\nareal_weight = "480 g/m^2"\nsource = "weighed"\n'
    (files / "second.toml").write_text(REDESIGN + '[materials."foam board 5 mm"]\n' + own)
    assert ratio(entries(files / "second.toml")["fin"]) == pytest.approx(1.0)


def test_a_setting_does_not_change_what_was_weighed(files: Path) -> None:
    """The log speaks of the aeroplane as filed: a wider one of it keeps its wing, and its wider parts are predicted."""
    filed, wider = entries(files / "first.toml"), entries(files / "first.toml", "fuselage.width=90 mm")
    assert wider["wing skin 1 right"].mass_g == pytest.approx(filed["wing skin 1 right"].mass_g)
    assert wider["wing skin 1 right"].basis == "weighed"
    factor = ratio(filed["stabiliser"])
    assert all(
        ratio(e) == pytest.approx(factor, rel=ALIKE) for e in wider.values() if e.part.name.startswith("fuselage side")
    )
    taller = entries(files / "first.toml", "tail.fin.height=160 mm")["fin"]
    assert (taller.basis, ratio(taller)) == ("calculated", pytest.approx(factor, rel=ALIKE))


def test_a_variant_without_a_weighed_part_is_no_trouble(files: Path) -> None:
    """A setting may take away what was weighed: the rest keeps what it taught."""
    filed, wing = entries(files / "first.toml"), "wing.panels=[{span = '440 mm'}]"
    changed = entries(files / "first.toml", wing)
    assert "wing skin 2 right" not in changed
    assert ratio(changed["stabiliser"]) == pytest.approx(ratio(filed["stabiliser"]))


def test_a_setting_of_the_log_is_learned_from(files: Path) -> None:
    """Where the setting is in the log itself, the log counts as set."""
    loaded = read(files / "first.toml", ["weighed.0.mass=77 g"])
    assert loaded.as_filed is None
    assert ratio(entries(files / "first.toml", "weighed.0.mass=77 g")["stabiliser"]) > ratio(
        entries(files / "first.toml")["stabiliser"]
    )


def test_a_variant_made_in_the_house_shares_what_was_learned(files: Path) -> None:
    """`changed` gives what reading with the same setting gives, residuals of the log included."""
    aeroplane = Aeroplane.loaded(read(files / "first.toml"), STORE)
    design = load(files / "first.toml", ["fuselage.width=90 mm"])
    variant = aeroplane.changed(design)
    read_so = entries(files / "first.toml", "fuselage.width=90 mm")
    assert [e.mass_g for e in variant.statement.entries] == pytest.approx([e.mass_g for e in read_so.values()])
    assert variant.residuals == aeroplane.residuals
    assert len(variant.residuals) == 3


def test_a_base_that_is_no_design_by_itself_teaches_nothing(files: Path) -> None:
    """It was never built, so what stands in its log is of no aeroplane."""
    (files / "first.toml").write_text(BARE.replace('name = "Plane"', "") + LOG)
    assert read(files / "second.toml").base is None


def test_the_base_is_not_built_before_masses_are_asked_for(files: Path) -> None:
    """Drawing the redesign's parts weighs nothing of the first one."""
    second = Aeroplane.loaded(read(files / "second.toml"), MemoryStore())
    _ = second.parts
    assert second.taught_by is not None
    assert "parts" not in vars(second.taught_by)


def test_weighing_makes_surer(files: Path) -> None:
    """Mass and balance point are known better with the log than without, and surest of all is not certain."""
    bare = Aeroplane.loaded(read(files / "bare.toml"), STORE).sureness
    weighed = Aeroplane.loaded(read(files / "first.toml"), STORE).sureness
    assert 0.0 < weighed.mass_g.sigma < 0.2 * bare.mass_g.sigma
    assert 0.0 < weighed.balance_mm[0].sigma < bare.balance_mm[0].sigma


def test_a_log_is_not_inherited(files: Path) -> None:
    """What was weighed and swung was the first one: the redesign has neither, and knows whose log it learns from."""
    swung = '[[swung]]\naxis = "yaw"\nstring_length = "1 m"\nstring_spacing = "300 mm"\ntime = "21 s"\n'
    (files / "first.toml").write_text(BARE + LOG + swung)
    second = read(files / "second.toml")
    assert (second.design.weighed, second.design.swung) == ((), ())
    assert second.base is not None
    assert (len(second.base.design.weighed), len(second.base.design.swung)) == (3, 1)
