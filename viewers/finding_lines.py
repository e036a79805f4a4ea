"""Findings set in plain type for a terminal: the verdict in the margin, the words beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from textwrap import wrap

from airframe.checks.finding import Verdict
from viewers.finding_tables import Card

WIDTH = 100
MARGIN = 9
"""Characters kept for the verdict's word."""

Mark = Callable[[str, Verdict], str]
"""Makes a verdict's word stand out, in colour or not."""
Bold = Callable[[str], str]


def findings_text(cards: Sequence[Card], mark: Mark, bold: Bold, every: bool = False, width: int = WIDTH) -> str:
    """Every finding with its message; remedies and source of those that ask for attention.

    Passed checks and notes are one line each; with `every` they too have their message and their source.
    """
    blocks = [_full(card, mark, bold, width) if every or _asks(card) else _short(card, mark) for card in cards]
    # A blank line parts the long ones from each other, and from the list of short ones.
    lines: list[str] = []
    for block, before in zip(blocks, [[], *blocks], strict=False):
        if before and (len(block) > 1 or len(before) > 1):
            lines.append("")
        lines += block
    return "\n".join(lines)


def _asks(card: Card) -> bool:
    return card.verdict in ("fail", "caution")


def _short(card: Card, mark: Mark) -> list[str]:
    figures = ", ".join(text for text in (card.value, card.limit) if text)
    return [_beside(card, mark) + (f"{card.code}: {figures}" if figures else f"{card.code}: {card.message}")]


def _full(card: Card, mark: Mark, bold: Bold, width: int) -> list[str]:
    figures = ", ".join(text for text in (card.value, card.limit) if text)
    lines = [_beside(card, mark) + bold(card.code) + (f"  {figures}" if figures else "")]
    lines += _indented(card.message, width, MARGIN)
    for number, (text, settings) in enumerate(card.remedies):
        lines += _indented(("remedy: " if number == 0 else "or: ") + text, width, MARGIN)
        lines += [" " * (MARGIN + 4) + setting for setting in settings]
    return lines + _indented(f"source: {card.source}", width, MARGIN)


def _beside(card: Card, mark: Mark) -> str:
    return mark(card.word, card.verdict) + " " * (MARGIN - len(card.word))


def _indented(text: str, width: int, indent: int) -> list[str]:
    return [" " * indent + line for line in wrap(text, width - indent, break_long_words=False)]
