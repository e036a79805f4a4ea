"""Redesign files: they say what changes, and read back as the design that was solved for."""

from __future__ import annotations

from pathlib import Path

import pytest

from airframe.config import load, read
from airframe.solve import redesign
from airframe.writing import WriteError
from tests.plane import PLANE


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """The small plane as a file."""
    path = tmp_path / "plane.toml"
    path.write_text(PLANE, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "settings",
    [
        ['equipment."spare camera".mass="55 g"'],
        ['wing.panels.1.dihedral="12 deg"', 'fuselage.width="70 mm"'],
        ['tail.elevator.root_chord="44 mm"', "wing.scores=5"],
    ],
)
def test_a_redesign_is_the_design_with_its_settings(config: Path, settings: list[str]) -> None:
    """Whether a key stands in a table, in a row of a list, or in quotes; what was weighed stays with the old one."""
    path = config.parent / "redesign.toml"
    text = redesign.text(read(config), path, settings, "Wider.")
    made = redesign.loaded(path, text).design
    assert made == load(config, settings).model_copy(update={"weighed": ()})
    assert text.startswith('# Wider.\nbased_on = "plane.toml"\n')


def test_a_redesign_finds_its_base_from_another_folder(config: Path, tmp_path: Path) -> None:
    """The way to the config is written from the redesign's own folder."""
    folder = tmp_path / "mended"
    folder.mkdir()
    text = redesign.text(read(config), folder / "new.toml", ['fuselage.width="70 mm"'], "")
    assert 'based_on = "../plane.toml"' in text
    assert redesign.loaded(folder / "new.toml", text).design.fuselage.width_mm == 70.0


def test_a_place_that_is_taken_is_refused_before_any_work(config: Path, tmp_path: Path) -> None:
    """Neither over a file nor into a folder that is not there."""
    with pytest.raises(WriteError, match="already there"):
        redesign.check_free(config)
    with pytest.raises(WriteError, match="there is no folder"):
        redesign.check_free(tmp_path / "nowhere" / "new.toml")
