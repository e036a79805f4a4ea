"""Any fuselage that validates is drawn and built, or refused by the name of a part."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from airframe.drawing import Bead, Part, PartError
from airframe.layout import Layout
from airframe.parts import firewall, fuselage
from airframe.shapes import measure
from tests.designs import plain
from tests.overlaps import overlaps

SLIVER_MM3 = 30.0


def mm(low: float, high: float) -> st.SearchStrategy[str]:
    """A length between two limits, as a builder writes it."""
    return st.integers(int(low * 10), int(high * 10)).map(lambda tenths: f"{tenths / 10} mm")


@st.composite
def stretches(draw: st.DrawFn) -> dict[str, str]:
    """From a station to a later one."""
    start, length = draw(st.integers(-20, 560)), draw(st.integers(2, 400))
    return {"from_station": f"{start} mm", "to_station": f"{start + length} mm"}


@st.composite
def fuselages(draw: st.DrawFn) -> dict[str, Any]:
    """Fuselage tables that validate, many of them senseless."""
    count = draw(st.integers(2, 5))
    length = draw(st.sampled_from([600, 800, 1100]))
    rows = [
        {"station": f"{x:.1f} mm", "top": draw(mm(5, 60)), "bottom": draw(mm(-60, -5))}
        for x in np.linspace(draw(st.sampled_from([0, -25])), length, count)
    ]
    result: dict[str, Any] = {
        "stations": rows,
        "width": draw(mm(30, 120)),
        "line": draw(st.sampled_from(["straight", "curved"])),
    }
    if draw(st.booleans()):
        result |= {"taper_station": draw(mm(60, 590)), "tail_width": draw(mm(8, 30))}
    result["formers"] = [
        {"name": f"F{i}", "station": draw(mm(5, 590)), **({"rim": draw(mm(3, 25))} if draw(st.booleans()) else {})}
        for i in range(draw(st.integers(0, 3)))
    ]
    result["decks"] = [
        {"name": f"deck {i}", "face": draw(st.sampled_from(["top", "bottom"])), **draw(stretches())}
        | {"fit": draw(st.sampled_from(["between", "between", "over"]))}
        for i in range(draw(st.integers(0, 2)))
    ]
    if draw(st.booleans()):
        result["shelves"] = [{"name": "tray", **draw(stretches()), "water_line": draw(mm(-20, 20))}]
    if draw(st.booleans()):
        face = draw(st.sampled_from(["left", "sides", "top"]))
        low = draw(st.integers(-20, 0))
        result["openings"] = [
            {"name": "hatch", "face": face, **draw(stretches()), "low": f"{low} mm", "high": f"{low + 12} mm"}
            | {"corner_radius": draw(mm(0, 5)), "cover": draw(st.booleans())}
        ]
    if draw(st.booleans()):
        ends = [
            {
                "width": draw(mm(20, 90)),
                "crown": draw(mm(10, 50)),
                "edge": draw(mm(-9, 5)),
                "corner_radius": draw(mm(6, 15)),
            }
            for _ in range(2)
        ]
        result["shells"] = [
            {"name": "cowl", "opens": "down", "scores_per_corner": draw(st.integers(1, 5)), "end_formers": ["front"]}
            | {
                "front": {"station": "-80 mm", **ends[0]},
                "rear": {"station": "-8 mm", **ends[1]},
                "former_rim": draw(mm(2, 9)),
            }
        ]
    result["firewall"] = {
        "down_thrust": f"{draw(st.integers(-5, 5))} deg",
        "right_thrust": f"{draw(st.integers(-5, 5))} deg",
    }
    if draw(st.booleans()):
        result["firewall"] |= {"doubler_material": "birch plywood 1.5 mm", "doubler_behind": draw(mm(5, 60))}
    if draw(st.booleans()):
        result["firewall"]["gussets_behind"] = {"leg": draw(mm(5, 25)), "water_lines": [draw(mm(-20, 20))]}
    return result


@st.composite
def mountings(draw: st.DrawFn) -> dict[str, Any]:
    """Dowels anywhere, with reinforcement or without."""
    points = [{"station": draw(mm(20, 580)), "water_line": draw(mm(-20, 30))} for _ in range(2)]
    plates = {"reinforcement": "birch plywood 0.8 mm"} if draw(st.booleans()) else {}
    return {"front": points[0], "rear": points[1], **plates}


def drawn(fuselage_table: dict[str, Any], mounting: dict[str, Any] | None) -> list[Part] | None:
    """The parts, or None where the design was refused with the name of a part."""
    layout = Layout(plain(fuselage=fuselage_table, **({"wing": {"mounting": mounting}} if mounting else {})))
    try:
        return [*fuselage.parts(layout), *firewall.parts(layout)]
    except PartError as error:
        assert error.part
        assert error.problem
        return None


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(fuselages(), st.none() | mountings())
def test_drawn_or_refused(fuselage_table: dict[str, Any], mounting: dict[str, Any] | None) -> None:
    """Nothing but a PartError comes out of the drawing work, names are unique, coordinates finite."""
    parts = drawn(fuselage_table, mounting)
    if parts is None:
        return
    assert len({part.name for part in parts}) == len(parts)
    for part in parts:
        assert np.isfinite(part.place.apply(np.zeros(3))).all()
        if isinstance(part.shape, Bead):
            assert all(np.isfinite(path).all() and len(path) > 1 for path in part.shape.paths)


@pytest.mark.slow
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(fuselages(), st.none() | mountings())
def test_what_is_drawn_is_built(fuselage_table: dict[str, Any], mounting: dict[str, Any] | None) -> None:
    """Every shape encloses a volume or is refused by the kernel's door in words; no two parts overlap grossly."""
    parts = drawn(fuselage_table, mounting)
    if parts is None:
        return
    try:
        for part in parts:
            assert measure(part.shape).body.mass > 0.0
    except ValueError as error:
        assert str(error)
        return
    # A cowl is placed by hand round the nose: where it runs into the sides is the design's affair.
    inside = [part for part in parts if not part.name.startswith("cowl")]
    assert overlaps(inside, SLIVER_MM3) == {}
