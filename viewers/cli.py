"""The command line: reads arguments, calls, prints.

Everything heavy is imported inside the command that needs it: help and version must come at once.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

if TYPE_CHECKING:
    from airframe.model import Aeroplane

Command = TypeVar("Command", bound=Callable[..., Any])

BAD_INPUT, STOPPED, PIPE_CLOSED = 2, 130, 141
PICTURE_NAMES = ("three-quarter", "side", "front", "top", "sheet")


class CtrlC:
    """Remembers that Ctrl-C was pressed: a compiled library that is just being loaded may turn it into any error."""

    def __init__(self) -> None:
        self.was_pressed = False

    def __call__(self, number: int, frame: object) -> None:
        """Stop, as Python does by itself."""
        self.was_pressed = True
        raise KeyboardInterrupt


CTRL_C = CtrlC()


class Refusal(click.ClickException):
    """Something the person can mend, in one message on standard error."""

    exit_code = BAD_INPUT

    def show(self, file: Any = None) -> None:
        """Print the message without ceremony."""
        click.echo(f"airframe: {self.message}", err=True)


class Commands(click.Group):
    """Turns every expected error of a command into one message and an exit code."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a builder comes to them."""
        return list(self.commands)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command that was asked for."""
        try:
            result = super().invoke(ctx)
            sys.stdout.flush()
            return result
        except (click.ClickException, click.Abort, click.exceptions.Exit):
            raise
        except KeyboardInterrupt:
            _stop()
        except BrokenPipeError:
            # Whoever read our output has gone: nothing more may be written, not even at exit.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(PIPE_CLOSED)
        except Exception as error:
            if CTRL_C.was_pressed:
                _stop()
            if isinstance(error, _expected()):
                raise Refusal(str(error)) from error
            raise


def _expected() -> tuple[type[Exception], ...]:
    """The errors that say what the person can do; anything else is a fault of ours and shows its trace."""
    from airframe.config import ConfigError
    from airframe.drawing import PartError
    from airframe.writing import WriteError
    from viewers.files import ExportError
    from viewers.studio import PictureError
    from viewers.turnable import PageError

    return ConfigError, PartError, WriteError, ExportError, PictureError, PageError


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="airframe", message="airframe %(version)s", help="Show the version and exit.")
def cli() -> None:
    """Weigh and balance a foam-board model aeroplane before you cut it.

    A config file in TOML states the aeroplane; 'airframe new FILE' writes one to start from. Exit codes:
    0 done, 2 bad input, with one message on standard error.
    """


def main() -> None:
    """The command 'airframe'."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, CTRL_C)
    try:
        cli(prog_name="airframe")
    except KeyboardInterrupt:
        _stop()


def _stop() -> NoReturn:
    click.echo("stopped", err=True)
    sys.exit(STOPPED)


# --- what the commands share ------------------------------------------------------------------------------


def reads_config(command: Command) -> Command:
    """The argument and the options of every command that reads a config."""
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
        click.argument("config", type=click.Path(path_type=Path)),
    ):
        command = decorate(command)
    return command


def _aeroplane(config: Path, settings: tuple[str, ...], no_cache: bool, tell: Ticker) -> Aeroplane:
    from airframe.config import load
    from airframe.model import Aeroplane
    from airframe.store import DiskStore, MemoryStore

    tell("reading the config")
    design = load(config, settings)
    return Aeroplane(design, MemoryStore() if no_cache else DiskStore(), tell.step)


class Ticker:
    """Says on standard error what is being done, on one line that it clears; silent unless a person watches."""

    def __init__(self, is_wanted: bool = True) -> None:
        self._is_shown = is_wanted and sys.stderr.isatty()

    def __call__(self, text: str) -> None:
        """Show what is being done."""
        if self._is_shown:
            click.echo(f"\r\033[K{text[:78]} ...", nl=False, err=True)

    def step(self, name: str, done: int, total: int) -> None:
        """Show how far the weighing is."""
        self(f"weighing {done + 1} of {total}: {name}")

    def __enter__(self) -> Ticker:
        return self

    def __exit__(self, *_: object) -> None:
        if self._is_shown:
            click.echo("\r\033[K", nl=False, err=True)


def _bold(text: str) -> str:
    return click.style(text, bold=True)


# --- commands -----------------------------------------------------------------------------------------------


@cli.command(short_help="Write a commented starter config.")
@click.argument("file", type=click.Path(path_type=Path))
def new(file: Path) -> None:
    """Write a commented starter config to FILE, which must not be there yet."""
    from airframe.starter import write_starter

    write_starter(file)
    click.echo(f"wrote {file}; next: airframe weigh {file}")


@cli.command(short_help="Print the JSON Schema of a config.")
def schema() -> None:
    """Print the JSON Schema of a config, with which editors complete and check it."""
    from airframe.schema.published import json_schema

    click.echo(json.dumps(json_schema(), indent=2, ensure_ascii=False))


