"""The command bench: the page in a browser on which a design is changed while its numbers follow."""

from __future__ import annotations

import os
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.shell import Refusal, Ticker, bold, reads_config

if TYPE_CHECKING:
    from viewers.bench.desk import Desk


@click.command(short_help="Change it in the browser and watch the numbers.")
@reads_config
@click.option(
    "--against", type=click.Path(path_type=Path), help="Config of the prototype, shown beside it and as a ghost."
)
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Port to serve at; default: any free one.")
@click.option("--no-open", is_flag=True, help="Only print the address; do not open a browser.")
def bench(
    config: Path, settings: tuple[str, ...], no_cache: bool, against: Path | None, port: int, no_open: bool
) -> None:
    """Open CONFIG on a page in your browser: change a dimension, and drawing, numbers and findings follow.

    Nothing leaves this machine, and the file is only written when you save. Ctrl-C ends it.
    """
    with Ticker() as tell:
        tell("putting it on the bench")
        desk = _opened(config, settings, no_cache, against)
    from viewers.bench.jobs import Jobs
    from viewers.bench.server import Site
    from viewers.bench.serving import PortError, serve

    def ready(address: str) -> None:
        click.echo(f"{bold(desk.file.name)} is on the bench; open this address in a browser on this machine:", err=True)
        click.echo(address)
        click.echo("whoever has the address can change the file: keep it to yourself; Ctrl-C here ends it", err=True)
        if not no_open:
            import webbrowser

            # Some systems' browsers hold up who opens them.
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    jobs = Jobs(desk.folder)
    prototype = None if against is None else _from(desk.folder, against)
    try:
        serve(Site(desk, jobs, prototype, no_cache), port, ready)
    except PortError as error:
        raise Refusal(str(error)) from error
    finally:
        desk.close()
        jobs.close()
    click.echo("the bench is cleared", err=True)
    _leave()


def _opened(config: Path, settings: tuple[str, ...], no_cache: bool, against: Path | None) -> Desk:
    """The desk with the config on it, changed as the command line says. Raises ConfigError, PartError and Refusal."""
    from airframe.config import read
    from airframe.store import MemoryStore
    from viewers.bench.desk import Desk
    from viewers.bench.refusals import Refused
    from viewers.bench.served import SHAPES_KEPT

    # What is wrong with a setting is told here as every command tells it.
    read(config, settings)
    try:
        desk = Desk.opened(config, against, MemoryStore(limit=SHAPES_KEPT) if no_cache else None)
        if settings:
            desk.change(desk.revision, settings, words="as started")
    except Refused as error:
        raise Refusal(str(error)) from error
    return desk


def _leave() -> None:
    """Wait for nobody: a step of the findings that cannot be called off must not hold up the end."""
    working = [thread for thread in threading.enumerate() if thread is not threading.main_thread()]
    if any(not thread.daemon for thread in working):
        sys.stderr.flush()
        os._exit(0)


def _from(folder: Path, path: Path) -> Path:
    """The path as a command that runs in the folder finds it: short where it lies there."""
    whole = Path(os.path.abspath(path))  # noqa: PTH100 - links are kept as they are
    return Path(whole.name) if whole.parent == Path(os.path.abspath(folder)) else whole  # noqa: PTH100
