"""Part families that plug-ins add."""

from __future__ import annotations

from airframe import plugins
from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.outside import made_by
from airframe.parts.common import GROUPS


def families(layout: Layout) -> list[tuple[plugins.Plugin, list[Part]]]:
    """The parts of each plug-in. PartError, named by the plug-in, for whatever goes wrong in it."""
    return [(plugin, _parts(plugin, layout)) for plugin in plugins.added("parts")]


def _parts(plugin: plugins.Plugin, layout: Layout) -> list[Part]:
    made = made_by(plugin, layout, Part)
    for part in made:
        if part.group not in GROUPS:
            raise PartError(
                part.name, f"{plugin}: there is no group {part.group!r}; it must be one of {', '.join(GROUPS)}"
            )
    return made
