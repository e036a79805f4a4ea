"""The weight statement as tables: what is in each cell, before anyone decides how to print it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from airframe import units
from airframe.drawing import Basis
from airframe.inertia import Body
from airframe.mass import Entry
from airframe.materials import Material
from airframe.units import System
from viewers.tables import Column, Headline, Row, Table, inertia_number, length_number, mass_number, weight_text

if TYPE_CHECKING:
    from airframe.model import Aeroplane

BASES: tuple[Basis, ...] = ("weighed", "calculated", "estimated")


def headlines(aeroplane: Aeroplane) -> tuple[Headline, ...]:
    """Mass, balance point, track, wing: the figures that come first."""
    system = aeroplane.design.units
    whole = aeroplane.statement.whole
    chord = aeroplane.layout.mean_chord
    behind = aeroplane.cg_behind_leading_edge_mm
    side = "behind" if behind >= 0.0 else "ahead of"
    share = f"{100.0 * aeroplane.cg_share_of_mean_chord:.1f} % of the mean chord"
    loading = units.wing_loading(aeroplane.wing_loading_g_dm2 * units.KG_M2_PER_G_DM2, system, decimals=1)
    found = [
        Headline("mass", units.mass(whole.mass, system), f"{len(aeroplane.parts)} entries"),
        Headline("balance", units.length(abs(behind), system), f"{side} the leading edge, {share}"),
        Headline("wing loading", loading, f"area {units.area(chord.area_mm2, system)}"),
        Headline("span", units.length(chord.span_mm, system), f"mean chord {units.length(chord.length_mm, system)}"),
    ]
    track = track_mm(aeroplane)
    if track is not None:
        found.append(Headline("track", units.length(track, system), "between the main wheels' contact points"))
    return tuple(found)


def track_mm(aeroplane: Aeroplane) -> float | None:
    """Distance between the main wheels' contact points, or None without them."""
    sides = [y for _, y, _ in aeroplane.contacts.values() if y != 0.0]
    return max(sides) - min(sides) if len(sides) > 1 else None


def balance_point(aeroplane: Aeroplane) -> str:
    """Station, butt line and water line of the balance point in words."""
    names = ("station", "butt line", "water line")
    system = aeroplane.design.units
    return ", ".join(f"{n} {units.length(v, system)}" for n, v in zip(names, aeroplane.cg_mm, strict=True))


def group_table(aeroplane: Aeroplane) -> Table:
    """One line a group, and the whole."""
    system = aeroplane.design.units
    statement = aeroplane.statement
    counts: dict[str, int] = {}
    for entry in statement.entries:
        counts[entry.part.group] = counts.get(entry.part.group, 0) + 1
    total = statement.whole.mass
    rows = [
        Row((name, str(counts[name]), *_mass_cells(body, total, system), *_centre_cells(body, system)))
        for name, body in statement.groups.items()
    ]
    whole = (str(len(statement.entries)), *_mass_cells(statement.whole, total, system))
    rows.append(Row(("whole aeroplane", *whole, *_centre_cells(statement.whole, system)), "total"))
    columns = (Column("group"), Column("entries", "right"), _mass_column(system), Column("share %", "right"))
    return Table("weight by group", (*columns, *_centre_columns(system)), tuple(rows))


def group_masses(aeroplane: Aeroplane) -> dict[str, str]:
    """The mass of each group in words."""
    system = aeroplane.design.units
    return {name: units.mass(body.mass, system) for name, body in aeroplane.statement.groups.items()}


def parts_table(aeroplane: Aeroplane) -> Table:
    """Every entry, under its group with the group's total."""
    system = aeroplane.design.units
    statement = aeroplane.statement
    rows: list[Row] = []
    for group, body in statement.groups.items():
        rows.append(Row((group, "", "", mass_number(body.mass, system), *_centre_cells(body, system)), "group"))
        rows += [_part_row(entry, system) for entry in statement.entries if entry.part.group == group]
    whole = statement.whole
    centre = _centre_cells(whole, system)
    rows.append(Row(("whole aeroplane", "", "", mass_number(whole.mass, system), *centre), "total"))
    columns = (Column("part"), Column("material"), Column("basis"), _mass_column(system), *_centre_columns(system))
    return Table("weight statement", columns, tuple(rows))


