"""What a plug-in's function makes of an aeroplane, with whatever goes wrong in it told under its name."""

from __future__ import annotations

from typing import TypeVar

from airframe.drawing import PartError
from airframe.plugins import Plugin

Made = TypeVar("Made")


def made_by(plugin: Plugin, subject: object, kind: type[Made]) -> list[Made]:
    """What it makes of a layout or an aeroplane: things of one kind. PartError, named by it, where it does not."""
    try:
        made = list(plugin.made(subject))
    except PartError:
        raise
    except Exception as error:
        raise PartError(str(plugin), f"{type(error).__name__}: {error}") from error
    for one in made:
        if not isinstance(one, kind):
            raise PartError(str(plugin), f"must give a list of {kind.__name__}s, not one with {one!r}"[:200])
    return made
