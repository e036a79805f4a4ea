"""What the page shows of the design under way, ready for JSON."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from airframe.units import System
from viewers.bench import numbers
from viewers.bench.draft import Draft
from viewers.bench.edits import Edits
from viewers.bench.fields import Fields
from viewers.bench.places import Keys
from viewers.bench.redesign import proposed
from viewers.bench.scene_json import ghost
from viewers.bench.served import Served
from viewers.bench.source import is_on_disk
from viewers.bench.variants import AS_FILED
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
    """What there is to show of a draft as it stands, whenever asked."""

    draft: Draft
    prototype: View | None
    fields: Fields
    served: Served

    def whole(self, system: System | None) -> State:
        """Everything there is to show."""
        shown = self._system(system)
        groups = self.fields.groups(self.draft.variant, shown)
        return self._common(shown) | {"groups": groups, "prototype": self._ghost()}

    def since(self, before: View, system: System | None) -> State:
        """What has changed since another view: only the fields that differ, where none came or went."""
        shown, now, old = self._system(system), self.draft.variant, before.variant
        if now is old:
            return self._common(shown) | {"fields": []}
        touched = _touched(old.edits, now.edits)
        fields = self.fields.some(touched, now, shown)
        is_same = len(fields) == len(touched) and _kinds(fields) == _kinds(self.fields.some(touched, old, shown))
        more = {"fields": fields} if is_same else {"groups": self.fields.groups(now, shown)}
        return self._common(shown) | more

    def _system(self, system: System | None) -> System:
        return system or self.draft.variant.design.units

    def _common(self, system: System) -> State:
        old = self.prototype.figures if self.prototype is not None else ()
        design = self.draft.variant.design
        return {
            "revision": self.draft.revision,
            "title": design.name,
            "file": self.draft.source.path.name,
            "based_on": self.draft.source.based_on,
            "system": system,
            "dirty": bool(self.draft.edits),
            "disk": is_on_disk(self.draft.source),
            "undo": self.draft.history.undo_words,
            "redo": self.draft.history.redo_words,
            "edits": self._edits(system),
            "remarks": [WEIGHED] if self.draft.edits and (design.weighed or design.swung) else [],
            "redesign": proposed(self.draft.source),
            "numbers": numbers.as_json(self.draft.view.figures, old, system),
            "scene": scene_json(self.draft.view, self.fields, self.served, system),
            "variants": self._variants(system),
        }

    def _edits(self, system: System) -> list[dict[str, Any]]:
        keys = [one.keys for one in self.draft.edits]
        fields = {one["key"]: one for one in self.fields.some(keys, self.draft.variant, system)}
        made = []
        for one in self.draft.edits:
            field, words = fields.get(one.key), one.setting
            if field is not None:
                words = f"{field['label']} {field['text']}, filed {field['filed'] or 'none'}"
            made.append({"key": one.key, "value": one.value, "words": words})
        return made

    def _variants(self, system: System) -> list[dict[str, Any]]:
        kept = {name: (one.edits, one.figures) for name, one in self.draft.variants.kept.items()}
        codes = [figure.code for figure in self.draft.view.figures]
        return [
            {
                "name": name,
                "is_current": set(edits) == set(self.draft.edits),
                "numbers": numbers.column(figures, codes, system),
                "edits": len(edits),
            }
            for name, (edits, figures) in ({AS_FILED: ((), self.draft.filed.figures)} | kept).items()
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
