"""Whether the battery can be put in, and a hand reach its plug."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from airframe import units
from airframe.checks.changes import Change, settings
from airframe.checks.finding import Finding, Remedy, Verdict
from airframe.checks.openings import Way, cut, ways
from airframe.checks.room import fuselage_space
from airframe.checks.rounding import spread
from airframe.layout import Layout
from airframe.parts import inside
from airframe.parts.inside import Box
from airframe.schema.equipment import Battery
from airframe.schema.fuselage import Opening

OPENING_SOURCE = "geometry; straight in, or tipped in end first"
HAND_SOURCE = "our choice: limits.fit.hand_length, hand_width, reach"
SPARE_MM = 2.0
"""What a remedy leaves round the battery or the hand."""

Size = tuple[float, float, float]


@dataclass(frozen=True)
class Entry:
    """How a battery goes in through one opening."""

    way: Way
    flat_mm: float
    """What the opening has to spare with the battery lying as it will lie; negative: what is missing."""
    turned_mm: float
    """The same with the battery turned whichever way is best, to be tipped flat inside."""
    blocked: str
    """What stops it on its way along the tray; empty if nothing does."""

    @property
    def rank(self) -> tuple[bool, bool, float, float]:
        """Sorts: nothing in the way and straight in first."""
        free = not self.blocked
        return (free and self.flat_mm >= 0.0, free and self.turned_mm >= 0.0, self.flat_mm, self.turned_mm)


def findings(layout: Layout) -> list[Finding]:
    """For each battery that the builder owns: does it go in; and once: does a hand reach the plug."""
    found: list[Finding] = []
    for name, battery in layout.design.equipment.items():
        if isinstance(battery, Battery) and battery.fitted and battery.place == "inside":
            for label, size in options(name, battery):
                found.append(_hatch(layout, name, label, battery, size))
            found.append(_hand(layout, name, battery))
    if not found:
        text = "does not apply: no battery is inside the fuselage"
        found.append(Finding("fit.hatch", "info", None, "", (None, None), text, "geometry"))
    return found


def options(name: str, battery: Battery) -> list[tuple[str, Size]]:
    """Every battery option with what it is called: all of them, or the single one."""
    if not battery.options:
        return [(name, battery.chosen().size)]
    used = battery.use if battery.use is not None else next(iter(battery.options))
    sizes = {option: table.size for option, table in battery.options.items()} | {used: battery.chosen().size}
    return [(f"{name}, {option}", size) for option, size in sizes.items()]


# --- going in -------------------------------------------------------------------------------------------


def _hatch(layout: Layout, name: str, label: str, battery: Battery, size: Size) -> Finding:
    entry = best_entry(layout, battery, size)
    code, system = f"fit.hatch: {label}", layout.design.units
    if entry is None:
        text = f"the {label} cannot be put in: no deck is open, has a hatch or stops short of the tray"
        return Finding(code, "fail", None, "mm", (0.0, None), text, OPENING_SOURCE, (), (name,))
    where, value = entry.way.name, entry.flat_mm
    verdict: Verdict
    if entry.blocked:
        verdict, text = "fail", f"the {label} goes in through {where}, but {entry.blocked}"
    elif entry.flat_mm >= 0.0:
        spare = units.length(entry.flat_mm, system)
        verdict, text = "pass", f"the {label} goes in through {where} with {spare} to spare"
    elif entry.turned_mm >= 0.0:
        short = units.length(-entry.flat_mm, system)
        verdict, text = "caution", f"the {label} goes in through {where} only turned on end: try it with a card model"
        text += f"; laid flat it is {short} too large"
    else:
        short = units.length(-entry.turned_mm, system)
        verdict, value = "fail", entry.turned_mm
        text = f"the {label} does not go in through {where}, the best there is: {short} is missing"
    remedies = () if verdict == "pass" else tuple(_larger(layout, battery, size))
    return Finding(code, verdict, value, "mm", (0.0, None), text, OPENING_SOURCE, remedies, (name,))


def best_entry(layout: Layout, battery: Battery, size: Size) -> Entry | None:
    """The opening through which the battery goes in best; None if there is no opening."""
    entries = [_entry(layout, battery, size, way) for way in ways(layout)]
    return max(entries, key=lambda entry: entry.rank, default=None)


def _entry(layout: Layout, battery: Battery, size: Size, way: Way) -> Entry:
    length, width, height = size
    along, across = way.size
    lying = (length, width if way.is_level else height)
    turned = max(spare(along, across, a, b) for a, b in permutations(size, 2))
    flat = min(along - lying[0], across - lying[1])
    return Entry(way, flat, turned, _blocked(layout, battery, size, way))


def spare(along_mm: float, across_mm: float, a_mm: float, b_mm: float) -> float:
    """What a rectangular opening leaves round a rectangle with its sides along the opening's; negative: missing."""
    return min(along_mm - a_mm, across_mm - b_mm)


def _blocked(layout: Layout, battery: Battery, size: Size, way: Way) -> str:
    """What the battery meets between the nearest place under the opening and where it will lie."""
    length, width, height = size
    x, low = battery.station_mm, battery.water_line_mm
    at = min(max(x, way.from_mm + length / 2.0), max(way.to_mm - length / 2.0, way.from_mm + length / 2.0))
    if way.size[0] < length:
        at = (way.from_mm + way.to_mm) / 2.0
    path = Box("", min(at, x) - length / 2.0, max(at, x) + length / 2.0, low, low + height)
    if not way.is_level and (way.low_mm > low + height or way.high_mm < low):
        return f"{way.name} does not lead to its tray"
    for other in (*inside.cross_pieces(layout), *inside.braces(layout), *inside.dowels(layout)):
        if path.meets(other) and not _passes(layout, other, path, battery.butt_line_mm, width):
            return f"{other.name} stands in its way to the tray"
    space = fuselage_space(layout, path.from_mm, path.to_mm)
    if space.high_mm - low < height - inside.TOUCH_MM and not way.is_level:
        return "there is no height for it above the tray"
    return ""


