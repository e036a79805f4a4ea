"""The redesign of the demo beside its prototype."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from airframe.checks.finding import Finding
from airframe.compare.json_form import to_json
from airframe.compare.whole import Comparison, Version, compare
from airframe.config import from_dict, read
from airframe.drawing import Panel
from airframe.model import Aeroplane
from airframe.store import MemoryStore
from tests.designs import plain, plain_data

CONFIGS = Path(__file__).parents[3] / "configs"
TIPPY = Finding("ground.overturn", "fail", 68.0, "deg", (None, 55.0), "It tips over.", "invented for a test")
STEADY = Finding("ground.overturn", "pass", 51.0, "deg", (None, 55.0), "It stands.", "invented for a test")


@pytest.fixture(scope="module")
def teasel() -> Comparison:
    """Mk 1 and Mk 2 of the demo by their drawings, without weighing log; equal shapes built once."""
    store = MemoryStore()
    sides = []
    for name, finding in (("teasel-mk1", TIPPY), ("teasel-mk2", STEADY)):
        data = {key: value for key, value in read(CONFIGS / f"{name}.toml").data.items() if key != "weighed"}
        sides.append(Version(Aeroplane(from_dict(data), store), data, (finding,)))
    return compare(*sides)


def test_shares_of_the_redesign_add_up(teasel: Comparison) -> None:
    """By part and by group, to 1e-9 of the whole: mass, balance point, inertia about each own balance point."""
    found = teasel.attribution
    old, new = teasel.old.statement.whole, teasel.new.statement.whole
    for shares in ([part.share for part in found.parts], list(found.by_group.values()), list(found.by_fate.values())):
        assert sum(share.mass_g for share in shares) == pytest.approx(new.mass - old.mass, abs=1e-9 * new.mass)
        shift = np.sum([share.balance_mm for share in shares], axis=0)
        np.testing.assert_allclose(shift, new.centre - old.centre, rtol=0.0, atol=1e-9 * teasel.new.layout.tail_mm)
        inertia = np.sum([share.inertia_g_mm2 for share in shares], axis=0) + found.moved_g_mm2
        scale = float(np.trace(new.inertia))
        np.testing.assert_allclose(inertia, new.inertia - old.inertia, rtol=0.0, atol=1e-9 * scale)


def test_groups_differ_by_their_totals(teasel: Comparison) -> None:
    """What a group's shares add up to is the difference of its line in the two weight statements."""
    old, new = teasel.old.statement.groups, teasel.new.statement.groups
    for group, share in teasel.attribution.by_group.items():
        before, after = (groups[group].mass if group in groups else 0.0 for groups in (old, new))
        assert share.mass_g == pytest.approx(after - before, abs=1e-9)


def test_what_the_redesign_states_is_what_changed(teasel: Comparison) -> None:
    """What the config of Mk 2 announces is found; motor, battery, tail and wing panels are not in it."""
    keys = {change.key: change for change in teasel.changes}
    assert keys["fuselage.width"].difference == (32.0,)
    assert keys["gear.track"].difference == (120.0,)
    assert keys["fuselage.shells[cowl]"].kind == "added"
    assert not [key for key in keys if key.startswith(("tail", "wing.panels", "equipment.motor", "equipment.battery"))]


def test_parts_of_the_redesign(teasel: Comparison) -> None:
    """A cowl is new, the camera straps are gone, the camera only moved, the battery stayed, the wing only rose."""
    pairs = {pair.name: pair for pair in teasel.pairs}
    assert (pairs["cowl"].fate, pairs["camera straps"].fate) == ("added", "removed")
    assert pairs["battery"].fate == "unchanged"
    camera = pairs["camera"]
    assert (camera.is_same_shape, camera.is_turned, camera.mass_g) == (True, False, 0.0)
    rise = pairs["wing skin 1 right"].moved_mm[2]
    assert rise > 0.0
    for name in ("wing skin 2 left", "wing rib 3 right", "glue, wing spar 1"):
        assert pairs[name].is_same_shape
        assert pairs[name].moved_mm == pytest.approx((0.0, 0.0, rise), abs=1e-6)
    assert sum(pair.new is not None for pair in teasel.pairs) == len(teasel.new.parts)
    assert sum(pair.old is not None for pair in teasel.pairs) == len(teasel.old.parts)


