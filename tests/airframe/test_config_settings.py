"""Settings from the command line are laid over what the files say."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from airframe.config import from_dict, from_text
from tests.plane import PLANE, said


@pytest.mark.parametrize(
    ("setting", "get", "expected"),
    [
        ("gear.track=240 mm", lambda d: d.gear.track_mm, 240.0),
        ('gear.track="240 mm"', lambda d: d.gear.track_mm, 240.0),
        (" gear . track = 240 mm ", lambda d: d.gear.track_mm, 240.0),
        ("gear.arrangement=none", lambda d: d.gear.arrangement, "none"),
        ("wing.panels.1.span=3/4 in", lambda d: d.wing.panels[1].span_mm, 19.05),
        ("wing.panels=[{span='100 mm'}]", lambda d: len(d.wing.panels), 1),
        ("equipment.spare camera.mass=9 g", lambda d: d.equipment["spare camera"].mass_g, 9.0),
        ("equipment.\"spare camera\".fitted=false", lambda d: d.equipment["spare camera"].fitted, False),
        ("equipment.'spare camera'.station=9 mm", lambda d: d.equipment["spare camera"].station_mm, 9.0),
        ("limits.making.facet_ratio=1.5", lambda d: d.limits.making.facet_ratio, 1.5),
        ("wing.scores=5", lambda d: d.wing.scores, 5),
        ("mesh_angle=0.1 rad", lambda d: d.mesh_angle_rad, 0.1),
        ("name=a = b", lambda d: d.name, "a = b"),
        ("name=x\nunits='imperial'", lambda d: (d.name, d.units), ("x\nunits='imperial'", "metric")),
        ("wing.spar=none", lambda d: d.wing.spar, None),
    ],
)  # fmt: skip
def test_settings(setting: str, get: Any, expected: object) -> None:
    """A setting arrives as typed, with or without the quotes that the shell takes away."""
    assert get(from_text(PLANE, [setting])) == expected


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("gear.track=250", 'gear.track=250: needs a unit (mm, cm, m, in, ft), e.g. "250 mm"'),
        ("gear.trak=250 mm", "gear.trak=250 mm: no such key; did you mean 'track'?"),
        ("gear.track=", 'gear.track=: is not a length; write a number and a unit, e.g. "84 mm"'),
        ("gear.track", "must be KEY=VALUE"),
        ("=3", "must be KEY=VALUE"),
        ("a..b=3", "must be KEY=VALUE"),
        ("", "must be KEY=VALUE"),
        ("based_on=x.toml", "based_on can only be written in the file"),
        ("name.x=3", 'name is "Plane", not a table'),
        ("wing.panels.2.span=3 mm", "wing.panels is a list and has rows 0 to 1; there is no 2"),
        ("wing.panels.-1.span=3 mm", "there is no -1"),
        ("wing.panels[1].span=3 mm", "write panels.1, not panels[1]"),
        ("wing.panels.first=3 mm", "there is no first"),
        ("fuselage.formers.0.name=x", "fuselage.formers: must be a list, [ ... ]"),
        ("wing.material=oak", "there is no such material"),
        ("a.b.c.d.e.f.g.h.i.j.k.l.m.n=1", "nested too deeply"),
        ("name=" + "[" * 9999, "name="),
        ("name=" + "[" * 15 + "]" * 15, "nested too deeply"),
        ("x.y=1", "--set x.y=1: x: no such key"),
    ],
)
def test_settings_refused(setting: str, says: str) -> None:
    """The message begins with the setting and says what is wrong with it."""
    lines = said("", setting) if not setting.startswith("name=[[[[[[[[[[[[[[[[[[[[[") else ["--set name="]
    assert len(lines) == 1
    assert lines[0].startswith("--set")
    assert says in lines[0]


def test_a_setting_changes_nothing_else() -> None:
    """Tables given by a Python user are left as they were."""
    data = tomllib.loads(PLANE)
    changed = from_dict(data, ["wing.panels.0.span=1 m", "gear.arrangement=none"])
    assert data == tomllib.loads(PLANE)
    assert changed.wing.panels[0].span_mm == 1000.0
    assert from_dict(data) == from_text(PLANE)


def test_later_settings_win() -> None:
    """Settings are applied in turn."""
    assert from_text(PLANE, ["name=a", "name=b"]).name == "b"
