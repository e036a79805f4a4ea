"""Every remedy, applied as --set lines, turns its finding to pass: on the demos and on variants of them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from airframe import config
from airframe.checks import mending, whole
from airframe.checks.finding import PASSES, Finding, Remedy, rank
from airframe.checks.pairs import PairCache
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.starter import starter_text
from airframe.store import MemoryStore
from tests.space.designs import designs

CONFIGS = Path(__file__).parent.parent / "configs"
STORE = MemoryStore()
DEMOS = ("teasel-mk1", "teasel-mk2", "plover")
VARIANTS = (
    ("teasel-mk2", ["gear.track=140 mm", "gear.axle_station=215 mm"]),
    ("teasel-mk2", ["fuselage.width=74 mm", "tail.elevator.hinge.bevel=10 deg", "wing.mounting.reinforcement=none"]),
    ("teasel-mk2", ["equipment.propeller.diameter=12 in", "equipment.battery.station=70 mm", "gear.bend_radius=2 mm"]),
    ("plover", ["gear.track=6 in", "equipment.motor.shaft_length=0.45 in", "tail.rudder.root_clearance=0.1 in"]),
    ("plover", ["gear.arrangement=none", "fuselage.firewall.doubler_material=none"]),
    (
        "teasel-mk2",
        ["tail.stabiliser.span=260 mm", "wing.panels.1.dihedral=2 deg", "equipment.propeller.diameter=14 in"],
    ),
)


def _loaded(name: str, lines: Sequence[str] = ()) -> config.Loaded:
    return config.read(CONFIGS / f"{name}.toml", lines)


def _mends(finding: Finding, remedy: Remedy, check: mending.Check, rebuild: mending.Rebuild) -> bool:
    """Whether the finding passes, or no longer arises, once the remedy's settings are applied."""
    try:
        then = mending.on_trial(check)(rebuild(remedy.settings))
    except ValueError:
        return False
    return all(rank(other) >= PASSES for other in then if other.code == finding.code)


def _unmended(loaded: config.Loaded) -> tuple[int, list[str]]:
    """How many remedies were tried, and those that did not turn their finding to pass."""
    aeroplane = Aeroplane.loaded(loaded, STORE)

    def rebuild(lines: Sequence[str]) -> Aeroplane:
        return aeroplane.changed(config.from_dict(loaded.data, lines))

    tried, unmended = 0, []
    for _, check in whole.checks(PairCache()):
        for finding in check(aeroplane):
            for remedy in (remedy for remedy in finding.remedies if remedy.settings):
                tried += 1
                if not _mends(finding, remedy, check, rebuild):
                    unmended.append(f"{finding.code}: {remedy.text}")
    return tried, unmended


@pytest.mark.parametrize("name", DEMOS)
def test_remedies_mend_the_demos(name: str) -> None:
    """On each demo as filed."""
    tried, unmended = _unmended(_loaded(name))
    assert tried > 0 and unmended == []


@pytest.mark.slow
@pytest.mark.parametrize(("name", "lines"), VARIANTS)
def test_remedies_mend_variants(name: str, lines: list[str]) -> None:
    """On demos that somebody has spoilt: tippy, narrow, under-built, with too large a propeller, too little tail."""
    tried, unmended = _unmended(_loaded(name, lines))
    assert tried > 0 and unmended == []


@pytest.mark.slow
def test_what_check_offers_mends_composed_designs() -> None:
    """On designs composed at random: whatever remedy a builder is offered turns its finding to pass."""
    offered = []

    @settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
    @given(designs())
    def compose(data: dict[str, Any]) -> None:
        try:
            aeroplane = Aeroplane(config.from_dict(data), STORE)
            _ = aeroplane.statement
        except (config.ConfigError, PartError):
            return
        asked = dict(whole.checks(PairCache()))

        def rebuild(lines: Sequence[str]) -> Aeroplane:
            return aeroplane.changed(config.from_dict(data, lines))

        found = {name: {one.code for one in mending.on_trial(check)(aeroplane)} for name, check in asked.items()}
        for finding in whole.run(aeroplane, rebuild):
            for remedy in (remedy for remedy in finding.remedies if remedy.settings):
                check = asked[next(name for name, codes in found.items() if finding.code in codes)]
                offered.append(finding.code)
                assert _mends(finding, remedy, check, rebuild), f"{finding.code}: {remedy.text}"

    compose()
    assert len(set(offered)) > 5


