"""Parts, checks and materials of one's own, added from outside this package.

This package only keeps what was added, by name; what a part, a check or a material is, others know. There are two
ways:

- A module that calls `add_part`, `add_check` or `add_material` when it is imported. Whatever imports it has them: a
  notebook, a script, or any command where the environment variable AIRFRAME_PLUGINS names the module.
- An installed package with entry points in the groups airframe.parts, airframe.checks or airframe.materials. Then
  every command has them.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from typing import Any, TypeVar

from airframe.plugins import registry
from airframe.plugins.loading import load_all
from airframe.plugins.registry import AT_HOME, MODULES, Kind, Plugin, PluginError, homebound, named_modules, stuck

__all__ = [
    "MODULES",
    "Plugin",
    "PluginError",
    "add_check",
    "add_material",
    "add_part",
    "added",
    "check_travels",
    "homebound",
    "load",
    "stamp",
]

Added = TypeVar("Added")


# --- adding ---------------------------------------------------------------------------------------------------


def add_part(family: Callable[..., Any], name: str | None = None) -> Callable[..., Any]:
    """Add a part family: a function that is given the `airframe.layout.Layout` and gives a list of Parts.

    Also as a decorator, `@add_part`. Its name is that of the function unless another is given.
    """
    _add("parts", name or str(getattr(family, "__name__", "part")), family)
    return family


def add_check(name: str, findings: Callable[..., Any] | None = None) -> Any:
    """Add a check: a function that is given the `airframe.model.Aeroplane` and gives a list of Findings.

    Also as a decorator, `@add_check("my check")`; the name is what is shown while it is being worked out. Raises
    PluginError where the name was forgotten: nothing would be added then, and nobody would notice.
    """
    if not isinstance(name, str):
        called = getattr(name, "__name__", name)
        message = f"plug-in {called}: a check needs a name first, add_check({json.dumps(str(called))}, ...)"
        raise PluginError(message)
    if findings is not None:
        _add("checks", name, findings)
        return findings

    def decorate(function: Added) -> Added:
        _add("checks", name, function)
        return function

    return decorate


def add_material(material: Added) -> Added:
    """Add an `airframe.materials.Material`: every design may name it."""
    _add("materials", str(getattr(material, "name", material)), material)
    return material


def _add(kind: Kind, name: str, made: Any) -> None:
    """Keep what a module adds; the same module may add it again, as a cell that is run twice does."""
    origin = sys._getframe(2).f_globals.get("__name__", AT_HOME[0])
    registry.current.keep(Plugin(kind, name, made, origin))
    mark = f"{AT_HOME[0]}:{kind}:{name}" if origin in AT_HOME else origin
    modules = named_modules()
    if mark not in modules:
        os.environ[MODULES] = ",".join([*modules, mark])


# --- finding --------------------------------------------------------------------------------------------------


def stamp() -> object:
    """The same object as long as nothing is added; loads what is to be had first. Raises PluginError."""
    load()
    return registry.current.stamp


def added(kind: Kind) -> tuple[Plugin, ...]:
    """Everything of a kind, in the order it was added. Raises PluginError for a plug-in that cannot be loaded."""
    load()
    return tuple(plugin for plugin in registry.current.added.values() if plugin.kind == kind)


def check_travels() -> None:
    """Raise PluginError where something was added that another process cannot have: its results would differ."""
    for plugin in homebound():
        raise stuck(plugin.name)


def load() -> None:
    """Import the modules that AIRFRAME_PLUGINS names and load all entry points, once.

    Raises PluginError with all that cannot be loaded.
    """
    now = registry.current
    if now.is_loaded:
        return
    with now.lock:
        if now.is_loaded:
            return
        now.is_loaded = True  # a plug-in may ask for materials while it is being loaded
        try:
            load_all()
        except BaseException:
            now.is_loaded = False
            raise
