"""Turns what pydantic and the schema find wrong into words for a builder."""

from __future__ import annotations

import datetime
import json
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from airframe.config.keylines import Path
from airframe.config.problems import Problem, dotted, listed, meant
from airframe.config.written import Place, Written
from airframe.materials import MATERIALS
from airframe.schema.base import Table
from airframe.schema.walk import ROOT, Spot, fields, materials_named
from airframe.units import written_in

FEW_KEYS = 14
"""A table with no more keys than this has them all listed when one is wrong."""
MANY_NAMES = 8
"""Of materials, no more than this are listed where none is near."""
FILE_KEYS = ("based_on",)
"""Keys at the top of a file that are gone before the design is validated."""
_BOUNDS = ("greater_than", "greater_than_equal", "less_than", "less_than_equal")


@dataclass(frozen=True)
class _Found:
    """One error of pydantic's, with the place of the schema it is about."""

    error: ErrorDetails
    path: Path
    spot: Spot
    """What may stand at the path; what holds it if the key is unknown."""
    holder: Spot
    """What holds the path."""
    choice: tuple[dict[str, type[Table]], str] | None
    """Where the table that holds the path was chosen by its `kind`: all the choices and the one made."""

    @property
    def given(self) -> Any:
        """The value to show: none for a whole table, the kind where that is what is wrong."""
        if self.error["type"] == "union_tag_invalid":
            return self.error["ctx"]["tag"]
        return None if isinstance(self.error["input"], dict) else self.error["input"]


def problems_in(error: ValidationError, written: Written, name: str, root: Spot = ROOT) -> Iterator[Problem]:
    """All that pydantic found in the tables, each in our words and at its place; `name` names the whole.

    `root` is what the tables were read as: a whole config, or another table.
    """
    yield from _stated_anew(error, written, name)
    for details in error.errors(include_url=False):
        if details["type"] == "too_short" and len(details["input"]) >= details["ctx"]["min_length"]:
            continue  # long enough as written: rows that have a problem of their own were not counted
        found = _found(details, root)
        if details["type"] in _BOUNDS:
            # A bound is checked on what was read; the person is shown what was written.
            with suppress(LookupError):
                details["input"] = written.value(found.path)
        path, message = _WORDINGS.get(details["type"], _fallback)(found)
        place = written.place(path) or Place(name, None)
        yield Problem(*place, dotted(path), found.given, message)


def _stated_anew(error: ValidationError, written: Written, name: str) -> Iterator[Problem]:
    """What an item lacks because a redesign gives it another kind, which keeps nothing of the old one."""
    lacking: dict[Path, list[str]] = {}
    for details in error.errors(include_url=False):
        item = details["loc"][:2]
        if details["type"] == "missing" and item in written.anew:
            lacking.setdefault(item, []).append(dotted((details["loc"][-1],)))
    for item, keys in lacking.items():
        message = f"changes its kind, so nothing of the old item is kept: state {', '.join(keys)} again"
        yield Problem(*(written.place(item) or Place(name, None)), dotted(item), None, message)


def material_problems(written: Written, name: str) -> Iterator[Problem]:
    """Names of materials that are in neither table, or are of the wrong kind."""
    own = written.data.get("materials")
    kinds = {key: material.kind for key, material in MATERIALS.items()} | (_own_kinds(own) if own else {})
    for path, material, wanted in materials_named(written.data):
        kind = kinds.get(material)
        if kind in (wanted, "unknown"):
            continue
        fitting = [key for key, one in kinds.items() if one == wanted]
        wrong = f"there is no such material; a {wanted} is needed"
        if kind is not None:
            wrong = f"this is a {kind}; a material of kind {wanted} is needed"
        place = written.place(path) or Place(name, None)
        yield Problem(*place, dotted(path), material, wrong + (meant(material, fitting) or _some(fitting)))


def _some(names: list[str]) -> str:
    return f" ({', '.join(names[:MANY_NAMES])}{', ...' if len(names) > MANY_NAMES else ''})"


def _own_kinds(own: Any) -> dict[str, str]:
    """The kinds of a design's own materials; "unknown" where the material itself has a problem."""
    if not isinstance(own, dict):
        return {}
    kinds = {key: row.get("kind") if isinstance(row, dict) else None for key, row in own.items()}
    return {key: kind if kind in ("sheet", "solid", "line", "film") else "unknown" for key, kind in kinds.items()}


def _found(details: ErrorDetails, root: Spot) -> _Found:
    spot, holder, choice = root, root, None
    path: Path = ()
    for step in details["loc"]:
        variants = spot.variants
        if variants:
            spot, choice = Spot(variants[str(step)]), (variants, str(step))
            continue
        path = (*path, step)
        holder, spot = spot, spot.inside(step) or spot
        choice = choice if details["type"] == "extra_forbidden" else None
    return _Found(details, path, spot, holder, choice)


# --- one function for each way to be wrong; each gives the path to blame and the message --------------------


