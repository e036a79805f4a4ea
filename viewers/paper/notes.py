"""Pages of words and tables: cut lists, bend tables, shopping, and how it all goes together."""

from __future__ import annotations

from math import degrees

from airframe import units
from airframe.cutting.assembly import BEFORE, CAUTIONS
from airframe.cutting.lengths import exact
from airframe.cutting.papers import Paper
from airframe.cutting.plan import CuttingPlan
from airframe.cutting.wire_tables import WireTable
from viewers.paper.pdf import Book
from viewers.paper.writer import TITLE_MM, Writer


def notes(book: Book, plan: CuttingPlan, paper: Paper, system: units.System) -> None:
    """All pages of words."""
    writer = Writer(book, paper, "building notes")
    writer.new_page()
    writer.heading(f"{plan.name}: building notes", TITLE_MM)
    writer.heading("Before the first cut")
    for number, words in enumerate(BEFORE, 1):
        writer.paragraph(words, f"{number}")
    writer.heading("Beware")
    for lead, words in CAUTIONS:
        writer.paragraph(words, lead)
    _cut_list(writer, plan, system)
    _wires(writer, plan, system)
    _lengths(writer, plan, system)
    _shopping(writer, plan, system)
    _assembly(writer, plan, system)


def _cut_list(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    writer.heading("What is cut from sheet")
    numbers = plan.numbers()
    rows = []
    for sheet in plan.sheets:
        for pattern in sheet.patterns:
            size = " x ".join(units.length(side, system) for side in sorted(pattern.size, reverse=True))
            depth = exact(pattern.scores[0].depth_mm, system) if pattern.scores else ""
            number, alike = str(numbers[pattern.name]), str(pattern.alike)
            rows.append([number, pattern.name, pattern.material.name, size, depth, alike, str(sheet.number)])
    head = ["no.", "part", "material", "size", "scores deep", "alike", "sheet"]
    writer.table(head, rows, [0.06, 0.3, 0.23, 0.19, 0.1, 0.06, 0.06])
    used = [
        f"sheet {sheet.number} ({sheet.material.name}): {100.0 * sheet.used_share:.0f} % used" for sheet in plan.sheets
    ]
    writer.paragraph("; ".join(used) + ".")


def _wires(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    if not plan.wires:
        return
    writer.heading("How the wires are bent")
    writer.paragraph(
        "Mark the straight wire from its start as stated; each mark is where a bend begins. Turn: how far the "
        "plane of a bend is turned from that of the bend before, clockwise as you look along the wire away from "
        "its start. Radius: inside."
    )
    for wire in plan.wires:
        writer.heading(f"{wire.part.name}: {_section(wire, system)}, cut {exact(wire.cut_mm, system)}", 2.2)
        rows = [
            [
                str(number), exact(row.straight_mm, system), exact(row.mark_mm, system),
                f"{degrees(row.angle_rad):.1f}°", "" if number == 1 else f"{degrees(row.turn_rad):.1f}°",
                exact(wire.inside_radius_mm, system),
            ]
            for number, row in enumerate(wire.rows, 1)
        ]  # fmt: skip
        rows.append(["end", exact(wire.last_straight_mm, system), exact(wire.cut_mm, system), "", "", ""])
        writer.table(
            ["bend", "straight before", "mark at", "angle", "turn", "radius"], rows, [0.12, 0.22, 0.2, 0.16, 0.16, 0.14]
        )


def _section(wire: WireTable, system: units.System) -> str:
    return f"{wire.part.material.name}, {exact(wire.diameter_mm, system)}"


def _lengths(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    if not plan.lengths:
        return
    writer.heading("What is cut from which length")
    rows = [
        [
            f"{length.of}, {units.length(length.length_mm, system)}",
            "; ".join(f"{name} {exact(cut, system)}" for name, cut in length.cuts),
            exact(length.left_mm, system),
        ]
        for length in plan.lengths
    ]
    writer.table(["length", "cuts", "left"], rows, [0.34, 0.52, 0.14])


def _shopping(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    writer.heading("Shopping list")
    writer.paragraph("Masses are what ends up in the aeroplane, by the drawing; off-cuts are not counted.")
    for heading in dict.fromkeys(item.heading for item in plan.shopping):
        rows = [
            [item.what, item.quantity, units.mass(item.mass_g, system), item.note]
            for item in plan.shopping
            if item.heading == heading
        ]
        writer.table([heading, "quantity", "mass", ""], rows, [0.42, 0.13, 0.12, 0.33])


def _assembly(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    writer.heading("Order of assembly")
    for number, step in enumerate(plan.steps, 1):
        writer.heading(f"{number}  {step.title}", 2.4)
        writer.paragraph(step.text)
        rows = [[joint.name, joint.glue, units.length(joint.length_mm, system)] for joint in step.joints]
        writer.table(["joint", "glue", "length"], rows, [0.5, 0.32, 0.18])
