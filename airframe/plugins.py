"""Parts, checks and materials of one's own, added from outside this package.

This module only keeps what was added, by name; what a part, a check or a material is, others know. There are two ways:

- A module that calls `add_part`, `add_check` or `add_material` when it is imported. Whatever imports it has them: a
  notebook, a script, or any command where the environment variable AIRFRAME_PLUGINS names the module.
- An installed package with entry points in the groups airframe.parts, airframe.checks or airframe.materials. Then
  every command has them.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, Any, Literal, TypeVar

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

Kind = Literal["parts", "checks", "materials"]
KINDS: tuple[Kind, ...] = ("parts", "checks", "materials")
MODULES = "AIRFRAME_PLUGINS"
"""The environment variable that names modules to import, with commas between; worker processes inherit it."""
AT_HOME = ("__main__", "__mp_main__")
"""What a script or a notebook is called: no other process can import that by its name."""

Added = TypeVar("Added")


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


class _Registry:
    """All that was added in this process."""

    def __init__(self) -> None:
        self.added: dict[tuple[Kind, str], Plugin] = {}
        self.stamp = object()
        """Another one after everything that is added."""
        self.is_loaded = False
        self.lock = threading.RLock()


_registry = _Registry()


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
    _keep(Plugin(kind, name, made, origin))
    mark = f"{AT_HOME[0]}:{kind}:{name}" if origin in AT_HOME else origin
    modules = _named_modules()
    if mark not in modules:
        os.environ[MODULES] = ",".join([*modules, mark])


def _keep(plugin: Plugin) -> None:
    with _registry.lock:
        if any(one.kind == plugin.kind and one.made is plugin.made for one in _registry.added.values()):
            return  # a module with entry points may add by itself too
        other = _registry.added.get((plugin.kind, plugin.name))
        if other is not None and _home(other.origin) != _home(plugin.origin):
            message = f"{plugin}: {other.origin} has added one of the same name to the {plugin.kind}"
            raise PluginError(message)
        _registry.added[plugin.kind, plugin.name] = plugin
        _registry.stamp = object()


def _home(origin: str) -> str:
    return AT_HOME[0] if origin in AT_HOME else origin


# --- finding --------------------------------------------------------------------------------------------------


def stamp() -> object:
    """The same object as long as nothing is added; loads what is to be had first. Raises PluginError."""
    load()
    return _registry.stamp


def added(kind: Kind) -> tuple[Plugin, ...]:
    """Everything of a kind, in the order it was added. Raises PluginError for a plug-in that cannot be loaded."""
    load()
    return tuple(plugin for plugin in _registry.added.values() if plugin.kind == kind)


def homebound() -> tuple[Plugin, ...]:
    """What was added in a notebook or at a prompt, and so cannot be had in another process."""
    if getattr(sys.modules.get(AT_HOME[0]), "__file__", None) is not None:
        return ()  # a script: workers read it anew
    return tuple(plugin for plugin in _registry.added.values() if plugin.origin in AT_HOME)


def check_travels() -> None:
    """Raise PluginError where something was added that another process cannot have: its results would differ."""
    for plugin in homebound():
        raise _stuck(plugin.name)


def _stuck(name: str) -> PluginError:
    message = f"plug-in {name} was added in a notebook or at a prompt, and no other process can have it from there"
    return PluginError(f"{message}; put it into a module and import that, or let one process do everything")


def load() -> None:
    """Import the modules that AIRFRAME_PLUGINS names and load all entry points, once.

    Raises PluginError with all that cannot be loaded.
    """
    if _registry.is_loaded:
        return
    with _registry.lock:
        if _registry.is_loaded:
            return
        _registry.is_loaded = True  # a plug-in may ask for materials while it is being loaded
        try:
            _load_all()
        except BaseException:
            _registry.is_loaded = False
            raise


def _load_all() -> None:
    wrong: list[str] = []
    for load_one in (*_modules(), *_entry_points()):
        try:
            load_one()
        except PluginError as error:
            wrong.append(str(error))
    if wrong:
        raise PluginError("\n".join(wrong))


def _modules() -> Iterator[Callable[[], None]]:
    """What loads each module that is named."""
    for name in _named_modules():
        home, _, rest = name.partition(":")
        yield partial(_check_is_here, rest) if home in AT_HOME else partial(_import, name)


def _import(name: str) -> None:
    if any(plugin.origin == name for plugin in _registry.added.values()):
        return  # it has been imported before anyone asked
    if not all(step.isidentifier() for step in name.split(".")):
        message = f"plug-in {name} (named in {MODULES}) is no module's name; write my_skid for a file my_skid.py"
        raise PluginError(message)
    with _named_in_errors(f"{name} (named in {MODULES})", name):
        import_module(name)


def _check_is_here(mark: str) -> None:
    """In a worker process, what its parent added at a prompt must be here too, or results would silently differ."""
    kind, _, name = mark.partition(":")
    is_here = any(plugin.kind == kind and plugin.name == name for plugin in _registry.added.values())
    # Every process that another one's Python has spawned has this module.
    spawning = sys.modules.get("multiprocessing.process")
    if spawning is not None and spawning.parent_process() is not None and not is_here:
        raise _stuck(name)


def _entry_points() -> Iterator[Callable[[], None]]:
    """What loads each entry point of every installed package."""
    from importlib.metadata import entry_points

    every = entry_points()
    for kind in KINDS:
        for point in every.select(group=f"airframe.{kind}"):
            yield partial(_load_point, kind, point)


def _load_point(kind: Kind, point: EntryPoint) -> None:
    origin = f"package {point.dist.name}" if point.dist is not None else point.value
    with _named_in_errors(f"{point.name} ({origin})"):
        made = point.load()
    several = made if kind == "materials" and isinstance(made, (list, tuple)) else [made]
    for one in several:
        name = str(getattr(one, "name", point.name)) if kind == "materials" else point.name
        _keep(Plugin(kind, name, one, origin))


def _named_modules() -> list[str]:
    return [name.strip() for name in os.environ.get(MODULES, "").split(",") if name.strip()]


@contextmanager
def _named_in_errors(name: str, module: str = "") -> Iterator[None]:
    """Turn whatever goes wrong in a plug-in's file into one line that names it; its prints stay out of our results."""
    try:
        with redirect_stdout(sys.stderr):
            yield
    except PluginError:
        raise
    except (Exception, SystemExit) as error:
        message = f"plug-in {name} cannot be loaded: {type(error).__name__}: {' '.join(str(error).split())}"
        if isinstance(error, ModuleNotFoundError) and error.name == module:
            message += "; name the folder that it is in, PYTHONPATH=FOLDER, or correct the name"
        raise PluginError(message) from error
