"""What every command shares: refusals, progress on standard error, reading a config into an aeroplane."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from airframe.checks.finding import Finding
    from airframe.config import Loaded
    from airframe.model import Aeroplane
    from airframe.schema.design import Design
    from airframe.store import ShapeStore

Command = TypeVar("Command", bound=Callable[..., Any])

FAILING, BAD_INPUT = 1, 2
PROGRESS = "progress: "
"""How a line of progress begins that another program reads."""


class Refusal(click.ClickException):
    """Something the person can mend, in one message on standard error."""

    exit_code = BAD_INPUT

    def show(self, file: Any = None) -> None:
        """Print the message without ceremony."""
        click.echo(f"airframe: {self.message}", err=True)


class Ticker:
    """Says on standard error what is being done, on one line that it clears; silent unless a person watches.

    A program that watches sets the environment variable AIRFRAME_PROGRESS to `lines`: then every word of
    progress is a line of its own that begins with PROGRESS, whether or not there is a terminal.
    """

    def __init__(self, is_wanted: bool = True) -> None:
        self._is_told_by_lines = os.environ.get("AIRFRAME_PROGRESS") == "lines"
        self._is_shown = is_wanted and not self._is_told_by_lines and sys.stderr.isatty()

    def __call__(self, text: str) -> None:
        """Show what is being done."""
        if self._is_told_by_lines:
            click.echo(f"{PROGRESS}{text}", err=True)
        elif self._is_shown:
            click.echo(f"\r\033[K{text[:78]} ...", nl=False, err=True)

    def step(self, name: str, done: int, total: int) -> None:
        """Show how far the weighing is."""
        self(f"weighing {done + 1} of {total}: {name}")

    def check(self, name: str, done: int, total: int) -> None:
        """Show how far the checks are."""
        self(f"checking {done + 1} of {total}: {name}")

    def note(self, text: str) -> None:
        """Tell what stays on the screen, whoever watches."""
        self._clear()
        click.echo(f"note: {text}", err=True)

    def __enter__(self) -> Ticker:
        return self

    def __exit__(self, *_: object) -> None:
        self._clear()

    def _clear(self) -> None:
        if self._is_shown:
            click.echo("\r\033[K", nl=False, err=True)


@dataclass(frozen=True)
class Workshop:
    """Where the commands get their aeroplanes: one shape cache for all of a command's designs."""

    settings: tuple[str, ...]
    store: ShapeStore
    tell: Ticker

    def read(self, config: Path) -> Loaded:
        """The config with its --set lines. Raises ConfigError."""
        from airframe.config import read

        self.tell("reading the config")
        return read(config, self.settings)

    def aeroplane(self, loaded: Loaded) -> Aeroplane:
        """The aeroplane of a config that was read; of what nobody reads in it a note is made."""
        from airframe.model import Aeroplane

        self._note_unread(loaded.design)
        return Aeroplane.loaded(loaded, self.store, self.tell.step)

    def _note_unread(self, design: Design) -> None:
        """Tables for plug-ins where none is loaded: what they draw is then not weighed; nothing else would say so."""
        from airframe import plugins

        if design.extra and not plugins.added("parts") and not plugins.added("checks"):
            tables = ", ".join(f"[extra.{name}]" for name in design.extra)
            cure = f"name its module in {plugins.MODULES}, or install it"
            self.tell.note(f"{design.name}: no plug-in is loaded that could read {tables}; {cure}")

    def findings(self, loaded: Loaded, aeroplane: Aeroplane) -> tuple[Finding, ...]:
        """Every finding, remedies tried. Raises PartError."""
        from airframe.checks import whole
        from airframe.config import from_dict

        def rebuild(settings: Sequence[str]) -> Aeroplane:
            return aeroplane.changed(from_dict(loaded.data, settings))

        return whole.run(aeroplane, rebuild, self.tell.check)


def workshop(settings: tuple[str, ...], no_cache: bool, tell: Ticker) -> Workshop:
    """A workshop with the shape cache on disk, or without it."""
    with _settled():
        import airframe.config
        import airframe.model  # noqa: F401
        from airframe.store import DiskStore, MemoryStore

    return Workshop(settings, MemoryStore() if no_cache else DiskStore(), tell)


@contextmanager
def _settled() -> Iterator[None]:
    """While the modules that every command needs are loaded: they stay, so nothing looks through them for garbage.

    A tenth of the time of a second `weigh` would go into that.
    """
    if "airframe.model" in sys.modules or not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
        gc.freeze()
    finally:
        gc.enable()


def weighed_aeroplane(config: Path, settings: tuple[str, ...], no_cache: bool, tell: Ticker) -> Aeroplane:
    """The aeroplane of a config, ready to be asked. Raises ConfigError."""
    here = workshop(settings, no_cache, tell)
    return here.aeroplane(here.read(config))


def takes_settings(command: Command) -> Command:
    """The options of every command that reads a config."""
    for decorate in (
        click.option(
            "--no-cache", is_flag=True, help="Build every shape anew; neither read nor write the shape cache."
        ),
        click.option(
            "--set",
            "settings",
            metavar="KEY=VALUE",
            multiple=True,
            help="Change one value of the config, e.g. --set gear.track='240 mm'. May be given several times.",
        ),
    ):
        command = decorate(command)
    return command


def reads_config(command: Command) -> Command:
    """The argument and the options of every command that reads one config."""
    return takes_settings(click.argument("config", type=click.Path(path_type=Path))(command))


def bold(text: str) -> str:
    """Text that stands out on a terminal."""
    return click.style(text, bold=True)


def marked(text: str, verdict: str) -> str:
    """The word of a verdict in its colour; the word says it too."""
    colour = {"fail": "red", "caution": "yellow", "pass": "green"}.get(verdict)
    return click.style(text, fg=colour, bold=verdict == "fail")
