"""Variants kept under a name, to be set side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from viewers.bench.edits import Edits
from viewers.bench.numbers import Figure
from viewers.bench.refusals import NotFound, Refused

AS_FILED = "as filed"
"""What the design in the file is called among them."""
MOST_KEPT = 12
LONGEST_NAME = 40
"""Letters of a name: more do not fit over a column."""


@dataclass(frozen=True)
class Named:
    """One variant."""

    edits: Edits
    figures: tuple[Figure, ...]


@dataclass
class Variants:
    """What is kept, in the order it was first kept."""

    kept: dict[str, Named] = field(default_factory=dict)

    def keep(self, name: str, edits: Edits, figures: Iterable[Figure]) -> None:
        """Keep edits under a name, in place of what was there. Raises Refused for a name that will not do."""
        name = " ".join(name.split())
        if not name or len(name) > LONGEST_NAME or not name.isprintable() or name == AS_FILED:
            message = f"a variant needs a name of its own, of up to {LONGEST_NAME} letters"
            raise Refused(message)
        if name not in self.kept and len(self.kept) >= MOST_KEPT:
            message = f"{MOST_KEPT} variants are kept already: forget one first"
            raise Refused(message)
        self.kept[name] = Named(edits, tuple(figures))

    def edits(self, name: str) -> Edits:
        """Of a variant; none of the design as filed. Raises NotFound."""
        return () if name == AS_FILED else self._known(name).edits

    def forget(self, name: str) -> None:
        """Drop one. Raises NotFound."""
        self._known(name)
        del self.kept[name]

    def mapped(self, change: Callable[[Edits], Edits]) -> Variants:
        """The same variants, with every set of edits put another way."""
        return Variants({name: replace(kept, edits=change(kept.edits)) for name, kept in self.kept.items()})

    def _known(self, name: str) -> Named:
        if name not in self.kept:
            message = f"no variant is called '{name[:LONGEST_NAME]}'"
            raise NotFound(message)
        return self.kept[name]
