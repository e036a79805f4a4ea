"""The commands picture and export."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from viewers.shell import Refusal, Ticker, reads_config, weighed_aeroplane

if TYPE_CHECKING:
    from airframe.model import Aeroplane

PICTURE_NAMES = ("three-quarter", "side", "front", "top", "sheet")


@click.command(short_help="Draw a picture, or a model to turn.")
@reads_config
@click.option(
    "-o", "output", required=True, type=click.Path(path_type=Path), help="File to write: .png, or .html to turn it."
)
@click.option(
    "--view",
    type=click.Choice(PICTURE_NAMES),
    help="What a .png shows; sheet is all four views on one. Default: three-quarter.",
)
@click.option("--size", metavar="WIDTHxHEIGHT", help="Size of a .png in pixels; default 1600x1200, sheet 2546x1800.")
def picture(config: Path, settings: tuple[str, ...], no_cache: bool, output: Path, view: Any, size: str | None) -> None:
    """Draw CONFIG with dimensions, wheel contacts and balance point: a picture, or a model to turn in a browser."""
    if output.suffix.lower() not in (".png", ".html"):
        raise Refusal(f"cannot draw to '{output.name}'; the name must end in .png or .html")
    if output.suffix.lower() == ".html" and (view or size):
        raise Refusal("--view and --size are for a .png; an .html can be turned and fits any window")
    pixels = _size(size)
    with Ticker() as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        data = _drawn(aeroplane, output.suffix.lower() == ".html", view, pixels, tell)
    from airframe.writing import write_whole

    write_whole(output, data)
    click.echo(f"wrote {output}")


def _drawn(aeroplane: Aeroplane, is_page: bool, view: Any, pixels: tuple[int, int] | None, tell: Ticker) -> bytes:
    from viewers.staging import stage

    scene = stage(aeroplane)
    tell("drawing")
    if is_page:
        from viewers import turnable, weight_tables

        return turnable.page(scene, weight_tables.group_masses(aeroplane)).encode()
    from viewers import stills

    return stills.picture(scene, view or "three-quarter", pixels)


def _size(text: str | None) -> tuple[int, int] | None:
    if text is None:
        return None
    width, cross, height = text.lower().partition("x")
    if not (cross and width.strip().isdecimal() and height.strip().isdecimal()):
        raise Refusal(f"--size {text}: write width and height in pixels, e.g. 1600x1200")
    return int(width), int(height)


@click.command(short_help="Write STEP, STL or GLB for other programs.")
@reads_config
@click.option(
    "-o", "output", required=True, type=click.Path(path_type=Path), help="File to write; its ending says what."
)
def export(config: Path, settings: tuple[str, ...], no_cache: bool, output: Path) -> None:
    """Write CONFIG for other programs: .step (one named solid a part), .stl (one mesh) or .glb."""
    from viewers import files
    from viewers.staging import stage

    files.check_ending(output)
    with Ticker() as tell:
        aeroplane = weighed_aeroplane(config, settings, no_cache, tell)
        files.export(aeroplane, lambda: stage(aeroplane), output)
    click.echo(f"wrote {output}")
