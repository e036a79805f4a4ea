"""Balance as tables: where each battery may sit, what that does, and how far each item moves the balance point."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import degrees

from airframe import units
from airframe.balance.answers import Answer, State
from airframe.balance.intervals import Intervals
from airframe.balance.lever import moved_by_mm
from airframe.balance.remedies import remedies
from airframe.balance.target import Target
from airframe.balance.whole import Balances
from airframe.schema.design import Design
from airframe.sure.propagation import Estimate, chance_of_reaching
from airframe.units import System
from viewers.tables import Column, Headline, Row, Table, inertia_number, length_number, mass_number

STEP_MM = 10.0
"""The move of which the table of levers says what it does; half an inch in a design in inches."""
STEP_IN = 0.5
_CENTRE_MM = 0.05
"""Nearer to a line than this is on it."""


@dataclass(frozen=True)
class Advice:
    """What to do about one case, or several."""

    case: str
    text: str
    settings: tuple[str, ...]
    """The same as --set lines."""


def headlines(found: Balances, system: System) -> tuple[Headline, ...]:
    """Fore and aft, sideways and vertical: where the balance point is now, and where it should be."""
    target, (x, y, z) = found.target, found.cg_mm
    behind = target.behind_mm(x)
    is_in = target.forward_mm <= x <= target.aft_mm
    state = "in range" if is_in else "NOSE-HEAVY" if x < target.forward_mm else "TAIL-HEAVY"
    share = f"{100.0 * target.share(x):.1f} % of the mean chord"
    return (
        Headline("fore and aft", units.length(behind, system), f"behind the leading edge, {share}: {state}"),
        Headline("range", _range(target, system), _range_share(target)),
        Headline("sideways", units.length(abs(y), system), _sideways(found, system)),
        Headline("vertical", units.length(abs(z), system), _beside(z, "above", "below", "the thrust line", system)),
    )


def _range(target: Target, system: System) -> str:
    low, high = (length_number(target.behind_mm(x), system) for x in target.window_mm)
    return f"{low} to {high} {_unit(system)}"


def _range_share(target: Target) -> str:
    low, high = (f"{100.0 * target.share(x):.3g}" for x in target.window_mm)
    return f"behind the leading edge, {low} to {high} % of the mean chord"


def _beside(value_mm: float, positive: str, negative: str, line: str, system: System) -> str:
    if _is_nought(value_mm, system):
        return f"on {line}"
    return f"{positive if value_mm > 0.0 else negative} {line}"


def _sideways(found: Balances, system: System) -> str:
    y = found.cg_mm[1]
    words = _beside(y, "to the right of", "to the left of", "the centre plane", system)
    if _is_nought(y, system):
        return words
    side = "left" if y > 0.0 else "right"
    return f"{words}; {units.mass(found.tip_weight_g, system)} at the {side} tip would centre it"


def _is_nought(value_mm: float, system: System) -> bool:
    """Whether no digit of it is shown."""
    return float(length_number(abs(value_mm), system)) == 0.0


def cases_table(found: Balances, system: System) -> Table:
    """One line a case: the stations of the battery's middle that are free, and those that bring it into balance."""
    rows = tuple(
        Row((answer.case.name, _stations(answer.usable, system), _stations(answer.in_range, system), _verdict(answer)))
        for answer in found.answers
    )
    unit = _unit(system)
    columns = (Column("battery, items"), Column(f"free {unit}"), Column(f"in balance {unit}"), Column("as it is now"))
    return Table("stations for the battery's middle", columns, rows)


def chances_table(found: Balances, sigma_mm: float) -> Table:
    """How likely each case balances as it is now, and how likely some free station of its tray brings it in.

    `sigma_mm` is the standard uncertainty of the balance point's station, taken to be the same in every case.
    """
    rows = []
    for answer in found.answers:
        window = answer.target.window_mm
        now = Estimate(answer.now.cg_mm[0], sigma_mm).chance_within(*window)
        chance = 0.0
        if answer.usable:
            ends = (answer.usable[0][0], answer.usable[-1][1])
            reach = [_balance_mm(answer, station) for station in ends]
            chance = chance_of_reaching(sigma_mm, (reach[0], reach[1]), window)
        rows.append(Row((answer.case.name, f"{100.0 * now:.0f}", f"{100.0 * chance:.0f}")))
    columns = (Column("battery, items"), Column("as it is now %", "right"), Column("somewhere on its tray %", "right"))
    return Table("chance that the finished aeroplane balances in range", columns, tuple(rows))


def _balance_mm(answer: Answer, station_mm: float) -> float:
    moved = moved_by_mm(answer.case.body.mass, answer.now.mass_g, station_mm - answer.now.station_mm)
    return answer.now.cg_mm[0] + moved


def _stations(intervals: Intervals, system: System) -> str:
    spans = (
        length_number(low, system)
        if high - low < _CENTRE_MM
        else " to ".join(length_number(x, system) for x in (low, high))
        for low, high in intervals
    )
    return ", ".join(spans) or "none"


def _verdict(answer: Answer) -> str:
    """What the battery's present station does in this case."""
    x, target = answer.now.cg_mm[0], answer.target
    if target.forward_mm <= x <= target.aft_mm:
        return "in range" if answer.is_well_now else "in range, but no room there"
    return "nose-heavy" if x < target.forward_mm else "tail-heavy"


