"""Answers and slopes as plain data for JSON, in SI units; degrees and percent stay."""

from __future__ import annotations

from typing import Any

from airframe.solve.answers import Answer, Choice
from airframe.solve.keys import Key
from airframe.solve.optimum import Best
from airframe.solve.slopes import Sensitivity, Slope
from airframe.solve.trials import Trials, Tried


def answer_json(found: Answer, trials: Trials) -> dict[str, Any]:
    """One key's answer; `answer` is null where there is none or none is needed."""
    key = found.key
    return {
        "name": trials.base.design.name,
        "key": key.name,
        "unit": key.unit.si_name,
        "between": [key.unit.si(end) for end in found.ends],
        "now": {"value": _si(key, key.now), **_tried(found.now, trials)},
        "holds_now": found.holds_now,
        "answer": None if found.choice is None else _choice(found.choice, key, trials),
        "turns_at": None if found.edge is None else key.unit.si(found.edge.at),
        "jumps_there": found.edge is not None and found.edge.is_jump,
        "holds": [[key.unit.si(one.low), key.unit.si(one.high)] for one in found.stretches],
        "nearest": None if found.nearest is None else _choice(found.nearest, key, trials),
        "cannot_be_built": [
            {"from": key.unit.si(one.low), "to": key.unit.si(one.high), "message": one.problem} for one in found.unbuilt
        ],
        "at_the_cost_of": [
            {"code": one.code, "verdict": one.verdict, "message": one.message} for one in found.costs
        ],
        "variants": trials.count,
    }  # fmt: skip


def best_json(found: Best, trials: Trials) -> dict[str, Any]:
    """The best of several keys; `kept` says whether the settings keep every condition."""
    assert trials.goal is not None
    return {
        "name": trials.base.design.name,
        "goal": trials.goal.code,
        "sense": "maximise" if found.is_most else "minimise",
        "unit": trials.goal.unit.si_name,
        "keys": [
            {"key": key.name, "unit": key.unit.si_name, "between": [key.unit.si(end) for end in ends]}
            for key, ends in zip(found.keys, found.ends, strict=True)
        ],
        "now": _tried(found.now, trials),
        "settings": list(found.settings),
        "kept": found.is_kept,
        "best": None if found.tried is None else _tried(found.tried, trials),
        "at_the_cost_of": [
            {"code": one.code, "verdict": one.verdict, "message": one.message} for one in found.costs
        ],
        "variants": trials.count,
    }  # fmt: skip


def sensitivity_json(found: Sensitivity) -> dict[str, Any]:
    """Every slope: the change of a result, in SI units, for one amount more of a key."""
    results = [
        {"code": one.code, "unit": one.unit.si_name, "now": None if now is None else one.unit.si(now)}
        for one, now in zip(found.measures, found.now, strict=True)
    ]
    return {"name": found.name, "results": results, "slopes": [_slope(one) for one in found.slopes]}


def _slope(one: Slope) -> dict[str, Any]:
    return {
        "key": one.key.name,
        "code": one.measure.code,
        "for": one.per.name,
        "change": None if one.change is None else one.measure.unit.si(one.change),
        "unit": one.measure.unit.si_name,
        "message": one.why_not or None,
    }


def _choice(one: Choice, key: Key, trials: Trials) -> dict[str, Any]:
    return {
        "setting": one.setting,
        "value": key.unit.si(one.value),
        "is_round": one.is_round,
        **_tried(one.tried, trials),
    }


def _tried(one: Tried, trials: Trials) -> dict[str, Any]:
    conditions = [
        {
            "condition": asked.text,
            "value": None if value is None else asked.measure.unit.si(value),
            "unit": asked.measure.unit.si_name,
            "slack": slack,
        }
        for asked, value, slack in zip(trials.conditions, one.values, one.slacks, strict=False)
    ]
    told: dict[str, Any] = {"conditions": conditions, "message": one.problem or None}
    if trials.goal is not None:
        told["goal"] = None if one.goal is None else trials.goal.unit.si(one.goal)
    return told


def _si(key: Key, value: float | None) -> float | None:
    return None if value is None else key.unit.si(value)
