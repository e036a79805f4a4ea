"""Plug-ins from where they are to be had: modules that the environment names, entry points of installed packages."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING

from airframe.plugins import registry
from airframe.plugins.registry import AT_HOME, KINDS, MODULES, Kind, Plugin, PluginError, named_modules, stuck

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint


def load_all() -> None:
    """Import what is named and load all entry points. Raises PluginError with all that cannot be loaded."""
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
    for name in named_modules():
        home, _, rest = name.partition(":")
        yield partial(_check_is_here, rest) if home in AT_HOME else partial(_import, name)


def _import(name: str) -> None:
    if any(plugin.origin == name for plugin in registry.current.added.values()):
        return  # it has been imported before anyone asked
    if not all(step.isidentifier() for step in name.split(".")):
        message = f"plug-in {name} (named in {MODULES}) is no module's name; write my_skid for a file my_skid.py"
        raise PluginError(message)
    with _named_in_errors(f"{name} (named in {MODULES})", name):
        import_module(name)


def _check_is_here(mark: str) -> None:
    """In a worker process, what its parent added at a prompt must be here too, or results would silently differ."""
    kind, _, name = mark.partition(":")
    is_here = any(plugin.kind == kind and plugin.name == name for plugin in registry.current.added.values())
    # Every process that another one's Python has spawned has this module.
    spawning = sys.modules.get("multiprocessing.process")
    if spawning is not None and spawning.parent_process() is not None and not is_here:
        raise stuck(name)


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
        registry.current.keep(Plugin(kind, name, one, origin))


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
