"""The chart of balance: balance point against the battery's station, a line a case, as SVG of our own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import ceil, floor, log10

from airframe.balance.answers import Answer
from airframe.balance.intervals import Interval, without
from airframe.balance.lever import loads, placed
from airframe.balance.whole import Balances
from airframe.units import MM_PER_INCH, System
from viewers import palette

WIDTH, HEIGHT = 960.0, 560.0
LEFT, RIGHT, TOP, BOTTOM = 84.0, 250.0, 64.0, 74.0
"""Margins; the lines are named in the right one."""
LETTER, SMALL = 15.0, 13.0
LINE_GAP = 34.0
"""Least distance between the names of two lines: each takes two rows of letters."""
INKS = ("#2356b8", "#c0135e", "#0b6e5f", "#8a4b12", "#5a3d9a", "#7a6a00", "#b3361c", "#3c4650")
"""One for each line in turn; a name stands at each line, so nothing hangs on telling the colours apart."""
BAND = "#cfe5d6"
MOST_LINES = 8
"""More lines than this cannot be told apart: the design's own case first, then in their order."""
MARGIN_SHARE = 0.12
"""Room above, below and beside what is drawn."""
ROUNDING = 1e-9
"""A tenth is no binary fraction: the third of them is not quite 0.3."""


@dataclass(frozen=True)
class Frame:
    """Carries station (mm) and balance behind the leading edge (mm) to the page."""

    x: Interval
    y: Interval

    def across(self, station_mm: float) -> float:
        """Page x of a station."""
        return LEFT + (station_mm - self.x[0]) / (self.x[1] - self.x[0]) * (WIDTH - LEFT - RIGHT)

    def down(self, behind_mm: float) -> float:
        """Page y of a balance point; further aft is higher up."""
        return HEIGHT - BOTTOM - (behind_mm - self.y[0]) / (self.y[1] - self.y[0]) * (HEIGHT - TOP - BOTTOM)


@dataclass(frozen=True, eq=False)
class Line:
    """One case: a straight line, for balance is linear in the station."""

    answer: Answer
    ink: str

    def behind_mm(self, station_mm: float) -> float:
        """Balance behind the leading edge with the battery at a station."""
        load = loads([self.answer.case.rest], [self.answer.case.body])
        return self.answer.target.behind_mm(float(placed(load, [station_mm]).cg_mm[0, 0, 0]))

    @property
    def reach_mm(self) -> Interval:
        """Ends of the line: the tray's reach, or where the battery is now if it is too long for its tray."""
        low, high = self.answer.reach_mm
        return (low, high) if low <= high else (self.answer.now.station_mm, self.answer.now.station_mm)


