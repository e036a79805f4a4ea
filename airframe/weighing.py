"""Which parts lay on the scale: turns the names in a weighing log into entries of the weight statement."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from fnmatch import fnmatchcase

from airframe.drawing import Part, PartError
from airframe.schema.weighing import WHOLE, Weighed


@dataclass(frozen=True)
class Piece:
    """What lay on the scale together."""

    row: Weighed
    members: tuple[int, ...]
    """Places in the weight statement, ascending."""

    @property
    def is_whole(self) -> bool:
        """Whether it is the aeroplane, perhaps without an item or two: nobody weighs that part by part."""
        return self.row.what.lower() == WHOLE

    @property
    def name(self) -> str:
        """What it is called in text: "wing with glue, wing *, without rubber band*"."""
        more = f" with {', '.join(self.row.together_with)}" if self.row.together_with else ""
        less = f" without {', '.join(self.row.without)}" if self.row.without else ""
        return self.row.what + more + less

    @property
    def subject(self) -> str:
        """What an error about it is filed under."""
        return f"weighed '{self.name}'"


def pieces(rows: Iterable[Weighed], parts: Sequence[Part]) -> tuple[Piece, ...]:
    """The pieces that a weighing log speaks of.

    Raises PartError where a name is none of the aeroplane's, where nothing is left on the scale, and where
    the same piece is weighed twice.
    """
    result: list[Piece] = []
    for row in rows:
        members = named(f"weighed '{row.what}'", row.what, row.together_with, row.without, parts)
        piece = Piece(row, members)
        if any(piece.members == other.members for other in result):
            raise PartError(piece.subject, "is on the scale twice; keep the entry that counts")
        result.append(piece)
    return tuple(result)


def named(
    subject: str, what: str, together_with: Sequence[str], without: Sequence[str], parts: Sequence[Part]
) -> tuple[int, ...]:
    """Places in the weight statement of what is named; `subject` is whom an error is about.

    Raises PartError where a name is none of the aeroplane's, and where nothing is left.
    """
    found = set(range(len(parts))) if what.lower() == WHOLE else _matching(subject, what, parts)
    if WHOLE in (other.lower() for other in (*together_with, *without)):
        raise PartError(subject, f"'{WHOLE}' is everything there is: only `what` may be that")
    for other in together_with:
        found |= _matching(subject, other, parts)
    for other in without:
        absent = _matching(subject, other, parts)
        if not absent & found:
            raise PartError(subject, f"'{other}' is not part of it, so it cannot be without it")
        found -= absent
    if not found:
        raise PartError(subject, "nothing of it is left on the scale")
    return tuple(sorted(found))


def _matching(subject: str, name: str, parts: Sequence[Part]) -> set[int]:
    """The part of that name; else the group's parts; else, where the name has a *, all parts that fit it."""
    wanted = name.lower()
    for exact in ([part.name.lower() for part in parts], [part.group.lower() for part in parts]):
        if wanted in exact:
            return {index for index, one in enumerate(exact) if one == wanted}
    found = {index for index, part in enumerate(parts) if fnmatchcase(part.name.lower(), wanted)}
    if found:
        return found
    names = [*dict.fromkeys(part.group for part in parts), *(part.name for part in parts), WHOLE]
    near = get_close_matches(name, names, n=1, cutoff=0.4)
    hint = f"; did you mean '{near[0]}'?" if near else ""
    raise PartError(subject if name in subject else f"{subject}, '{name}'", f"no part or group has this name{hint}")
