"""Where the aeroplane should balance, and what may be left at home."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from airframe import units
from airframe.schema.base import Length, Table, default

MOST_OPTIONAL = 6
"""Items that may be in or out: 2^6 = 64 combinations of each battery."""
_WAYS = (
    'a share of the mean chord, e.g. "25 %", a distance behind the leading edge, e.g. "60 mm", '
    'or the static margin it should leave, e.g. "10 % margin"'
)
_MARGIN = re.compile(r"(.*(?:%|percent))\s*margin", re.IGNORECASE)


@dataclass(frozen=True)
class OnChord:
    """A place along the wing's chord, stated in one of three ways; the others are None."""

    share: float | None = None
    """Of the mean aerodynamic chord, from its leading edge."""
    behind_mm: float | None = None
    """Behind the wing's leading edge on the centre plane."""
    margin: float | None = None
    """Ahead of the neutral point, in mean aerodynamic chords: the static margin of the flight estimates."""


def _on_chord(value: object) -> object:
    if isinstance(value, OnChord):
        return value
    if not isinstance(value, str):
        raise ValueError(f"needs {_WAYS}")
    if stated := _MARGIN.fullmatch(value.strip()):
        return OnChord(margin=units.parse(stated[1], units.FRACTION))
    if value.rstrip().lower().endswith(("%", "percent")):
        return OnChord(share=units.parse(value, units.FRACTION))
    try:
        return OnChord(behind_mm=units.parse(value, units.LENGTH))
    except units.UnitError as error:
        raise ValueError(f"{error}; or write {_WAYS}") from None


_SCHEMA: dict[str, Any] = {
    "type": "string",
    "pattern": f"{units.pattern(units.FRACTION)}|{units.pattern(units.LENGTH)}|%\\s*margin\\s*$",
    "description": f"{_WAYS[:1].upper()}{_WAYS[1:]}",
    "examples": ["25 %"],
}

ChordPlace = Annotated[OnChord, BeforeValidator(_on_chord), WithJsonSchema(_SCHEMA)]


class Balance(Table):
    """The range that the balance point should lie in, with every battery and whatever else is taken along."""

    forward: ChordPlace = default("25 %")
    """The foremost place; our choice for a slow flyer with a tail of usual size (common practice, no source)."""
    aft: ChordPlace = default("35 %")
    """The rearmost place; our choice, as above. Further aft it is twitchy, then unstable."""
    sideways_mm: Length = default("3 mm")
    """How far to one side is allowed; our choice: half a percent of a half-span of 600 mm."""
    optional: tuple[str, ...] = Field(default=(), max_length=MOST_OPTIONAL)
    """Names of equipment that is taken along on some flights and not on others, such as a camera."""

    @model_validator(mode="after")
    def _forward_ahead_of_aft(self) -> Self:
        pairs = (
            (self.forward.share, self.aft.share),
            (self.forward.behind_mm, self.aft.behind_mm),
            # The greater margin lies further forward.
            (self.aft.margin, self.forward.margin),
        )
        if any(a is not None and b is not None and a >= b for a, b in pairs):
            raise ValueError("'forward' must lie ahead of 'aft'")
        return self
