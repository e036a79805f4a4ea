"""What the page shows of the desk at one moment, ready for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from airframe.units import System
from viewers.bench import numbers
from viewers.bench.edits import Edits
from viewers.bench.fields import Fields
from viewers.bench.history import History
from viewers.bench.places import Keys
from viewers.bench.redesign import proposed
from viewers.bench.scene_json import ghost
from viewers.bench.served import Served
from viewers.bench.source import Source, is_on_disk
from viewers.bench.variants import AS_FILED, Variants
from viewers.bench.view import View, scene_json

State = dict[str, Any]
"""What the page shows, ready for JSON."""
WEIGHED = (
    "This aeroplane was weighed as it is filed. Saved into the same file, its weighing log would be taken to speak of "
    "the changed one: better save the change as a redesign, based on this file."
)
"""Told where edits change an aeroplane whose log is in the file."""


@dataclass(frozen=True, eq=False)
class Shown:
    """The desk at one moment."""

    revision: int
    source: Source
    view: View
    filed: View
    prototype: View | None
    history: History
    variants: Variants
    fields: Fields
    served: Served

    @property
    def edits(self) -> Edits:
        """Over the design as filed."""
        return self.view.variant.edits

    def whole(self, system: System | None) -> State:
        """Everything there is to show."""
        shown = self._system(system)
        groups = self.fields.groups(self.view.variant, shown)
        return self._common(shown) | {"groups": groups, "prototype": self._ghost()}

    def since(self, before: View, system: System | None) -> State:
        """What has changed since another view: only the fields that differ, where none came or went."""
        shown, now, old = self._system(system), self.view.variant, before.variant
        if now is old:
            return self._common(shown) | {"fields": []}
        touched = _touched(old.edits, now.edits)
        fields = self.fields.some(touched, now, shown)
        is_same = len(fields) == len(touched) and _kinds(fields) == _kinds(self.fields.some(touched, old, shown))
        more = {"fields": fields} if is_same else {"groups": self.fields.groups(now, shown)}
        return self._common(shown) | more

    def _system(self, system: System | None) -> System:
        return system or self.view.variant.design.units

    def _common(self, system: System) -> State:
        old = self.prototype.figures if self.prototype is not None else ()
        design = self.view.variant.design
        return {
            "revision": self.revision,
            "title": design.name,
            "file": self.source.path.name,
            "based_on": self.source.based_on,
            "system": system,
            "dirty": bool(self.edits),
            "disk": is_on_disk(self.source),
            "undo": self.history.undo_words,
            "redo": self.history.redo_words,
            "edits": self._edits(system),
            "remarks": [WEIGHED] if self.edits and (design.weighed or design.swung) else [],
            "redesign": proposed(self.source),
            "numbers": numbers.as_json(self.view.figures, old, system),
            "scene": scene_json(self.view, self.fields, self.served, system),
            "variants": self._variants(system),
        }

    def _edits(self, system: System) -> list[dict[str, Any]]:
        keys = [one.keys for one in self.edits]
        fields = {one["key"]: one for one in self.fields.some(keys, self.view.variant, system)}
        made = []
        for one in self.edits:
            field, words = fields.get(one.key), one.setting
            if field is not None:
                words = f"{field['label']} {field['text']}, filed {field['filed'] or 'none'}"
            made.append({"key": one.key, "value": one.value, "words": words})
        return made

    def _variants(self, system: System) -> list[dict[str, Any]]:
        kept = {name: (one.edits, one.figures) for name, one in self.variants.kept.items()}
        codes = [figure.code for figure in self.view.figures]
        return [
            {
                "name": name,
                "is_current": set(edits) == set(self.edits),
                "numbers": numbers.column(figures, codes, system),
                "edits": len(edits),
            }
            for name, (edits, figures) in ({AS_FILED: ((), self.filed.figures)} | kept).items()
        ]

    def _ghost(self) -> dict[str, Any] | None:
        if self.prototype is None:
            return None
        aeroplane = self.prototype.aeroplane
        return {"title": aeroplane.design.name, "ghost": ghost(aeroplane, self.served)}


def _touched(old: Edits, new: Edits) -> list[Keys]:
    """The keys of which one set of edits says something else than the other."""
    before, after = ({one.keys: one.setting for one in edits} for edits in (old, new))
    return [keys for keys in before | after if before.get(keys) != after.get(keys)]


def _kinds(fields: Iterable[dict[str, Any]]) -> list[tuple[Any, ...]]:
    """What of fields must stay as it is for the page to change only their values."""
    return [(one["key"], one["kind"], one["unit"], one["label"], one.get("choices")) for one in fields]