@cli.command(short_help="Show the weight statement.")
@reads_config
@click.option("--all", "every", is_flag=True, help="Show every part, each joint of glue included.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units instead of tables.")
def weigh(config: Path, settings: tuple[str, ...], no_cache: bool, every: bool, as_json: bool) -> None:
    """Show the weight statement of CONFIG: mass, balance point, inertia, and what they are made of."""
    from viewers import tables, terminal

    with Ticker(not as_json) as tell:
        aeroplane = _aeroplane(config, settings, no_cache, tell)
        _ = aeroplane.statement
    if as_json:
        click.echo(json.dumps(tables.as_json(aeroplane)))
        return
    listing = tables.parts_table(aeroplane) if every else tables.group_table(aeroplane)
    click.echo(_bold(aeroplane.design.name))
    click.echo(terminal.headline_text(tables.headlines(aeroplane), _bold))
    click.echo(f"  balance point: {tables.balance_point(aeroplane)}\n")
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else None
    click.echo(terminal.table_text(listing, _bold, width) + "\n")
    click.echo(terminal.table_text(tables.inertia_table(aeroplane), _bold) + "\n")
    for note in tables.notes(aeroplane):
        click.echo(note)
    if not every:
        click.echo("every part: airframe weigh --all")


@cli.command(short_help="Draw a picture, or a model to turn.")
@reads_config
@click.option(
    "-o", "output", required=True, type=click.Path(path_type=Path), help="File to write: .png, or .html to turn it."
)
@click.option(
    "--view",
    type=click.Choice(PICTURE_NAMES),
    default="three-quarter",
    show_default=True,
    help="What a .png shows; sheet is all four views on one.",
)
@click.option("--size", metavar="WIDTHxHEIGHT", help="Size of a .png in pixels; default 1600x1200, sheet 2546x1800.")
def picture(config: Path, settings: tuple[str, ...], no_cache: bool, output: Path, view: Any, size: str | None) -> None:
    """Draw CONFIG with dimensions, wheel contacts and balance point: a picture, or a model to turn in a browser."""
    if output.suffix.lower() not in (".png", ".html"):
        raise Refusal(f"cannot draw to '{output.name}'; the name must end in .png or .html")
    pixels = _size(size)
    with Ticker() as tell:
        aeroplane = _aeroplane(config, settings, no_cache, tell)
        data = _drawn(aeroplane, output.suffix.lower() == ".html", view, pixels, tell)
    from airframe.writing import write_whole

    write_whole(output, data)
    click.echo(f"wrote {output}")


def _drawn(aeroplane: Aeroplane, is_page: bool, view: Any, pixels: tuple[int, int] | None, tell: Ticker) -> bytes:
    from viewers.scene import stage

    scene = stage(aeroplane)
    tell("drawing")
    if is_page:
        from viewers import tables, turnable

        return turnable.page(scene, tables.group_masses(aeroplane)).encode()
    from viewers import stills

    return stills.picture(scene, view, pixels)


def _size(text: str | None) -> tuple[int, int] | None:
    if text is None:
        return None
    width, cross, height = text.lower().partition("x")
    if not (cross and width.strip().isdecimal() and height.strip().isdecimal()):
        raise Refusal(f"--size {text}: write width and height in pixels, e.g. 1600x1200")
    return int(width), int(height)


@cli.command(short_help="Write STEP, STL or GLB for other programs.")
@reads_config
@click.option(
    "-o", "output", required=True, type=click.Path(path_type=Path), help="File to write; its ending says what."
)
def export(config: Path, settings: tuple[str, ...], no_cache: bool, output: Path) -> None:
    """Write CONFIG for other programs: .step (one named solid a part), .stl (one mesh) or .glb."""
    from viewers import files
    from viewers.scene import stage

    files.check_ending(output)
    with Ticker() as tell:
        aeroplane = _aeroplane(config, settings, no_cache, tell)
        files.export(aeroplane, lambda: stage(aeroplane), output)
    click.echo(f"wrote {output}")


@cli.command(short_help="Do the whole job: weigh, draw, report.")
@reads_config
@click.option(
    "-o",
    "output",
    type=click.Path(path_type=Path),
    help="Folder to write into, made if need be; default: the config's name with -study, here.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the weights and the files written as one JSON object.")
def study(config: Path, settings: tuple[str, ...], no_cache: bool, output: Path | None, as_json: bool) -> None:
    """Do the whole job for CONFIG: weigh, draw, and write report.html with pictures and a model to turn."""
    from viewers import tables, terminal
    from viewers.study import study as write_study

    folder = output if output is not None else Path(f"{config.stem}-study")
    with Ticker(not as_json) as tell:
        aeroplane = _aeroplane(config, settings, no_cache, tell)
        written = write_study(aeroplane, folder, tell)
    if as_json:
        click.echo(json.dumps({**tables.as_json(aeroplane), "files": [str(path) for path in written]}))
        return
    click.echo(_bold(aeroplane.design.name))
    click.echo(terminal.headline_text(tables.headlines(aeroplane), _bold))
    click.echo(f"\nwrote {len(written)} files to {folder}\nopen {written[0]} in a browser")


if __name__ == "__main__":
    main()
