"""Pages of words and tables: cut lists, bend tables, shopping, and how it all goes together."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees

from airframe import units
from airframe.cutting.assembly import BEFORE, CAUTIONS
from airframe.cutting.papers import Paper
from airframe.cutting.plan import CuttingPlan
from airframe.cutting.wire_tables import WireTable
from viewers.paper.pdf import BOLD, CAPITAL, FONT, Book, plain, text_window

BODY_MM, HEAD_MM, TITLE_MM = 2.0, 2.8, 4.5
PITCH = 2.0
"""From base line to base line, over the height of a capital."""


class Writer:
    """Words and tables, from the top of a page to its foot and on to the next."""

    def __init__(self, book: Book, paper: Paper, name: str) -> None:
        self._book, self._paper, self._name = book, paper, name
        self.left, self._bottom, self.right, self._top = text_window(paper)
        self.y = self._bottom

    def new_page(self) -> None:
        """Go on at the top of the next page."""
        self._book.page(self._paper, self._name)
        self.y = self._top

    def room(self, height_mm: float) -> None:
        """Make sure of so much height before the foot."""
        if self.y - height_mm < self._bottom:
            self.new_page()

    def heading(self, words: str, height_mm: float = HEAD_MM) -> None:
        """A heading; it is not left alone at the foot of a page."""
        self.room(8.0 * height_mm)
        self.y -= 2.2 * height_mm
        self._book.text(self.left, self.y, words, height_mm, bold=True)
        self.y -= 0.8 * height_mm

    def paragraph(self, words: str, lead: str = "") -> None:
        """Words broken into lines, after a lead in bold."""
        indent = _width(f"{lead}  ", BODY_MM, BOLD) if lead else 0.0
        rows = _broken(words, self.right - self.left - indent, BODY_MM)
        self.room(PITCH * BODY_MM * len(rows))
        if lead:
            self._book.text(self.left, self.y - PITCH * BODY_MM, lead, BODY_MM, bold=True)
        for row in rows:
            self.y -= PITCH * BODY_MM
            self._book.text(self.left + indent, self.y, row, BODY_MM)
        self.y -= 0.6 * BODY_MM

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]], shares: Sequence[float]) -> None:
        """A table whose columns have shares of the width."""
        whole = self.right - self.left
        starts = [self.left + whole * sum(shares[:k]) for k in range(len(shares))]
        self.room(4.0 * PITCH * BODY_MM)
        self._row(head, starts, shares, bold=True)
        self._book.line((self.left, self.y - 1.2), (self.right, self.y - 1.2))
        self.y -= 0.8
        for row in rows:
            self._row(row, starts, shares)
        self.y -= BODY_MM

    def _row(self, row: Sequence[str], starts: Sequence[float], shares: Sequence[float], bold: bool = False) -> None:
        whole = self.right - self.left
        cells = [_broken(cell, whole * share - 2.0, BODY_MM) for cell, share in zip(row, shares, strict=True)]
        deep = max(len(cell) for cell in cells)
        self.room(PITCH * BODY_MM * deep)
        for cell, start in zip(cells, starts, strict=True):
            for k, words in enumerate(cell):
                self._book.text(start, self.y - PITCH * BODY_MM * (k + 1), words, BODY_MM, bold=bold)
        self.y -= PITCH * BODY_MM * deep


def _width(words: str, height_mm: float, font: str = FONT) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(plain(words), font, height_mm / CAPITAL))


def _broken(words: str, width_mm: float, height_mm: float) -> list[str]:
    from reportlab.lib.utils import simpleSplit

    return list(simpleSplit(plain(words), FONT, height_mm / CAPITAL, width_mm)) or [""]


# --- what is written ----------------------------------------------------------------------------------------


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
            alike = str(pattern.alike)
            rows.append(
                [str(numbers[pattern.name]), pattern.name, pattern.material.name, size, alike, str(sheet.number)]
            )
    writer.table(["no.", "part", "material", "size", "alike", "sheet"], rows, [0.07, 0.34, 0.26, 0.18, 0.075, 0.075])
    used = [
        f"sheet {sheet.number} ({sheet.material.name}): {100.0 * sheet.used_share:.0f} % used" for sheet in plan.sheets
    ]
    writer.paragraph("; ".join(used) + ".")


def _wires(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    if not plan.wires:
        return
    writer.heading("How the wires are bent")
    writer.paragraph(
        "Mark the straight wire from its start as stated; each mark is where a bend begins. Turn: how far "
        "the plane of a bend "
        "is turned from that of the bend before, clockwise as you look along the wire away from its start. "
        "Radius: inside."
    )
    for wire in plan.wires:
        writer.heading(f"{wire.part.name}: {_section(wire, system)}, cut {_exact(wire.cut_mm, system)}", 2.2)
        rows = [
            [
                str(number), _exact(row.straight_mm, system), _exact(row.mark_mm, system),
                f"{degrees(row.angle_rad):.1f}°", "" if number == 1 else f"{degrees(row.turn_rad):.1f}°",
                _exact(wire.inside_radius_mm, system),
            ]
            for number, row in enumerate(wire.rows, 1)
        ]  # fmt: skip
        rows.append(["end", _exact(wire.last_straight_mm, system), _exact(wire.cut_mm, system), "", "", ""])
        writer.table(
            ["bend", "straight before", "mark at", "angle", "turn", "radius"], rows, [0.12, 0.22, 0.2, 0.16, 0.16, 0.14]
        )


def _section(wire: WireTable, system: units.System) -> str:
    return f"{wire.part.material.name}, {_exact(wire.diameter_mm, system)}"


def _exact(value_mm: float, system: units.System) -> str:
    """A length to a tenth of a millimetre, whatever its size."""
    return f"{value_mm:.1f} mm" if system == "metric" else f"{value_mm / units.MM_PER_INCH:.3f} in"


def _lengths(writer: Writer, plan: CuttingPlan, system: units.System) -> None:
    if not plan.lengths:
        return
    writer.heading("What is cut from which length")
    rows = [
        [
            f"{length.of}, {units.length(length.length_mm, system)}",
            "; ".join(f"{name} {_exact(cut, system)}" for name, cut in length.cuts),
            _exact(length.left_mm, system),
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