def effects_table(found: Balances, system: System, neutral_point_mm: float | None = None) -> Table:
    """What the station does to balance, pitch inertia and tipping over: now, at the ends of what will do, mended.

    With the neutral point's station also what it does to the static margin, an estimate.
    """
    rows: list[Row] = []
    for answer in found.answers:
        rows.append(Row((answer.case.name, *[""] * 7), "group"))
        for label, state in _telling(answer):
            rows.append(Row((label, *_state_cells(state, answer.target, system, neutral_point_mm))))
    inertia = "pitch oz in²" if system == "imperial" else "pitch g m²"
    stands = any(state.overturn_rad is not None for answer in found.answers for state in (answer.now, *answer.ends))
    columns = (
        Column("battery"),
        Column(f"station {_unit(system)}", "right"),
        Column("mass oz" if system == "imperial" else "mass g", "right"),
        Column(f"behind LE {_unit(system)}", "right"),
        Column("chord %", "right"),
        *([] if neutral_point_mm is None else [Column("margin %", "right")]),
        Column(inertia, "right"),
        *([Column("overturn deg", "right")] if stands else []),
    )
    told = tuple(replace(row, cells=row.cells[: len(columns)]) for row in rows)
    title = "what the battery's station does (LE: leading edge; pitch: moment of inertia)"
    return Table(title, columns, told)


def _telling(answer: Answer) -> Iterator[tuple[str, State]]:
    """The states worth a line, none twice."""
    kind = "in balance" if answer.in_range else "free"
    shown = [("now", answer.now), *zip((f"foremost {kind}", f"rearmost {kind}"), answer.ends, strict=False)]
    if answer.in_range and answer.best is not None:
        shown.append(("nearest mid-range", answer.best))
    seen: set[float] = set()
    for label, state in shown:
        if round(state.station_mm, 2) not in seen:
            yield label, state
        seen.add(round(state.station_mm, 2))
    if answer.ballast is not None and answer.after is not None:
        yield "with ballast", answer.after


def _state_cells(state: State, target: Target, system: System, neutral_mm: float | None) -> tuple[str, ...]:
    margin = "" if neutral_mm is None else f"{100.0 * (neutral_mm - state.cg_mm[0]) / target.chord_mm:.0f}"
    return (
        length_number(state.station_mm, system),
        mass_number(state.mass_g, system),
        length_number(target.behind_mm(state.cg_mm[0]), system),
        f"{100.0 * target.share(state.cg_mm[0]):.1f}",
        *([] if neutral_mm is None else [margin]),
        inertia_number(state.pitch_g_mm2, system),
        "" if state.overturn_rad is None else f"{degrees(state.overturn_rad):.1f}",
    )


def levers_table(found: Balances, system: System) -> Table:
    """How far the balance point moves when an item moves, or stays at home; aft is positive."""
    step_mm = STEP_IN * units.MM_PER_INCH if system == "imperial" else STEP_MM
    step = f"{STEP_IN:g} in" if system == "imperial" else f"{STEP_MM:g} mm"
    rows = tuple(
        Row(
            (
                lever.item if lever.is_fitted else f"{lever.item} (not fitted)",
                mass_number(lever.mass_g, system),
                length_number(lever.station_mm, system),
                _signed(lever.share * step_mm, system),
                _signed(lever.left_out_moves_mm, system),
            )
        )
        for lever in found.levers
    )
    unit = _unit(system)
    columns = (
        Column("item"),
        Column("mass oz" if system == "imperial" else "mass g", "right"),
        Column(f"station {unit}", "right"),
        Column(f"{step} aft moves balance {unit}", "right"),
        Column(f"without it (or with) {unit}", "right"),
    )
    return Table("how far each item moves the balance point (aft +)", columns, rows)


def advice(found: Balances, design: Design) -> tuple[Advice, ...]:
    """Every remedy of every case that is not in balance as it is; one that serves several cases is told once."""
    serves: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for answer in found.answers:
        for remedy in remedies(answer, design):
            serves.setdefault((remedy.text, remedy.settings), []).append(answer.case.name)
    return tuple(Advice("; ".join(names), text, lines) for (text, lines), names in serves.items())


MARGIN_NOTE = (
    "margin: the static margin, how far the balance point lies ahead of the neutral point in mean chords; an estimate "
    "to 5 % either way"
)


def notes(found: Balances, system: System) -> tuple[str, ...]:
    """What limits the battery's way, and how far this may be trusted."""
    lines = []
    for answer in found.answers:
        front, rear = (length_number(x, system) for x in (answer.tray.from_mm, answer.tray.to_mm))
        met = "; meets " + ", ".join(one.name for one in answer.met) if answer.met else ""
        lines.append(
            f"{answer.case.battery_words}: its ends may go from {front} to {rear} {_unit(system)} "
            f"({answer.tray.given_by}){met}"
        )
    if not found.answers:
        lines.append("no battery is fitted: nothing can be moved on a tray")
    lines.append("an estimate from drawings and stated weights: balance the finished model before each first flight")
    return tuple(dict.fromkeys(lines))


def _signed(value_mm: float, system: System) -> str:
    """A shift, to a hundredth of a mm or a thousandth of an inch."""
    text = f"{value_mm / units.MM_PER_INCH:+.3f}" if system == "imperial" else f"{value_mm:+.2f}"
    return text.lstrip("+-") if float(text) == 0.0 else text


def _unit(system: System) -> str:
    return "in" if system == "imperial" else "mm"
