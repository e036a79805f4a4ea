"""The demo designs and the starter: they load, build, add up, and give their recorded mass and balance point."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from airframe import inertia
from airframe.config import from_text, read
from airframe.drawing import Part
from airframe.model import Aeroplane
from airframe.starter import starter_text
from tests.overlaps import overlaps

CONFIGS = Path(__file__).parent.parent / "configs"
RECORDED = {
    # grams; mm behind the firewall's front face
    "teasel-mk1": (740.6, 224.2),
    "teasel-mk2": (807.3, 222.8),
    "plover": (518.4, 166.8),
    "starter": (462.8, 182.2),
}
"""Plausible because the tests below hold for each: skins weigh what their area says, each group has its usual
share, the wing loading is a slow flyer's, the balance point lies where such wings balance. A change of a config
or of how a part is drawn moves these numbers; then see that those tests still hold, and record anew. Mk 1's is by its
weighing log, 623 g without the battery of 118 g, some 24 g more than drawn; Mk 2's by what that log taught."""
TOLERANCE_G, TOLERANCE_MM = 0.1, 0.1
OVERLAP_MM3 = 30.0
"""A cube of 3 mm: what edges and wires may share where a drawing leaves out a notch."""
NAMES = sorted(RECORDED)


@cache
def demo(name: str) -> Aeroplane:
    """The aeroplane, weighed once for all tests."""
    if name == "starter":
        return Aeroplane(from_text(starter_text()))
    return Aeroplane.loaded(read(CONFIGS / f"{name}.toml"))


def weight_g(name: str, chosen: Callable[[Part], bool]) -> float:
    """What the chosen parts weigh together."""
    return sum(entry.mass_g for entry in demo(name).statement.entries if chosen(entry.part))


def drawn_g(name: str, group: str) -> float:
    """What a group weighs by its drawing, before any weighing."""
    return sum(entry.drawn_g for entry in demo(name).statement.entries if entry.part.group == group)


def test_every_config_is_recorded() -> None:
    """No file in configs/ goes untested."""
    assert {path.stem for path in CONFIGS.glob("*.toml")} | {"starter"} == set(RECORDED)


@pytest.mark.parametrize("name", NAMES)
def test_mass_and_balance_point(name: str) -> None:
    """Each design has sixty parts or more and its recorded mass and balance point, on the centre plane but for
    push-rods and horns that stand to one side: 1 mm is 0.1 % of the span.
    """
    aeroplane = demo(name)
    mass_g, station_mm = RECORDED[name]
    assert len(aeroplane.parts) >= 60
    assert aeroplane.statement.whole.mass == pytest.approx(mass_g, abs=TOLERANCE_G)
    assert aeroplane.cg_mm[0] == pytest.approx(station_mm, abs=TOLERANCE_MM)
    assert abs(aeroplane.cg_mm[1]) < 1.0


@pytest.mark.parametrize("name", NAMES)
def test_no_part_stands_in_another(name: str) -> None:
    """No two solids share more than a sliver."""
    assert overlaps(demo(name).parts, OVERLAP_MM3) == {}


@pytest.mark.parametrize("name", NAMES)
def test_the_statement_adds_up(name: str) -> None:
    """Entries, and groups, give the whole's mass, first moment and inertia about any point to 1e-9.

    Summed here about the origin: a body's tensor is additive about one fixed point (parallel-axis theorem).
    """
    statement = demo(name).statement
    whole = statement.whole
    for bodies in ([entry.body for entry in statement.entries], list(statement.groups.values())):
        assert sum(body.mass for body in bodies) == pytest.approx(whole.mass, rel=1e-9)
        moment = sum(body.mass * body.centre for body in bodies)
        assert moment == pytest.approx(whole.mass * whole.centre, rel=1e-9, abs=1e-9 * whole.mass)
        tensor = sum(inertia.about(body, np.zeros(3)) for body in bodies)
        scale = float(np.abs(tensor).max())
        assert tensor == pytest.approx(inertia.about(whole, np.zeros(3)), rel=1e-9, abs=1e-9 * scale)


@pytest.mark.parametrize("name", NAMES)
def test_mass_by_material(name: str) -> None:
    """By its drawing, before any weighing, a part weighs its amount times its material's weight unless its mass is
    stated; all materials make the whole.
    """
    statement = demo(name).statement
    by_material: dict[str, float] = defaultdict(float)
    for entry in statement.entries:
        by_material[entry.part.material.name] += entry.mass_g
        if entry.part.mass_g is None:
            assert entry.drawn_g == pytest.approx(entry.amount * entry.part.material.weight, rel=1e-12)
    assert sum(by_material.values()) == pytest.approx(statement.whole.mass, rel=1e-12)
    assert min(by_material.values()) > 0.0


@pytest.mark.parametrize("name", NAMES)
def test_every_body_is_physical(name: str) -> None:
    """No part has less than no mass, and each tensor is one that a real body can have."""
    for entry in demo(name).statement.entries:
        assert entry.mass_g > 0.0, entry.part.name
        assert inertia.is_physical(entry.body.inertia), entry.part.name


