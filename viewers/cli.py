"""The command line: gathers the commands, and turns every expected error into one message and an exit code.

Everything heavy is imported inside the command that needs it: help and version must come at once.
"""

from __future__ import annotations

import os
import signal
import sys
from typing import Any, NoReturn

import click

from viewers.commands import (
    balance,
    bench,
    checks,
    flight,
    pictures,
    sensitivity,
    solve,
    study,
    sweep,
    templates,
    weights,
)
from viewers.shell import Refusal

STOPPED, PIPE_CLOSED = 130, 141


class CtrlC:
    """Remembers that Ctrl-C was pressed: a compiled library that is just being loaded may turn it into any error."""

    def __init__(self) -> None:
        self.was_pressed = False

    def __call__(self, number: int, frame: object) -> None:
        """Stop, as Python does by itself."""
        self.was_pressed = True
        raise KeyboardInterrupt


CTRL_C = CtrlC()


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
    from airframe.plugins import PluginError
    from airframe.sweep.engines import SweepError
    from airframe.writing import WriteError
    from viewers.files import ExportError
    from viewers.studio import PictureError
    from viewers.sweep_plots import PlotError
    from viewers.turnable import PageError

    return ConfigError, PartError, PluginError, SweepError, WriteError, ExportError, PictureError, PlotError, PageError


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="airframe", message="airframe %(version)s", help="Show the version and exit.")
def cli() -> None:
    """Weigh, balance and check a foam-board model aeroplane before you cut it.

    A config file in TOML states the aeroplane; 'airframe new FILE' writes one to start from. Exit codes:
    0 done, 1 a check failed ('check' and 'study'), 2 bad input, with one message on standard error.
    """


for command in (
    weights.new,
    study.study,
    weights.weigh,
    checks.check,
    checks.compare,
    balance.balance,
    flight.flight,
    sweep.sweep,
    solve.solve,
    sensitivity.sensitivity,
    templates.templates,
    pictures.picture,
    pictures.export,
    bench.bench,
    weights.schema,
):
    cli.add_command(command)


def main() -> None:
    """The command 'airframe'."""
    # What a shell starts in the background ignores Ctrl-C, and so does all that it starts in turn; a program that
    # watches, such as the bench page's, stops us that way all the same.
    is_watched = os.environ.get("AIRFRAME_PROGRESS") == "lines"
    if is_watched or signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, CTRL_C)
    try:
        cli(prog_name="airframe")
    except KeyboardInterrupt:
        _stop()


def _stop() -> NoReturn:
    click.echo("stopped", err=True)
    sys.exit(STOPPED)


if __name__ == "__main__":
    main()