def _missing(found: _Found) -> tuple[Path, str]:
    if isinstance(found.path[-1], int):
        return found.path[:-1], f"has too few values{_means(found.holder)}; e.g. {found.holder.example()}"
    key, example = dotted(found.path[-1:]), found.spot.example()
    is_in_row = any(isinstance(step, int) for step in found.path)
    shape = f"{key} = {example or '{ ... }'}" if example or is_in_row else f"[{dotted(found.path)}]"
    return found.path, f"is missing{_means(found.spot)}; e.g. {shape}"


def _means(spot: Spot) -> str:
    """A colon and the description of the spot, to go on a sentence; empty if it has none."""
    words = spot.description.rstrip(".")
    return f": {words[:1].lower()}{words[1:]}" if words else ""


def _unknown_key(found: _Found) -> tuple[Path, str]:
    key, table = str(found.path[-1]), found.spot.table
    names = list(fields(table)) if table is not None else []
    if found.spot is ROOT:
        names = [*FILE_KEYS, *names]
    if found.choice is not None:
        elsewhere = [kind for kind, other in found.choice[0].items() if key in fields(other)]
        if elsewhere:
            return found.path, f"no such key in a {found.choice[1]}; kind = {listed(elsewhere)} has it"
    hint = meant(key, names)
    if not hint or len(names) <= FEW_KEYS:
        hint += f" (keys here: {', '.join(names)})"
    return found.path, f"no such key{hint}"


def _wrong_word(found: _Found) -> tuple[Path, str]:
    words, given = found.spot.words, found.error["input"]
    near = meant(given, words) if isinstance(given, str) and len(words) > 1 else ""
    return found.path, f"must be {listed(str(word) for word in words)}{near}"


def _wrong_kind(found: _Found) -> tuple[Path, str]:
    given, kinds = str(found.error["ctx"]["tag"]), list(found.spot.variants)
    return (*found.path, "kind"), f"there is no such kind of item; must be {listed(kinds)}{meant(given, kinds)}"


def _limit(words: str, key: str) -> Callable[[_Found], tuple[Path, str]]:
    def wording(found: _Found) -> tuple[Path, str]:
        limit, unit = found.error["ctx"][key], ""
        if isinstance(found.error["input"], str) and limit:
            typed = written_in(found.error["input"])
            unit = typed[1] if typed is not None else ""
            limit /= typed[0].factors[unit] if typed is not None else 1.0
        return found.path, f"must be {words} {limit:.6g} {unit}".rstrip()

    return wording


def _rows(found: _Found) -> tuple[Path, str]:
    context = found.error["ctx"]
    if found.error["type"] == "too_short":
        least = context["min_length"]
        return found.path, f"needs at least {least} row{'s' if least > 1 else ''}"
    return found.path, f"must have {context['max_length']} values, not {context['actual_length']}"


def _value_error(found: _Found) -> tuple[Path, str]:
    return found.path, str(found.error["ctx"]["error"])


def _text(found: _Found) -> tuple[Path, str]:
    given = found.error["input"]
    plain = given.isoformat() if isinstance(given, (datetime.date, datetime.time)) else str(given)
    is_simple = isinstance(given, (int, float, datetime.date, datetime.time)) and len(plain) < 40
    return found.path, "must be text in quotes" + (f", e.g. {json.dumps(plain)}" if is_simple else "")


def _list(found: _Found) -> tuple[Path, str]:
    example = found.spot.example()
    return found.path, "must be a list" + (f", e.g. {example}" if "{" not in example else ", [ ... ]")


def _table(found: _Found) -> tuple[Path, str]:
    table = found.spot.table
    some = [key for key in fields(table) if key != "kind"][:3] if table is not None else []
    return found.path, "must be a table" + (f" with keys such as {', '.join(some)}" if some else "")


def _says(words: str) -> Callable[[_Found], tuple[Path, str]]:
    return lambda found: (found.path, words)


def _fallback(found: _Found) -> tuple[Path, str]:
    message = found.error["msg"].replace("Input should be", "must be")
    return found.path, message[:1].lower() + message[1:]


_TRUTH = _says("must be true or false, without quotes")
_WHOLE = _says("must be a whole number, without quotes")
_NUMBER = _says("must be a number, without quotes")
_WORDINGS: dict[str, Callable[[_Found], tuple[Path, str]]] = {
    "missing": _missing,
    "extra_forbidden": _unknown_key,
    "literal_error": _wrong_word,
    "union_tag_invalid": _wrong_kind,
    "greater_than": _limit("more than", "gt"),
    "greater_than_equal": _limit("at least", "ge"),
    "less_than": _limit("less than", "lt"),
    "less_than_equal": _limit("at most", "le"),
    "too_short": _rows,
    "too_long": _rows,
    "value_error": _value_error,
    "string_type": _text,
    "string_too_short": _says("must not be empty"),
    "bool_type": _TRUTH,
    "bool_parsing": _TRUTH,
    "int_type": _WHOLE,
    "int_parsing": _WHOLE,
    "int_parsing_size": _says("is too large a number"),
    "int_from_float": _WHOLE,
    "float_type": _NUMBER,
    "float_parsing": _NUMBER,
    "finite_number": _NUMBER,
    "tuple_type": _list,
    "list_type": _list,
    "dict_type": _table,
    "model_type": _table,
    "model_attributes_type": _table,
}