@pytest.mark.parametrize(("name", "skins"), [("teasel-mk1", 1), ("teasel-mk2", 1), ("starter", 1), ("plover", 2)])
def test_wing_skins_weigh_what_their_area_says(name: str, skins: int) -> None:
    """Skin mass over plan area times the sheet's weight by area is 1, or 2 for a folded wing, and a little more.

    More by the arc over its chord, about 1 + (8/3) 0.06^2 = 1.01 for a parabola of 6 % camber (closed form, series),
    by dihedral (1 / cos 16 deg = 1.04), and by the nose of a folded wing (0.75 in upright on an 8.5 in chord: 0.09).
    """
    aeroplane = demo(name)
    sheet = aeroplane.design.material(aeroplane.design.wing.material)
    plan_m2 = aeroplane.layout.mean_chord.area_mm2 * 1e-6
    ratio = weight_g(name, lambda part: part.name.startswith("wing skin")) / (plan_m2 * sheet.areal_weight_g_m2)
    assert skins <= ratio <= 1.06 * skins + 0.1 * (skins - 1)


@pytest.mark.parametrize("name", NAMES)
def test_groups_have_their_usual_shares(name: str) -> None:
    """Structure 35 to 60 %, what makes it go 25 to 45 %, gear under 15 %, glue 5 to 12 %, finish under 3 %.

    Our ranges for a foam model with a battery, common practice, no source: board of 0.44 kg/m^2 over some 0.5 m^2 is
    about 0.2 kg; motor, controller, servos and battery weigh about as much; a 5 to 10 m run of glue at 3.5 g/m is tens
    of grams. What they are there for: a slip in a unit moves a share by a factor, not by a third.
    """
    whole = demo(name).statement.whole.mass
    share = {group: body.mass / whole for group, body in demo(name).statement.groups.items()}
    assert 0.35 <= share["wing"] + share["tail"] + share["fuselage"] + share["landing gear"] <= 0.60
    assert 0.25 <= share["propulsion"] + share["controls"] + share["electrical"] <= 0.45
    assert 0.04 <= share["landing gear"] <= 0.15
    assert 0.05 <= share["glue"] <= 0.12
    assert 0.0 < share["finish"] <= 0.03


@pytest.mark.parametrize("name", NAMES)
def test_it_is_a_slow_flyer_that_balances(name: str) -> None:
    """Wing loading 20 to 40 g/dm^2, balance point at 20 to 36 % of the mean chord: common practice, no source."""
    assert 20.0 <= demo(name).wing_loading_g_dm2 <= 40.0
    assert 0.20 <= demo(name).cg_share_of_mean_chord <= 0.36


@pytest.mark.parametrize("name", NAMES)
def test_radii_of_gyration_fit_the_size(name: str) -> None:
    """Roll against the span, pitch against the length of the fuselage; yaw takes both, as in any flat body.

    A bar has 0.29 of its length (1 / sqrt(12)); a wing heavy in its middle has less, a fuselage heavy at its ends more.
    """
    aeroplane = demo(name)
    roll, pitch, yaw = aeroplane.statement.radii_of_gyration_mm()
    span, length = aeroplane.layout.mean_chord.span_mm, aeroplane.layout.tail_mm - aeroplane.layout.nose_mm
    assert 0.08 <= roll / span <= 0.29
    assert 0.15 <= pitch / length <= 0.40
    assert max(roll, pitch) < yaw < np.hypot(roll, pitch) * 1.05


def test_the_redesign_costs_what_it_adds() -> None:
    """Teasel Mk 2 keeps Mk 1's wing panels, tail and motor, as drawn; it is heavier by its wider body and gear."""
    first, second = demo("teasel-mk1").statement, demo("teasel-mk2").statement
    for group in ("propulsion", "tail"):
        assert drawn_g("teasel-mk2", group) == pytest.approx(drawn_g("teasel-mk1", group), rel=1e-9)
    for group in ("fuselage", "landing gear"):
        assert second.groups[group].mass > first.groups[group].mass
    assert weight_g("teasel-mk2", lambda part: part.name.startswith("wing skin")) == pytest.approx(
        weight_g("teasel-mk1", lambda part: part.name.startswith("wing skin")), rel=0.02
    )


def test_the_redesign_is_predicted_with_what_the_first_one_taught() -> None:
    """Mk 1's log has its sheet 2 to 5 % heavier than stated and its glue 10 to 30 %; so has every like part of Mk 2,
    and the tail that it keeps is predicted within 2 % of what Mk 1's weighs.
    """
    first, second = demo("teasel-mk1").statement, demo("teasel-mk2").statement
    ratios: dict[str, set[float]] = defaultdict(set)
    for entry in second.entries:
        if entry.part.material.name in ("reserve foam board", "hot glue bead"):
            ratios[entry.part.material.name].add(round(entry.mass_g / entry.drawn_g, 9))
    ((board,), (glue,)) = ratios["reserve foam board"], ratios["hot glue bead"]
    assert 1.02 <= board <= 1.05
    assert 1.10 <= glue <= 1.30
    assert second.groups["tail"].mass == pytest.approx(first.groups["tail"].mass, rel=0.02)