def _part_row(entry: Entry, system: System) -> Row:
    part = entry.part
    mass = mass_number(entry.mass_g, system)
    return Row((part.name, part.material.name, entry.basis, mass, *_centre_cells(entry.body, system)))


def inertia_table(aeroplane: Aeroplane) -> Table:
    """Moments of inertia and radii of gyration about the balance point, axes along the frame."""
    system = aeroplane.design.units
    tensor = aeroplane.statement.whole.inertia
    radii = aeroplane.statement.radii_of_gyration_mm()
    names = ("roll, about station", "pitch, about butt line", "yaw, about water line")
    rows = [
        Row((name, inertia_number(float(tensor[i, i]), system), length_number(radii[i], system)))
        for i, name in enumerate(names)
    ]
    unit, length = ("oz in²", "in") if system == "imperial" else ("g m²", "mm")
    columns = (
        Column("axis"),
        Column(f"moment of inertia {unit}", "right"),
        Column(f"radius of gyration {length}", "right"),
    )
    return Table("inertia about the balance point", columns, tuple(rows))


def tensor_table(aeroplane: Aeroplane) -> Table:
    """The whole inertia tensor about the balance point, and its principal moments."""
    system = aeroplane.design.units
    statement = aeroplane.statement
    moments, _ = statement.principal_inertia()
    rows = [
        Row((name, *(inertia_number(float(value), system) for value in line)))
        for name, line in zip(("station", "butt line", "water line"), statement.whole.inertia, strict=True)
    ]
    rows.append(Row(("principal moments", *(inertia_number(float(value), system) for value in moments)), "total"))
    unit = "oz in²" if system == "imperial" else "g m²"
    columns = tuple(Column(name, "right") for name in ("station", "butt line", "water line"))
    return Table(f"inertia tensor, {unit}", (Column("axis"), *columns), tuple(rows))


def materials_table(aeroplane: Aeroplane) -> Table:
    """The materials whose weights count, what there is of each, and where its number is from."""
    system = aeroplane.design.units
    used: dict[Material, float] = {}
    for entry in aeroplane.statement.entries:
        if entry.part.mass_g is None:
            material = entry.part.material
            used[material] = used.get(material, 0.0) + entry.mass_g
    heaviest = sorted(used.items(), key=lambda item: (-item[1], item[0].name))
    rows = [Row((m.name, weight_text(m, system), mass_number(g, system), m.source)) for m, g in heaviest]
    columns = (Column("material"), Column("weighs", "right"), _mass_column(system), Column("source"))
    return Table("materials", columns, tuple(rows))


def notes(aeroplane: Aeroplane) -> tuple[str, ...]:
    """How far the figures may be trusted: what was weighed, what the drawings give, what is a guess."""
    system = aeroplane.design.units
    total = aeroplane.statement.whole.mass
    meaning = {
        "weighed": "on a kitchen scale",
        "calculated": "from the drawing and the material's weight",
        "estimated": "stated without weighing: put these on the scale first",
    }
    lines = []
    for basis in BASES:
        masses = [entry.mass_g for entry in aeroplane.statement.entries if entry.basis == basis]
        if masses:
            share = 100.0 * sum(masses) / total if total else 0.0
            lines.append(f"{basis}: {units.mass(sum(masses), system)} ({share:.0f} %), {meaning[basis]}")
    return tuple(lines)


def _mass_column(system: System) -> Column:
    return Column("mass oz" if system == "imperial" else "mass g", "right")


def _centre_columns(system: System) -> tuple[Column, ...]:
    unit = "in" if system == "imperial" else "mm"
    return tuple(Column(f"{name} {unit}", "right") for name in ("station", "butt", "water"))


def _mass_cells(body: Body, total: float, system: System) -> tuple[str, str]:
    return mass_number(body.mass, system), f"{100.0 * body.mass / total if total else 0.0:.1f}"


def _centre_cells(body: Body, system: System) -> tuple[str, ...]:
    return tuple(length_number(float(value), system) for value in body.centre)
