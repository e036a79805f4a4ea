"""What was added from outside to this process, by kind and name."""

from __future__ import annotations

import os
import sys
import threading
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal["parts", "checks", "materials"]
KINDS: tuple[Kind, ...] = ("parts", "checks", "materials")
MODULES = "AIRFRAME_PLUGINS"
"""The environment variable that names modules to import, with commas between; worker processes inherit it."""
AT_HOME = ("__main__", "__mp_main__")
"""What a script or a notebook is called: no other process can import that by its name."""


class PluginError(ValueError):
    """A plug-in that cannot be loaded or does what none may; the message names it."""


@dataclass(frozen=True)
class Plugin:
    """One thing that was added."""

    kind: Kind
    name: str
    made: Any
    """A function for parts and checks, a material for materials."""
    origin: str
    """Where it is from: the name of a module, or "package NAME"."""

    def __str__(self) -> str:
        return f"plug-in {self.name} ({self.origin})"


class Registry:
    """All that was added, in the order it was."""

    def __init__(self) -> None:
        self.added: dict[tuple[Kind, str], Plugin] = {}
        self.stamp = object()
        """Another one after everything that is added."""
        self.is_loaded = False
        self.lock = threading.RLock()

    def keep(self, plugin: Plugin) -> None:
        """Add it. Raises PluginError where another module has added one of its name."""
        with self.lock:
            if any(one.kind == plugin.kind and one.made is plugin.made for one in self.added.values()):
                return  # a module with entry points may add by itself too
            other = self.added.get((plugin.kind, plugin.name))
            if other is not None and _home(other.origin) != _home(plugin.origin):
                message = f"{plugin}: {other.origin} has added one of the same name to the {plugin.kind}"
                raise PluginError(message)
            self.added[plugin.kind, plugin.name] = plugin
            self.stamp = object()


current = Registry()
"""That of this process."""


def homebound() -> tuple[Plugin, ...]:
    """What was added in a notebook or at a prompt, and so cannot be had in another process."""
    if getattr(sys.modules.get(AT_HOME[0]), "__file__", None) is not None:
        return ()  # a script: workers read it anew
    return tuple(plugin for plugin in current.added.values() if plugin.origin in AT_HOME)


def stuck(name: str) -> PluginError:
    """The error of a plug-in that this process has and another one needs."""
    message = f"plug-in {name} was added in a notebook or at a prompt, and no other process can have it from there"
    return PluginError(f"{message}; put it into a module and import that, or let one process do everything")


def named_modules() -> list[str]:
    """What the environment variable names."""
    return [name.strip() for name in os.environ.get(MODULES, "").split(",") if name.strip()]


def _home(origin: str) -> str:
    return AT_HOME[0] if origin in AT_HOME else origin