def test_figures_are_those_of_the_aeroplanes(teasel: Comparison) -> None:
    """Each figure is what its aeroplane says of itself; wing and propeller did not change."""
    figures = {figure.name: figure for figure in teasel.figures}
    assert figures["mass"].old == teasel.old.statement.whole.mass
    assert figures["balance point behind leading edge"].new == teasel.new.cg_behind_leading_edge_mm
    assert (figures["track"].old, figures["track"].new) == (130.0, 250.0)
    assert figures["span"].difference == figures["wing area"].difference == 0.0
    for name, cg, axis in (("roll", teasel.new.cg_mm, 0), ("yaw", teasel.new.cg_mm, 2)):
        entries = teasel.new.statement.entries
        about_cg = sum(
            entry.body.inertia[axis, axis]
            + entry.mass_g * sum((entry.body.centre[k] - cg[k]) ** 2 for k in range(3) if k != axis)
            for entry in entries
        )
        radius = (about_cg / teasel.new.statement.whole.mass) ** 0.5
        assert figures[f"radius of gyration in {name}"].new == pytest.approx(radius)


def test_the_propeller_s_room_by_hand(teasel: Comparison) -> None:
    """Level: the ground lies at the main wheels' lowest point, the disk reaches down R times the cosine of its tilt."""
    figure = next(figure for figure in teasel.figures if figure.name == "propeller above ground, level, unloaded")
    propeller = teasel.new.propeller
    assert propeller is not None
    tilt = (1.0 - propeller.axis[2] ** 2) ** 0.5
    ground = min(z for name, (_, _, z) in teasel.new.contacts.items() if name.startswith("main"))
    assert figure.new == pytest.approx(propeller.centre[2] - propeller.diameter_mm / 2.0 * tilt - ground)


def test_cost_in_foam_by_hand(teasel: Comparison) -> None:
    """The sheets' areas are those of the panels as they lie flat; plywood and foam are kept apart."""
    costs = {(cost.name, cost.diameter_mm): cost for cost in teasel.costs}
    foam = sum(
        part.shape.area()
        for part in teasel.new.parts
        if isinstance(part.shape, Panel) and part.material.name == "reserve foam board"
    )
    assert costs["reserve foam board", None].new == pytest.approx(foam)
    assert costs["reserve foam board", None].new > costs["reserve foam board", None].old
    assert (costs["music wire", 2.5].new, costs["music wire", 3.0].old) == (0.0, 0.0)
    assert costs["bought items", None].new == pytest.approx(
        sum(part.mass_g for part in teasel.new.parts if part.mass_g is not None)
    )


def test_json_is_si_and_adds_up(teasel: Comparison) -> None:
    """It survives a round trip, its shares add up, and only what changed is listed."""
    data = json.loads(json.dumps(to_json(teasel)))
    whole = data["attribution"]["whole"]
    weights = teasel.old.statement.whole.mass, teasel.new.statement.whole.mass
    assert whole["mass_kg"] == pytest.approx((weights[1] - weights[0]) * 1e-3)
    assert sum(part["mass_kg"] for part in data["parts"]) == pytest.approx(whole["mass_kg"], abs=1e-9)
    assert len(data["parts"]) + data["unchanged_parts"] == len(teasel.pairs)
    track = next(figure for figure in data["figures"] if figure["name"] == "track")
    assert (track["unit"], track["old"], track["new"]) == ("m", pytest.approx(0.13), pytest.approx(0.25))
    (finding,) = data["findings"]
    assert (finding["code"], finding["trend"]) == ("ground.overturn", "better")
    width = next(change for change in data["changes"] if change["key"] == "fuselage.width")
    assert (width["unit"], width["difference"]) == ("m", [pytest.approx(0.032)])


def test_an_aeroplane_beside_itself() -> None:
    """Without gear, propeller or battery, and compared with itself, nothing differs and nothing is missing."""
    one = Version(Aeroplane(plain()), plain_data())
    found = compare(one, one)
    assert found.changes == ()
    assert found.unchanged == len(found.pairs)
    assert all(figure.difference == 0.0 for figure in found.figures)
    assert "track" not in {figure.name for figure in found.figures}
    assert found.attribution.whole.mass_g == 0.0


def test_what_weighing_alone_did_is_told() -> None:
    """A wing that the scale makes 20 g heavier is no redesign: the figure says how much of the mass is the scale's."""
    drawn = Version(Aeroplane(plain()), plain_data())
    wing_g = drawn.aeroplane.statement.groups["wing"].mass
    log = [{"what": "wing", "mass": f"{wing_g + 20.0:.6f} g"}]
    found = compare(drawn, Version(Aeroplane(plain(weighed=log)), plain_data() | {"weighed": log}))
    figure = next(figure for figure in found.figures if figure.name == "of it added by the kitchen scale")
    assert (figure.old, figure.new) == (None, pytest.approx(20.0, abs=1e-5))
    assert sum(pair.scale_g for pair in found.pairs) == pytest.approx(found.attribution.whole.mass_g, abs=1e-9)
