"""How a redesign flies beside its prototype, as tables: figures, motions, and what drives each change."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import degrees

from airframe import units
from airframe.compare.motions import MotionChange, MotionShare, dies_per_s, swings_per_s
from airframe.flight.modes import Mode
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.units import System
from viewers.tables import Column, Row, Table

NONE = "–"
SMALL_SHARE = 0.1
"""Of the largest share of a motion: smaller ones are put together as "the rest"."""
MOST_PARTS = 4
"""Told of each motion."""
SAME_SHARE = 0.01
"""A change of less than this is told as none: the estimates are no closer."""
Names = tuple[str, str]
_Figure = Callable[[Flight, System], str]


def flights_table(old: Flight, new: Flight, names: Names, system: System) -> Table:
    """The main figures of both."""
    rows = tuple(Row((name, _told(figure, old, system), _told(figure, new, system))) for name, figure in _FIGURES)
    return Table("in flight, side by side (estimates)", (Column("figure"), *_sides(names, "right")), rows)


def motions_table(changes: Sequence[MotionChange], names: Names) -> Table:
    """Each motion at slow cruise in both, and the change in words."""
    rows: list[Row] = []
    for one in changes:
        if any(mode is not None and mode.is_swing for mode in (one.old, one.new)):
            swing = _faster(swings_per_s(one.new), swings_per_s(one.old)) if one.old and one.new else ""
            rows.append(Row((f"{one.name}, one swing", _swing(one.old), _swing(one.new), swing)))
        rows.append(Row((f"{one.name}, {_end(one)}", _dying(one.old, one), _dying(one.new, one), _change(one))))
    columns = (Column("motion"), *_sides(names, "right"), Column("change"))
    return Table("left alone after a gust, at slow cruise (estimates)", columns, tuple(rows))


def causes_table(changes: Sequence[MotionChange]) -> Table:
    """What drives each motion's change: shares in percent of the prototype's figure, which add up."""
    rows: list[Row] = []
    for one in changes:
        if one.old is None or one.new is None or not one.shares:
            continue
        base = swings_per_s(one.old), abs(dies_per_s(one.old))
        rows.append(Row((one.name, "", ""), "group"))
        rows += [Row((share.cause, *_percents(share, base))) for share in _gathered(one.shares)]
        whole = MotionShare("difference", *(_sum(one.shares, key) for key in ("swings_per_s", "dies_per_s")))
        rows.append(Row(("difference", *_percents(whole, base)), "total"))
    columns = (Column("because of"), Column("swings faster by", "right"), Column("dies away quicker by", "right"))
    return Table("what drives each change (a group's mass, place and inertia; shares add up)", columns, tuple(rows))


def parts_table(changes: Sequence[MotionChange], parts: Mapping[str, Sequence[MotionShare]]) -> Table:
    """The single parts that move each motion most, in percent of the prototype's figure."""
    rows: list[Row] = []
    for one in changes:
        if one.old is None or not parts.get(one.name):
            continue
        base = swings_per_s(one.old), abs(dies_per_s(one.old))
        rows.append(Row((one.name, "", ""), "group"))
        rows += [Row((share.cause, *_percents(share, base))) for share in parts[one.name][:MOST_PARTS]]
    columns = (Column("part"), Column("swings faster by", "right"), Column("dies away quicker by", "right"))
    return Table("the parts whose mass, place and inertia do most", columns, tuple(rows))


def _sides(names: Names, align: str) -> tuple[Column, Column]:
    first, second = names if names[0] != names[1] else (f"{names[0]}, old", f"{names[1]}, new")
    return Column(first, "left" if align == "left" else "right"), Column(second, "left" if align == "left" else "right")


def _swing(mode: Mode | None) -> str:
    return NONE if mode is None or not mode.is_swing else units.duration(mode.period_s)


def _end(one: MotionChange) -> str:
    """What its time is: to half where both die away."""
    return "half gone in" if all(mode is None or mode.is_stable for mode in (one.old, one.new)) else "dying or growing"


def _dying(mode: Mode | None, one: MotionChange) -> str:
    if mode is None:
        return NONE
    if _end(one) == "half gone in":
        return units.duration(mode.half_s)
    return (
        f"half gone in {units.duration(mode.half_s)}"
        if mode.is_stable
        else f"doubles in {units.duration(mode.double_s)}"
    )


def _change(one: MotionChange) -> str:
    """In words, how its dying away or growing changed."""
    if one.old is None or one.new is None:
        return "only the redesign does this" if one.old is None else "only the prototype did this"
    if one.old.is_stable != one.new.is_stable:
        return "dies away now" if one.new.is_stable else "GROWS now"
    return _faster(abs(dies_per_s(one.new)), abs(dies_per_s(one.old)))


def _faster(new: float, old: float) -> str:
    """How two rates compare."""
    share = new / old - 1.0 if old else 0.0
    if abs(share) < SAME_SHARE:
        return "as before"
    return f"{100.0 * abs(share):.0f} % {'faster' if share > 0.0 else 'slower'}"


def _gathered(shares: Sequence[MotionShare]) -> list[MotionShare]:
    """Those that matter, and the rest in one."""
    swings, dies = (max(abs(getattr(share, key)) for share in shares) for key in ("swings_per_s", "dies_per_s"))
    large = [s for s in shares if abs(s.swings_per_s) > SMALL_SHARE * swings or abs(s.dies_per_s) > SMALL_SHARE * dies]
    rest = [share for share in shares if share not in large]
    if not rest:
        return large
    return [*large, MotionShare("the rest", _sum(rest, "swings_per_s"), _sum(rest, "dies_per_s"))]


def _sum(shares: Sequence[MotionShare], key: str) -> float:
    return float(sum(getattr(share, key) for share in shares))


def _percents(share: MotionShare, base: tuple[float, float]) -> tuple[str, str]:
    values = zip((share.swings_per_s, share.dies_per_s), base, strict=True)
    first, second = (NONE if of == 0.0 else _percent(100.0 * value / of) for value, of in values)
    return first, second


def _percent(value: float) -> str:
    text = f"{value:+.1f} %"
    return text[1:] if float(text[:-2]) == 0.0 else text


def _told(figure: _Figure, flight: Flight, system: System) -> str:
    try:
        return figure(flight, system)
    except NoTrimError:
        return NONE


def _bank(flight: Flight, system: System) -> str:
    seconds = flight.rudder_kick.bank_30_s
    return NONE if seconds is None else f"{seconds:.1f} s"


def _elevator(flight: Flight, system: System) -> str:
    left = flight.level[0].elevator_left_rad
    return NONE if left is None else f"{degrees(left):.0f} deg"


_FIGURES: tuple[tuple[str, _Figure], ...] = (
    ("stall, clean", lambda flight, system: units.speed(flight.stall_m_s.middle, system)),
    ("slow cruise", lambda flight, system: units.speed(flight.cruise_m_s, system)),
    ("glide at slow cruise", lambda flight, _: f"{flight.drags.likely.glide_ratio(flight.cruise_m_s):.1f} to 1"),
    ("power at slow cruise", lambda flight, _: f"{flight.drags.likely.power_w(flight.cruise_m_s):.1f} W"),
    ("static margin", lambda flight, _: f"{100.0 * flight.static_margin():.0f} %"),
    ("up elevator left at the stall", _elevator),
    ("spiral rule (above 5: a bank dies away)", lambda flight, _: f"{flight.spiral_rule:.1f}"),
    ("banked 30 deg by rudder after", _bank),
)