def _findings(name: str) -> dict[str, Finding]:
    loaded = _loaded(name)
    return {finding.code: finding for finding in whole.run(Aeroplane.loaded(loaded, STORE))}


def test_the_prototype_fails_what_its_builder_wrote_down_and_the_redesign_passes() -> None:
    """Teasel Mk 1 tips over and its camera does not fit; nothing else fails; Mk 2 passes both and fails nothing."""
    before, after = _findings("teasel-mk1"), _findings("teasel-mk2")
    failing = {code.partition(":")[0] for code, finding in before.items() if finding.verdict == "fail"}
    assert {"ground.overturn", "fit.inside"} <= failing <= {"ground.overturn", "fit.inside", "ground.battery"}
    assert before["fit.inside: camera"].verdict == "fail"
    assert after["ground.overturn"].verdict == after["fit.inside: camera"].verdict == "pass"
    assert not [code for code, finding in after.items() if finding.verdict == "fail"]


def test_what_a_remedy_would_cost_is_mended_with_it() -> None:
    """The prototype's camera would go where its receiver is: the receiver makes room, or the two would meet."""
    loaded = _loaded("teasel-mk1")
    aeroplane = Aeroplane.loaded(loaded, STORE)

    def rebuild(lines: Sequence[str]) -> Aeroplane:
        return aeroplane.changed(config.from_dict(loaded.data, lines))

    def after(lines: Sequence[str]) -> dict[str, str]:
        return {finding.code: finding.verdict for finding in whole.run(rebuild(lines))}

    found = {finding.code: finding for finding in whole.run(aeroplane, rebuild)}
    (remedy,) = found["fit.inside: camera"].remedies
    camera_alone, both = after(remedy.settings[:-1]), after(remedy.settings)
    assert remedy.settings[-1].startswith("equipment.receiver.station=")
    assert (camera_alone["fit.inside: camera"], camera_alone["fit.overlap: receiver, camera"]) == ("pass", "fail")
    assert (both["fit.inside: camera"], both.get("fit.overlap: receiver, camera")) == ("pass", None)
    assert all("at the cost" not in one.text for one in found["ground.overturn"].remedies)


def test_the_starter_fails_nothing() -> None:
    """Who starts from the starter starts from an aeroplane that stands, clears, fits and can be made."""
    design = config.from_text(starter_text("First Light"))
    findings = whole.run(Aeroplane(design, STORE))
    assert [finding.code for finding in findings if finding.verdict == "fail"] == []


def _slow_flyer(width: str, track: str, height: str) -> Aeroplane:
    """A plain slow flyer on two wheels and a tail wheel, all alike but for fuselage, track and legs."""
    from tests.designs import plain_data

    data = plain_data()
    data["fuselage"]["width"] = width
    data["gear"] = {
        "track": track,
        "axle_station": "110 mm",
        "height": height,
        "wheel": {"diameter": "50 mm", "width": "15 mm", "mass": "8 g"},
        "plate": {"from_station": "80 mm", "to_station": "120 mm"},
        "tail_wheel": {
            "wheel": {"diameter": "20 mm", "width": "6 mm", "mass": "2 g"},
            "axle_station": "580 mm",
            "pivot_station": "560 mm",
            "height": "40 mm",
        },
    }
    data["equipment"] = {
        "battery": {"kind": "battery", "mass": "100 g", "size": ["60 mm", "30 mm", "18 mm"], "station": "40 mm",
                    "water_line": "-35 mm"},
        "motor": {"kind": "motor", "mass": "50 g", "diameter": "28 mm", "length": "30 mm"},
    }  # fmt: skip
    return Aeroplane(config.from_dict(data), STORE)


def test_outspread_legs_cure_a_tippy_slow_flyer() -> None:
    """Common practice, no source: a 2 in fuselage with close wheels is tippy; 3 in with outspread legs is not."""
    from airframe.checks import ground

    def overturn(aeroplane: Aeroplane) -> Finding:
        return next(finding for finding in ground.findings(aeroplane) if finding.code == "ground.overturn")

    narrow = overturn(_slow_flyer("2 in", "4.5 in", "5.2 in"))
    wide = overturn(_slow_flyer("3 in", "10 in", "5.6 in"))
    assert narrow.verdict == "fail"
    assert wide.verdict == "pass"
