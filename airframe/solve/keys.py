"""A key with a number that may be changed: where it stands, what it is now, between which values it is looked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import Any

from airframe import units
from airframe.config import ConfigError, Loaded, Problem, from_dict
from airframe.config.problems import dotted, meant
from airframe.config.settings import read_setting
from airframe.schema.values import bounds, dimension, steps, under
from airframe.schema.walk import ROOT, Spot
from airframe.sweep.quantities import Unit

BESIDE = {"mm": 50.0, "rad": units.parse("10 deg", units.ANGLE)}
"""How far at least a key that may be negative is looked for on either side: our choice."""
Range = tuple[float, float]


@dataclass(frozen=True)
class Key:
    """One number of a design."""

    name: str
    """As after --set."""
    path: tuple[str, ...]
    unit: Unit
    kind: units.Dimension | None
    """None for a bare number."""
    is_whole: bool
    """Whether only whole numbers make sense: a count."""
    now: float | None
    """In the unit inside; None where it is left out."""
    least: float
    most: float
    """The bounds of the schema, which may be shut out themselves."""

    def range(self) -> Range | None:
        """From half to double of what it is now; what may be negative, as far on both sides. None without a value.

        Kept within what the schema allows.
        """
        if self.now is None:
            return None
        if self.least < 0.0:
            reach = max(abs(self.now), BESIDE.get(self.unit.inside, 0.0))
            low, high = self.now - reach, self.now + reach
        else:
            low, high = self.now / 2.0, 2.0 * self.now
        return max(low, self.least), min(high, self.most)

    def setting(self, text: str) -> str:
        """The --set line of a value as a person types it: "214 mm", or "3"."""
        return f"{self.name}={text}" if self.kind is None else f'{self.name}="{text}"'

    def exactly(self, value: float) -> str:
        """The --set line of any value, to fifteen digits."""
        if self.kind is None:
            return self.setting(str(round(value)) if self.is_whole else repr(value))
        unit, factor = next(iter(self.kind.factors.items()))
        return self.setting(f"{value / factor:.15g} {unit}")


def key(base: Loaded, name: str) -> Key:
    """The key of a design that is called so. Raises ConfigError for what is no number, with the nearest name."""
    path, _ = read_setting(f"{name}=0")
    spot = ROOT
    value: Any = base.design
    for index, step in enumerate(path):
        inner = under(spot, value, step)
        if inner is None:
            raise _refusal(name, f"there is no {dotted(path[: index + 1])} in this design{_near(base, path)}")
        spot, value = inner
    kind = dimension(spot)
    if (kind is None and spot.kind not in (int, float)) or isinstance(value, bool):
        raise _refusal(name, "is not a number, so there is nothing to solve for")
    return _made(name, path, spot, kind, value)


def numbers(base: Loaded) -> Iterator[Key]:
    """Every number of a design that has a value, in the schema's order."""
    for path, spot, value in _leaves(base.design, ROOT, ()):
        if isinstance(value, float) and dimension(spot) is not None:
            yield _made(dotted(path), path, spot, dimension(spot), value)


def between(key: Key, texts: tuple[str, str]) -> Range:
    """Two ends as a person types them, the lower first. Raises ConfigError."""
    problems, ends = [], []
    for text in texts:
        try:
            ends.append(units.parse(text, key.kind) if key.kind is not None else float(text))
        except ValueError as error:
            problems.append(Problem(f"{key.name} {text}", None, "", None, str(error)))
    if not problems and ends[0] == ends[1]:
        problems.append(Problem(key.name, None, "", None, "both ends are the same; give two that differ"))
    if problems:
        raise ConfigError(problems)
    return min(ends), max(ends)


def looked_for(base: Loaded, key: Key, texts: tuple[str, str] | None) -> Range:
    """The ends that were given, or the key's own. Raises ConfigError where there are none, or neither can stand."""
    found = key.range() if texts is None else between(key, texts)
    if found is None or found[0] >= found[1]:
        now = "has no value now" if key.now is None else "gives no range by itself"
        raise _refusal(key.name, f'{now}; say where to look: --between "FROM" "TO", or KEY=FROM:TO')
    told: list[Problem] = []
    for value in (*found, *(() if key.now is None else (key.now,))):
        try:
            from_dict(base.data, [key.exactly(value)])
        except ConfigError as error:
            told += error.problems
        else:
            return found
    raise ConfigError(told)


def _made(name: str, path: tuple[str, ...], spot: Spot, kind: units.Dimension | None, value: Any) -> Key:
    low, high = bounds(spot)
    now = None if value is None else float(value)
    least, most = -inf if low is None else low, inf if high is None else high
    return Key(name, path, Unit(kind.internal if kind else ""), kind, spot.kind is int, now, least, most)


def _leaves(value: Any, spot: Spot, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Spot, Any]]:
    inside = steps(value)
    if inside is None:
        yield path, spot, value
        return
    for step in inside:
        inner = under(spot, value, step)
        if inner is not None:
            yield from _leaves(inner[1], inner[0], (*path, step))


def _near(base: Loaded, path: tuple[str, ...]) -> str:
    return meant(dotted(path), [dotted(one) for one, _, value in _leaves(base.design, ROOT, ()) if value is not None])


def _refusal(name: str, message: str) -> ConfigError:
    return ConfigError([Problem(name, None, "", None, message)])
