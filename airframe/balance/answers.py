"""The answer to one case: where its battery may sit, and what to do where that is nowhere."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from airframe.axes import Array, Point
from airframe.balance.cases import Case
from airframe.balance.intervals import Interval, Intervals, common, nearest, outside
from airframe.balance.lever import Loads, loads, placed, stations_for
from airframe.balance.mending import Ballast, ItemMove, Lacking, ballast, moves
from airframe.balance.space import Obstacle, Surroundings, Tray, free, tray
from airframe.balance.target import Target
from airframe.inertia import combined
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery

Overturn = Callable[[Array], float]
"""The overturn angle (rad) with the balance point (3,) somewhere, gear and all else as they are."""


@dataclass(frozen=True)
class State:
    """The whole aeroplane with the battery at one station."""

    station_mm: float
    """Of the battery's middle."""
    mass_g: float
    cg_mm: Point
    pitch_g_mm2: float
    """Moment of inertia about the pitch axis through the balance point."""
    overturn_rad: float | None
    """None without landing gear."""


@dataclass(frozen=True, eq=False)
class Answer:
    """What there is to know of one case."""

    case: Case
    target: Target
    tray: Tray
    reach_mm: Interval
    """Stations of the battery's middle between the tray's ends; turned inside out if it is longer than the tray."""
    met: tuple[Obstacle, ...]
    """What stands in its way within the reach; of one longer than its tray, in its way with its front end on it."""
    usable: Intervals
    """Stations in the real space."""
    wanted: Interval
    """Stations that keep the balance point in range, if there were room for them."""
    in_range: Intervals
    """Stations in the real space that do."""
    now: State
    """With the battery where the design has it."""
    ends: tuple[State, ...]
    """At the foremost and rearmost of the stations in range; of all usable ones if none is in range."""
    best: State | None
    """Nearest to the middle of the range among the usable stations; None if there is none."""
    ballast: Ballast | None = None
    """What would do with the battery at its best, where no station is in range."""
    after: State | None = None
    """Balance with that ballast aboard."""
    moves: tuple[ItemMove, ...] = ()
    """Other items, any one of which would do, with the battery at its best."""

    @property
    def missed_mm(self) -> float:
        """How far the balance point is out of range at best: aft positive, forward negative, 0 in range."""
        return 0.0 if self.best is None else outside(self.best.cg_mm[0], self.target.window_mm)

    @property
    def is_well_now(self) -> bool:
        """Whether the battery sits, as the design has it, at a station that is in range and free."""
        return any(low <= self.now.station_mm <= high for low, high in self.in_range)


def answer(aeroplane: Aeroplane, around: Surroundings, case: Case, target: Target, overturn: Overturn | None) -> Answer:
    """All there is to know of one case."""
    battery = aeroplane.design.equipment[case.battery]
    assert isinstance(battery, Battery)
    load = loads([case.rest], [case.body])
    rails = tray(aeroplane.layout, battery.station_mm, battery.water_line_mm, battery.tray_from_mm, battery.tray_to_mm)
    reach = rails.reach_mm(case.size[0])
    way = reach if reach[0] <= reach[1] else (reach[0], reach[0])
    met = around.obstacles(case.size, _point(case.body.centre), way, case.absent)
    usable = free(reach, met)
    low, high = (float(x) for x in stations_for(load, target.window_mm)[0])
    in_range = common(usable, (low, high))
    best = nearest(in_range or usable, float(stations_for(load, [target.middle_mm])[0, 0]))
    kept = in_range or usable
    ends = [kept[0][0], kept[-1][1]] if kept else []
    now, *rest = _states(load, [battery.station_mm, *ends, *([] if best is None else [best])], overturn)
    found = Answer(
        case=case,
        target=target,
        tray=rails,
        reach_mm=reach,
        met=met,
        usable=usable,
        wanted=(low, high),
        in_range=in_range,
        now=now,
        ends=tuple(rest[:2]),
        best=rest[-1] if rest else None,
    )
    return found if in_range or found.best is None else _mended(aeroplane, around, found, found.best, overturn)


def _mended(
    aeroplane: Aeroplane, around: Surroundings, found: Answer, best: State, overturn: Overturn | None
) -> Answer:
    case, half = found.case, np.array(found.case.size) / 2.0
    middle = np.array([best.station_mm, case.body.centre[1], case.body.centre[2]])
    box = np.concatenate([middle - half, middle + half])
    lacking = Lacking(best.mass_g, best.cg_mm[0], box, case.absent, found.target)
    bar, others = ballast(around, lacking), moves(around, lacking, aeroplane.statement)
    if bar is None:
        return replace(found, moves=others)
    load = loads([combined([case.rest, bar.body])], [case.body])
    return replace(found, moves=others, ballast=bar, after=_states(load, [best.station_mm], overturn)[0])


def _states(load: Loads, stations: list[float], overturn: Overturn | None) -> tuple[State, ...]:
    found = placed(load, stations)
    return tuple(
        State(x, float(found.mass_g[0, 0]), _point(cg), float(pitch), None if overturn is None else overturn(cg))
        for x, cg, pitch in zip(stations, found.cg_mm[0], found.pitch_g_mm2[0], strict=True)
    )


def _point(values: Array) -> Point:
    x, y, z = (float(v) for v in values)
    return x, y, z