def chart(found: Balances, system: System = "metric") -> str:
    """The chart as one SVG element, text as text. ValueError without a battery: there is nothing to draw."""
    if not found.answers:
        raise ValueError("no battery is fitted, so there is no line to draw")
    lines = [Line(answer, INKS[i % len(INKS)]) for i, answer in enumerate(found.answers[:MOST_LINES])]
    frame = _frame(lines, found)
    body = [
        _band(frame, found),
        _axes(frame, system),
        *(_line(frame, line) for line in reversed(lines)),
        _limits(frame, found, lines, system),
        *(_mark(frame, line) for line in reversed(lines)),
        *_names(frame, lines, system),
        _title(len(found.answers)),
    ]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img" '
        f'aria-label="Balance point against battery station" font-family="Georgia, \'DejaVu Serif\', serif" '
        f'font-size="{LETTER:g}" fill="{palette.INK}">'
    )
    return "\n".join([head, f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="{palette.PAPER}"/>', *body, "</svg>\n"])


def _frame(lines: Sequence[Line], found: Balances) -> Frame:
    stations = [x for line in lines for x in (*line.reach_mm, line.answer.now.station_mm)]
    target = found.target
    levels = [line.behind_mm(x) for line in lines for x in (*line.reach_mm, line.answer.now.station_mm)]
    levels += [target.behind_mm(x) for x in target.window_mm]
    return Frame(_padded(stations), _padded(levels))


def _padded(values: Sequence[float]) -> Interval:
    low, high = min(values), max(values)
    room = max((high - low) * MARGIN_SHARE, 2.0)
    return low - room, high + room


def _band(frame: Frame, found: Balances) -> str:
    """The range."""
    target = found.target
    high, low = (frame.down(target.behind_mm(x)) for x in (target.aft_mm, target.forward_mm))
    width = WIDTH - LEFT - RIGHT
    edges = "".join(
        f'<path d="M{LEFT:.1f} {y:.1f}h{width:.1f}" stroke="{palette.CONTACT}" stroke-width="1.5"/>'
        for y in (high, low)
    )
    box = f'<rect x="{LEFT:.1f}" y="{high:.1f}" width="{width:.1f}" height="{low - high:.1f}" fill="{BAND}"/>'
    return box + edges


def _limits(frame: Frame, found: Balances, lines: Sequence[Line], system: System) -> str:
    """What the range is, written within it at the right, where the lines leave most room."""
    target, right = found.target, WIDTH - RIGHT - 8.0
    high, low = (frame.down(target.behind_mm(x)) for x in (target.aft_mm, target.forward_mm))
    places = [high + 14.0 + (low - high - 28.0) * share for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    y = max(places, key=lambda place: _room(frame, lines, right, place)) + 5.0
    ends = [_length(target.behind_mm(x), system) for x in (target.forward_mm, target.aft_mm)]
    words = (
        f"range {' to '.join(ends)}, {100.0 * target.share(target.forward_mm):.3g} to {_share(found, target.aft_mm)}"
    )
    style = f'stroke="{BAND}" stroke-width="5" paint-order="stroke" stroke-linejoin="round"'
    return f"<g {style}>{_text(right, y, words, SMALL, 'end')}</g>"


def _room(frame: Frame, lines: Sequence[Line], right: float, y: float) -> float:
    """How far the nearest line passes from words whose middle is at page height y, as far as they reach."""
    stations = [frame.x[0] + (frame.x[1] - frame.x[0]) * share for share in (0.45, 0.6, 0.75, 0.9, 1.0)]
    gaps = [abs(frame.down(line.behind_mm(station)) - y) for line in lines for station in stations]
    return min(gaps, default=right)


def _share(found: Balances, station_mm: float) -> str:
    return f"{100.0 * found.target.share(station_mm):.3g} % of the mean chord"


def _axes(frame: Frame, system: System) -> str:
    unit = MM_PER_INCH if system == "imperial" else 1.0
    bottom, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    marks = [f'<path d="M{LEFT:g} {TOP:g}V{bottom:g}H{right:g}" fill="none" stroke="{palette.INK}"/>']
    for words in ticks(frame.x[0] / unit, frame.x[1] / unit):
        x = frame.across(float(words) * unit)
        marks.append(f'<path d="M{x:.1f} {bottom:g}v6" stroke="{palette.INK}"/>')
        marks.append(_text(x, bottom + 23.0, words, LETTER, "middle"))
    for words in ticks(frame.y[0] / unit, frame.y[1] / unit):
        y = frame.down(float(words) * unit)
        marks.append(f'<path d="M{LEFT:g} {y:.1f}h-6" stroke="{palette.INK}"/>')
        marks.append(_text(LEFT - 10.0, y + 5.0, words, LETTER, "end"))
    marks.append(
        _text(
            (LEFT + right) / 2.0, HEIGHT - 22.0, f"station of the battery's middle, {_unit(system)}", LETTER, "middle"
        )
    )
    middle = (TOP + bottom) / 2.0
    title = f"balance point behind the leading edge, {_unit(system)}"
    marks.append(
        f'<text transform="translate(24 {middle:.1f}) rotate(-90)" text-anchor="middle">{escape(title)}</text>'
    )
    return "".join(marks)


def ticks(low: float, high: float, most: int = 9) -> list[str]:
    """Round numbers (1, 2 or 5 times a power of ten apart) between two, `most` of them at most, with equal decimals."""
    rough = (high - low) / most
    power = floor(log10(rough))
    factor = next(factor for factor in (1, 2, 5, 10) if factor * 10.0**power >= rough)
    step, decimals = factor * 10.0**power, max(0, -power - (1 if factor == 10 else 0))
    return [f"{step * i:.{decimals}f}" for i in range(ceil(low / step - ROUNDING), floor(high / step + ROUNDING) + 1)]


def _line(frame: Frame, line: Line) -> str:
    """Dashed where a part is in the way, thin where it is free, thick where it is free and in balance."""
    blocked = without(line.reach_mm, line.answer.usable)
    dashed = [_stroke(frame, line, part, 'stroke-width="1.6" stroke-dasharray="3 5"') for part in blocked]
    free = [_stroke(frame, line, part, 'stroke-width="2"') for part in line.answer.usable]
    good = [_stroke(frame, line, part, 'stroke-width="6" stroke-linecap="round"') for part in line.answer.in_range]
    return "".join([*dashed, *free, *good])


def _stroke(frame: Frame, line: Line, part: Interval, style: str) -> str:
    ends = [f"{frame.across(x):.1f} {frame.down(line.behind_mm(x)):.1f}" for x in part]
    return f'<path d="M{ends[0]}L{ends[1]}" stroke="{line.ink}" {style}/>'


def _mark(frame: Frame, line: Line) -> str:
    """The battery where it is now: filled in the case that the design flies."""
    x = line.answer.now.station_mm
    fill = line.ink if line.answer.case.is_current else palette.PAPER
    place = f'cx="{frame.across(x):.1f}" cy="{frame.down(line.behind_mm(x)):.1f}"'
    return f'<circle {place} r="6.5" fill="{fill}" stroke="{line.ink}" stroke-width="2.2"/>'


def _names(frame: Frame, lines: Sequence[Line], system: System) -> list[str]:
    """Each line's name beside its rear end, moved apart where they would meet."""
    ends = [(frame.down(line.behind_mm(line.reach_mm[1])), line) for line in lines]
    ends.sort(key=lambda end: end[0])
    levels = spread([y for y, _ in ends], LINE_GAP, TOP + 10.0, HEIGHT - BOTTOM)
    left, found = WIDTH - RIGHT + 16.0, []
    for (y, line), level in zip(ends, levels, strict=True):
        start = frame.across(line.reach_mm[1])
        found.append(
            f'<path d="M{start + 4.0:.1f} {y:.1f}L{left - 4.0:.1f} {level:.1f}" stroke="{line.ink}" '
            f'stroke-width="0.8" opacity="0.7"/>'
        )
        found.append(_text(left, level, line.answer.case.name, LETTER, ink=line.ink, weight="bold"))
        found.append(_text(left, level + 16.0, _result(line.answer, system), SMALL, ink=palette.INK))
    return found


def _result(answer: Answer, system: System) -> str:
    if answer.in_range:
        spans = ", ".join(f"{_number(a, system)} to {_number(b, system)}" for a, b in answer.in_range)
        return f"in balance at {spans} {_unit(system)}"
    if answer.best is None:
        return "no room on the tray"
    way = "aft" if answer.missed_mm > 0.0 else "forward"
    return f"at best {_number(abs(answer.missed_mm), system)} {_unit(system)} too far {way}"


def spread(levels: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Ascending levels moved apart to at least a gap and kept between two bounds where there is room for all."""
    result: list[float] = []
    for level in levels:
        result.append(max(level, result[-1] + gap if result else low))
    ceiling = high
    for i in reversed(range(len(result))):
        result[i] = min(result[i], ceiling)
        ceiling = result[i] - gap
    return result


def _title(cases: int) -> str:
    shown = f"; {MOST_LINES} of {cases} cases" if cases > MOST_LINES else ""
    words = (
        "thick: free and in balance; thin: free; dashed: a part is in the way; circle: now, filled: as designed" + shown
    )
    title = _text(LEFT, 28.0, "Where the battery may sit", 20.0, weight="bold")
    return title + _text(LEFT, 49.0, words, SMALL, ink=palette.INK_SOFT)


def _text(x: float, y: float, words: str, size: float, anchor: str = "start", ink: str = "", weight: str = "") -> str:
    marks = f' fill="{ink}"' if ink else ""
    marks += f' font-weight="{weight}"' if weight else ""
    marks += f' text-anchor="{anchor}"' if anchor != "start" else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}"{marks}>{escape(words)}</text>'


def _number(value_mm: float, system: System) -> str:
    return f"{value_mm / MM_PER_INCH:.2f}" if system == "imperial" else f"{value_mm:.1f}"


def _length(value_mm: float, system: System) -> str:
    return f"{_number(value_mm, system)} {_unit(system)}"


def _unit(system: System) -> str:
    return "in" if system == "imperial" else "mm"
