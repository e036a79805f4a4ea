"""All flight charts of an aeroplane, each with its name and its words, and what could not be drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from airframe.balance.whole import Balances
from airframe.flight.power_figures import Guess
from airframe.flight.trains import NotStated, train_guess
from airframe.flight.trim import NoTrimError
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.schema.equipment import Battery
from airframe.units import System
from viewers import plot_files
from viewers.flight_charts.forces import forces
from viewers.flight_charts.glide import glide
from viewers.flight_charts.margins import margins
from viewers.flight_charts.motions import Motions, motions
from viewers.flight_charts.power import power
from viewers.flight_charts.responses import response
from viewers.flight_charts.spans import spans
from viewers.scene import Scene

if TYPE_CHECKING:
    from matplotlib.figure import Figure

RESPONSES = {
    "rudder": "what it does after a kick of the rudder",
    "stick": "what it does after a pull of the stick",
    "gust-below": "what it does after a gust from below",
    "gust-side": "what it does after a gust from the side",
}
"""In the order of the flight's responses."""
NAMES = ("forces", "margin", "span-loading", "glide", "power", "motions", *RESPONSES)
"""Of every chart that there may be."""


@dataclass(frozen=True, eq=False)
class Chart:
    """One chart."""

    name: str
    """Of its file, without an ending."""
    words: str
    """What it shows, for those who cannot see it."""
    figure: Figure

    @property
    def svg(self) -> str:
        """As one SVG element."""
        return plot_files.svg(self.figure, self.words)

    @property
    def png(self) -> bytes:
        """As PNG data."""
        return plot_files.png(self.figure)


@dataclass(frozen=True, eq=False)
class Charts:
    """What could be drawn, and in words what could not."""

    shown: tuple[Chart, ...]
    missing: tuple[str, ...]


def charts(aeroplane: Aeroplane, scene: Scene, found: Balances, old: Aeroplane | None = None) -> Charts:
    """Every chart that the design allows; with a prototype, its wing and its motions beside.

    `scene` and `found` are of the same aeroplane. Raises PartError.
    """
    shown, missing = [], []
    for name, words, draw in _drawings(aeroplane, scene, found, old):
        try:
            shown.append(Chart(name, words, draw()))
        except (NoTrimError, NotStated) as error:
            missing.append(f"{words}: not to be had, {error}")
    return Charts(tuple(shown), tuple(missing))


_Drawing = tuple[str, str, Callable[[], "Figure"]]


def _drawings(aeroplane: Aeroplane, scene: Scene, found: Balances, old: Aeroplane | None) -> Iterator[_Drawing]:
    flight, design = aeroplane.flight, aeroplane.design
    system = design.units
    before = _flying(old)
    names = (design.name, old.design.name if old is not None else "")
    yield "forces", "forces and moments in level flight at slow cruise", lambda: forces(flight, scene, system)
    yield "margin", "balance range against static margin", lambda: margins(flight, found, system)
    yield "span-loading", "lift along the span of wing and tail", lambda: spans(flight, system, before, names)
    yield "glide", "sink and drag over speed", lambda: glide(flight, system)
    yield "power", "thrust and power over speed", lambda: power(flight, guesses(aeroplane), system)
    yield "motions", "how motions die away or grow", lambda: _motions(flight, before, names)
    for place, name in enumerate(RESPONSES):
        yield name, RESPONSES[name], partial(_response, flight, place, system)


def guesses(aeroplane: Aeroplane) -> list[tuple[str, Guess]]:
    """The power train with each option of the first battery, the one in use first. Raises NotStated."""
    design = aeroplane.design
    batteries = [item for item in design.equipment.values() if isinstance(item, Battery) and item.fitted]
    options = list(batteries[0].options) if batteries else []
    if not options:
        return [("", train_guess(design))]
    options.sort(key=lambda option: option != batteries[0].use)
    return [(option, train_guess(design, option)) for option in options]


def _flying(old: Aeroplane | None) -> Flight | None:
    """The prototype's flight, if it flies level at all."""
    if old is None:
        return None
    try:
        _ = old.flight.cruise
    except NoTrimError:
        return None
    return old.flight


def _response(flight: Flight, place: int, system: System) -> Figure:
    return response(flight.responses[place], system)


def _motions(flight: Flight, before: Flight | None, names: tuple[str, str]) -> Figure:
    older = None if before is None else Motions(names[1], before.modes)
    return motions(Motions(names[0], flight.modes), older)
