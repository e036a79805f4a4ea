"""A made-up aeroplane of plain blocks, beads and bought lumps, for tests of what weighing teaches."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from airframe.axes import Array, at
from airframe.drawing import Block, Part, bead
from airframe.inertia import Body, box, polyline
from airframe.mass import Entry, statement
from airframe.materials import Material, board, line, sheet
from airframe.schema.certainty import Certainty
from airframe.schema.weighing import Weighed
from airframe.sure.unknowns import Unknowns
from airframe.weighing import Piece, pieces

FOAM = sheet("foam", "foam", 5.0, 440.0, "invented")
PLY = board("ply", "plywood", 3.0, 660.0, "invented")
GLUE = line("bead", "glue", 3.5, "invented")
CERTAINTY = Certainty()


def part(
    name: str, group: str, place: tuple[float, float, float], size: tuple[float, float, float]
) -> tuple[Part, Body]:
    """A foam block; its middle at the place."""
    return Part(name, group, Block(size), at(*place), FOAM), box(*size)


def of(material: Material, name: str, group: str, x: float, size: tuple[float, float, float]) -> tuple[Part, Body]:
    """A block of any material, on the centre plane."""
    return Part(name, group, Block(size), at(x), material), box(*size)


def glue(name: str, x: float, length: float) -> tuple[Part, Body]:
    """A straight bead across the aeroplane."""
    path = [(x, -length / 2.0, 0.0), (x, length / 2.0, 0.0)]
    return Part(name, "glue", bead(path), at(), GLUE), polyline(path)


def bought(name: str, mass_g: float, x: float, is_weighed: bool = False) -> tuple[Part, Body]:
    """A lump of stated mass."""
    size = (30.0, 20.0, 20.0)
    basis = "weighed" if is_weighed else "estimated"
    return Part(name, "payload", Block(size), at(x), PLY, mass_g, basis), box(*size)


def entries(*pairs: tuple[Part, Body]) -> tuple[Entry, ...]:
    """Entries as drawn."""
    return statement([one for one, _ in pairs], [body for _, body in pairs]).entries


def log(drawn: tuple[Entry, ...], *rows: dict[str, object]) -> tuple[Piece, ...]:
    """The pieces of a log written as in a config."""
    return pieces([Weighed.model_validate(row) for row in rows], [entry.part for entry in drawn])


def aeroplane() -> tuple[Entry, ...]:
    """Some 510 g of wing, tail, fuselage, glue and bought items, from station -20 to 800 mm."""
    pairs = [
        part(f"skin {i}", "wing", (250.0, y, 50.0), (210.0, 160.0, 5.0)) for i, y in enumerate((-240, -80, 80, 240))
    ]
    pairs += [part(f"rib {i}", "wing", (250.0, 90.0 * i - 360.0, 45.0), (200.0, 5.0, 9.0)) for i in range(9)]
    pairs += [part("stabiliser", "tail", (720.0, 0.0, 25.0), (120.0, 380.0, 5.0))]
    pairs += [part("fin", "tail", (740.0, 0.0, 90.0), (110.0, 5.0, 150.0))]
    pairs += [
        part(f"side {s}", "fuselage", (380.0, y, 0.0), (760.0, 5.0, 70.0)) for s, y in (("left", -30), ("right", 30))
    ]
    pairs += [part("floor", "fuselage", (380.0, 0.0, -35.0), (760.0, 55.0, 5.0))]
    pairs += [
        of(PLY, "firewall", "fuselage", 1.5, (3.0, 60.0, 70.0)),
        of(PLY, "plate", "fuselage", 150.0, (44.0, 60.0, 3.0)),
    ]
    pairs += [glue(f"glue, rib {i}", 250.0, 800.0) for i in range(9)]
    pairs += [glue("glue, tail", 700.0, 1200.0), glue("glue, sides", 350.0, 3000.0), glue("glue, nose", 20.0, 900.0)]
    pairs += [bought("battery", 118.0, 48.0, True), bought("motor", 46.0, -17.0, True)]
    pairs += [bought("controller", 21.0, 90.0), bought("camera", 96.0, 205.0), bought("servos", 18.0, 308.0)]
    return entries(*pairs)


def successor() -> tuple[Entry, ...]:
    """A redesign: other parts of the same foam, plywood and glue, the same bought items in other places."""
    pairs = [
        part(f"skin {i}", "wing", (270.0, y, 60.0), (220.0, 170.0, 5.0)) for i, y in enumerate((-250, -85, 85, 250))
    ]
    pairs += [part("stabiliser", "tail", (740.0, 0.0, 25.0), (120.0, 380.0, 5.0))]
    pairs += [
        part(f"side {s}", "fuselage", (390.0, y, 0.0), (780.0, 5.0, 90.0)) for s, y in (("left", -45), ("right", 45))
    ]
    pairs += [part("deck", "fuselage", (390.0, 0.0, 45.0), (780.0, 90.0, 5.0))]
    pairs += [of(PLY, "firewall", "fuselage", 1.5, (3.0, 90.0, 80.0))]
    pairs += [glue("glue, sides", 350.0, 5000.0), glue("glue, wing", 270.0, 6000.0)]
    pairs += [bought("battery", 118.0, 60.0, True), bought("motor", 46.0, -17.0, True)]
    pairs += [bought("controller", 21.0, 80.0), bought("camera", 96.0, 212.0), bought("servos", 18.0, 320.0)]
    return entries(*pairs)


ROWS: tuple[dict[str, object], ...] = (
    {"what": "rib *"},
    {"what": "skin 1"},
    {"what": "stabiliser", "together_with": ["fin"]},
    {"what": "side left"},
    {"what": "controller"},
    {"what": "wing", "together_with": ["glue, rib *"]},
    {"what": "whole", "without": ["battery"], "balances_at": ""},
)
"""What gets weighed of it: everything but its masses, which a draw gives."""


@dataclass(frozen=True, eq=False)
class Truth:
    """One aeroplane as it might really be."""

    errors: Array
    masses_g: Array
    stations_mm: Array

    @property
    def mass_g(self) -> float:
        """Of the whole."""
        return float(self.masses_g.sum())

    @property
    def station_mm(self) -> float:
        """Of the balance point."""
        return float(self.masses_g @ self.stations_mm / self.masses_g.sum())


def truth(drawn: tuple[Entry, ...], known: Unknowns, rng: np.random.Generator) -> Truth:
    """An aeroplane drawn at random: as the drawing, with errors as wide as `known` says."""
    errors = (
        rng.multivariate_normal(known.mean, known.covariance, method="cholesky")
        if known.mean.any()
        else (rng.standard_normal(len(known.mean)) * np.sqrt(np.diag(known.covariance)))
    )
    stations = np.array([entry.body.centre[0] for entry in drawn])
    moved = stations + rng.standard_normal(len(drawn)) * np.sqrt(known.place_variance_mm2)
    return Truth(errors, known.nominal_g + known.gains @ errors, moved)


def weighed(drawn: tuple[Entry, ...], known: Unknowns, true: Truth, rng: np.random.Generator) -> tuple[Piece, ...]:
    """That aeroplane put on a scale of 1 g steps piece by piece, as in ROWS, and balanced on a finger."""
    rows = []
    for row in ROWS:
        shape = {key: value for key, value in row.items() if key != "balances_at"}
        members = list(log(drawn, {**shape, "mass": "1 g"})[0].members)
        masses = true.masses_g[members]
        shown = round(float(masses.sum() * (1.0 - true.errors[known.scale_index])))
        full = {**shape, "mass": f"{shown} g"}
        if "balances_at" in row:
            at_mm = float(masses @ true.stations_mm[members] / masses.sum())
            full["balances_at"] = f"{at_mm + rng.normal(0.0, CERTAINTY.balance_reading_mm):.2f} mm"
        rows.append(full)
    return log(drawn, *rows)
