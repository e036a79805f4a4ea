"""The JSON Schema of a config file, for editors that complete and check as the builder types."""

from __future__ import annotations

from typing import Any

from airframe.schema.design import Design
from airframe.schema.walk import NOTHING

DIALECT = "https://json-schema.org/draft/2020-12/schema"
IDENTIFIER = "urn:airframe:config:1"
_BASED_ON = {
    "type": "string",
    "minLength": 1,
    "description": "Another config, beside this one, of which this is a redesign: it states only what changes.",
    "examples": ["mk1.toml"],
}
_LEFT_OUT = {"const": NOTHING, "description": "Leaves out what a default or the design underneath has."}
_WHOLE = " (whole)"
"""Ends the name of a definition that stands in a list: a row is always stated completely."""


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a config file.

    Tables may be partial, because a redesign states only what changes; rows of lists are whole. What may
    be left out may be "none", for TOML has no null.
    """
    plain = Design.model_json_schema(by_alias=True, mode="validation")
    writer = _Writer(plain.pop("$defs"))
    root = writer.rewritten(plain, whole=False)
    root["properties"] = {"based_on": _BASED_ON, **root["properties"]}
    head = {"$schema": DIALECT, "$id": IDENTIFIER, "title": "A model aeroplane built of foam board"}
    return head | root | {"$defs": dict(sorted(writer.definitions.items()))}


class _Writer:
    """Rewrites schemas; collects the definitions they lead to, whole or partial as they are used."""

    def __init__(self, originals: dict[str, Any]) -> None:
        self.originals = originals
        self.definitions: dict[str, Any] = {}

    def rewritten(self, schema: dict[str, Any], whole: bool) -> dict[str, Any]:
        result = {
            key: value for key, value in schema.items() if key != "title" and not (key == "required" and not whole)
        }
        if isinstance(result.get("default"), dict) or result.get("default", "") is None:
            del result["default"]
        if "properties" in result:
            result["properties"] = {key: self.rewritten(one, whole) for key, one in result["properties"].items()}
        if isinstance(result.get("additionalProperties"), dict):
            result["additionalProperties"] = self.rewritten(result["additionalProperties"], whole)
        if isinstance(result.get("items"), dict):
            result["items"] = self.rewritten(result["items"], whole=True)
        for choice in ("oneOf", "anyOf"):
            if choice in result:
                result["anyOf"] = [self.rewritten(one, whole) for one in result.pop(choice)]
        if "$ref" in result:
            result["$ref"] = self._reference(result["$ref"].rsplit("/", 1)[-1], whole)
        return dict(_LEFT_OUT) if result.get("type") == "null" else result

    def _reference(self, name: str, whole: bool) -> str:
        named = name + _WHOLE if whole else name
        if named not in self.definitions:
            self.definitions[named] = {}
            self.definitions[named] = self.rewritten(self.originals[name], whole)
        return f"#/$defs/{named.replace(' ', '%20')}"
