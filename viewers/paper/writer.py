"""Words and tables laid out over pages."""

from __future__ import annotations

from collections.abc import Sequence

from airframe.cutting.papers import Paper
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
        """A table whose columns have shares of the width; its head stands again on every page it goes on to."""
        whole = self.right - self.left
        starts = [self.left + whole * sum(shares[:k]) for k in range(len(shares))]
        widths = [whole * share - 2.0 for share in shares]
        self.room(4.0 * PITCH * BODY_MM)
        self._head(head, starts, widths)
        for row in rows:
            cells = _cells(row, widths)
            if self.y - _deep(cells) < self._bottom:
                self.new_page()
                self._head(head, starts, widths)
            self._row(cells, starts)
        self.y -= BODY_MM

    def _head(self, head: Sequence[str], starts: Sequence[float], widths: Sequence[float]) -> None:
        self._row(_cells(head, widths), starts, bold=True)
        self._book.line((self.left, self.y - 1.2), (self.right, self.y - 1.2))
        self.y -= 0.8

    def _row(self, cells: Sequence[Sequence[str]], starts: Sequence[float], bold: bool = False) -> None:
        for cell, start in zip(cells, starts, strict=True):
            for k, words in enumerate(cell):
                self._book.text(start, self.y - PITCH * BODY_MM * (k + 1), words, BODY_MM, bold=bold)
        self.y -= _deep(cells)


def _cells(row: Sequence[str], widths_mm: Sequence[float]) -> list[list[str]]:
    return [_broken(cell, width, BODY_MM) for cell, width in zip(row, widths_mm, strict=True)]


def _deep(cells: Sequence[Sequence[str]]) -> float:
    return PITCH * BODY_MM * max(len(cell) for cell in cells)


def _width(words: str, height_mm: float, font: str = FONT) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(plain(words), font, height_mm / CAPITAL))


def _broken(words: str, width_mm: float, height_mm: float) -> list[str]:
    from reportlab.lib.utils import simpleSplit

    return list(simpleSplit(plain(words), FONT, height_mm / CAPITAL, width_mm)) or [""]
