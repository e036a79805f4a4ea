"""Part families that plug-ins add."""

from __future__ import annotations

from airframe import plugins
from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts.common import GROUPS


def families(layout: Layout) -> list[tuple[plugins.Plugin, list[Part]]]:
    """The parts of each plug-in. PartError, named by the plug-in, for whatever goes wrong in it."""
    return [(plugin, _parts(plugin, layout)) for plugin in plugins.added("parts")]


def _parts(plugin: plugins.Plugin, layout: Layout) -> list[Part]:
    try:
        made = list(plugin.made(layout))
    except PartError:
        raise
    except Exception as error:
        raise PartError(str(plugin), f"{type(error).__name__}: {error}") from error
    for part in made:
        if not isinstance(part, Part):
            raise PartError(str(plugin), f"must give a list of Parts, not one with {part!r}"[:200])
        if part.group not in GROUPS:
            raise PartError(
                part.name, f"{plugin}: there is no group {part.group!r}; it must be one of {', '.join(GROUPS)}"
            )
    return made