def _passes(layout: Layout, other: Box, path: Box, butt_line_mm: float, width_mm: float) -> bool:
    """Whether the battery goes through a former's window."""
    for former in layout.design.fuselage.formers:
        if inside.former_name(former.name) == other.name and former.rim_mm is not None:
            low, high = layout.clear_height_mm(other.from_mm, other.to_mm)
            half = layout.inner_half_width_mm(other.to_mm) - former.rim_mm
            fits = low + former.rim_mm <= path.low_mm and path.high_mm <= high - former.rim_mm
            return fits and abs(butt_line_mm) + width_mm / 2.0 <= half
    return False


def _larger(layout: Layout, battery: Battery, size: Size) -> Iterator[Remedy]:
    """A hatch made as large as the battery and a little more, if such a hatch can be cut."""
    system = layout.design.units
    for i, opening in enumerate(layout.design.fuselage.openings):
        across = size[1] if opening.face in ("top", "bottom") else size[2]
        changes = _grown(i, opening, size[0] + SPARE_MM, across + SPARE_MM, system)
        new = cut(layout, changes)
        entry = best_entry(new, battery, size) if new is not None else None
        if new is not None and entry is not None and entry.rank[0]:
            text = f"make the {opening.name} {_size_text(new.design.fuselage.openings[i], system)}"
            yield Remedy(text, settings(changes, system))
            return


def _grown(row: int, opening: Opening, along_mm: float, across_mm: float, system: units.System) -> list[Change]:
    """The opening spread evenly to at least these sizes; nothing for one that is as large."""
    changes = []
    for low, high, size in (("from_station_mm", "to_station_mm", along_mm), ("low_mm", "high_mm", across_mm)):
        a, b = getattr(opening, low), getattr(opening, high)
        if b - a < size:
            grow = (size - (b - a)) / 2.0
            edges = zip((low, high), spread(a - grow, b + grow, system), strict=True)
            changes += [Change(("fuselage", "openings", row, edge), value) for edge, value in edges]
    return changes


def _size_text(opening: Opening, system: units.System) -> str:
    along, across = opening.to_station_mm - opening.from_station_mm, opening.high_mm - opening.low_mm
    return f"{units.length(along, system)} by {units.length(across, system)}"


# --- the plug ---------------------------------------------------------------------------------------------


def _hand(layout: Layout, name: str, battery: Battery) -> Finding:
    """The opening within reach of either end of the battery that fingers go through best."""
    limits, system = layout.design.limits.fit, layout.design.units
    code, need = f"fit.hand: {name}", (limits.hand_length_mm, limits.hand_width_mm)
    near = [(hand_spare(way.size, need), way) for way in ways(layout) if _reach_mm(way, battery) <= limits.reach_mm]
    if not near:
        reach = units.length(limits.reach_mm, system)
        text = f"no opening is within {reach} of an end of the {name}: no hand reaches its plug"
        return Finding(code, "caution", None, "mm", (0.0, None), text, HAND_SOURCE, (), (name,))
    value, way = max(near, key=lambda one: one[0])
    size = " by ".join(units.length(side, system) for side in way.size)
    wanted = " by ".join(units.length(side, system) for side in need)
    text = f"a hand reaches the {name}'s plug through {way.name}, {size}; it wants {wanted}"
    remedies = () if value >= 0.0 else tuple(_hand_remedies(layout, name, battery))
    verdict: Verdict = "pass" if value >= 0.0 else "caution"
    return Finding(code, verdict, value, "mm", (0.0, None), text, HAND_SOURCE, remedies, (name,))


def hand_spare(opening: tuple[float, float], hand: tuple[float, float]) -> float:
    """What an opening leaves round a hand, turned whichever way is better; negative: missing."""
    return max(spare(*opening, *hand), spare(*opening, *reversed(hand)))


def _reach_mm(way: Way, battery: Battery) -> float:
    """From the opening's edge, fore and aft, to the nearer end of the battery."""
    half = battery.chosen().size[0] / 2.0
    ends = (battery.station_mm - half, battery.station_mm + half)
    return min(max(way.from_mm - end, end - way.to_mm, 0.0) for end in ends)


def _hand_remedies(layout: Layout, name: str, battery: Battery) -> Iterator[Remedy]:
    need = (layout.design.limits.fit.hand_length_mm, layout.design.limits.fit.hand_width_mm)
    for i, opening in enumerate(layout.design.fuselage.openings):
        if _reach_mm(_as_way(opening), battery) > layout.design.limits.fit.reach_mm:
            continue
        for along, across in (need, need[::-1]):
            changes = _grown(i, opening, along + SPARE_MM, across, layout.design.units)
            new = cut(layout, changes)
            if new is not None and _hand(new, name, battery).verdict == "pass":
                size = _size_text(new.design.fuselage.openings[i], layout.design.units)
                yield Remedy(f"make the {opening.name} {size}", settings(changes, layout.design.units))
                return


def _as_way(opening: Opening) -> Way:
    a, b = opening.from_station_mm, opening.to_station_mm
    return Way(opening.name, opening.face, a, b, opening.low_mm, opening.high_mm)
