"""A turnable model in one file: a web page that needs no network, no server and no installation."""

from __future__ import annotations

import base64
import json
import re
import zipfile
from functools import lru_cache
from importlib.resources import files
from typing import Any

import numpy as np

from airframe.axes import Array
from airframe.materials import Look
from viewers import palette
from viewers.edges import inked
from viewers.scene import Body, Dimension, Item, Line, Scene

SKIN: tuple[Look, ...] = ("foam", "clear", "paint", "filler", "tape")
"""What "see through" makes faint, so that what is inside stands out."""
STAND_OFF_MM = 45.0
"""From the model to a dimension line in space."""


class PageError(RuntimeError):
    """A page that cannot be put together; the message says which piece is missing."""


def page(scene: Scene, weights: dict[str, str] | None = None) -> str:
    """The whole page as text; `weights` are the groups' masses in words, shown beside their check boxes."""
    from jinja2 import Environment, PackageLoader

    environment = Environment(loader=PackageLoader("viewers", "."), autoescape=True, keep_trailing_newline=True)
    folder = files("viewers")
    return environment.get_template("turnable.html.j2").render(
        scene=scene,
        css=(folder / "turnable.css").read_text("utf-8"),
        script=(folder / "turnable.js").read_text("utf-8"),
        library=library(),
        model=_in_script(json.dumps(model(scene, weights or {}), separators=(",", ":"))),
        groups=_groups(scene, weights or {}),
    )


@lru_cache(maxsize=1)
def library() -> str:
    """The source of the 3D library (three.js, MIT licence), taken from the installed trimesh package.

    Nothing of it is kept here. Raises PageError where the package no longer carries it.
    """
    template = files("trimesh") / "resources" / "templates" / "viewer.zip"
    try:
        with template.open("rb") as file, zipfile.ZipFile(file) as archive:
            text = archive.read("viewer.html.template").decode("utf-8")
    except (OSError, KeyError, zipfile.BadZipFile) as error:
        message = "the turnable model needs the viewer template of the package trimesh 5, which is not there"
        raise PageError(message) from error
    # The library is the first thing in the page's script; what follows it begins a function of its own.
    found = re.search(r"<script>(/\*\*\s*\* @license.*?)\n\(function\(\)\{const _changeEvent", text, re.DOTALL)
    if found is None or "</script" in found[1]:
        message = "the viewer template of the installed package trimesh is not the one known here; install trimesh 5.2"
        raise PageError(message)
    return found[1]


def model(scene: Scene, weights: dict[str, str]) -> dict[str, Any]:
    """Everything the page draws, ready for JSON: arrays are base64 of little-endian numbers, mm."""
    points = scene.points()
    return {
        "parts": [*map(_body, scene.bodies), *map(_line, scene.lines), *_coats(scene)],
        "balance": {"point": scene.balance_point.point, "text": scene.balance_point.text(0, 1, 2)},
        "contacts": [{"name": m.name, "point": m.point} for m in scene.markers if m.kind == "contact"],
        "dimensions": _dimensions(scene.dimensions, points),
        "disc": _floats(scene.disc.rim()) if scene.disc is not None else None,
        "low": points.min(axis=0).tolist(),
        "high": points.max(axis=0).tolist(),
        "colours": {
            "balance": palette.BALANCE,
            "contact": palette.CONTACT,
            "dimension": palette.DIMENSION,
            "disc": palette.DISC,
            "axes": palette.AXES,
        },
    }


def _item(part: Item) -> dict[str, Any]:
    tint = part.tint
    return {
        "name": part.name,
        "group": part.group,
        "material": part.material,
        "mass": part.mass,
        "basis": part.basis,
        "colour": tint.colour,
        "opacity": tint.opacity,
        "skin": part.look in SKIN,
    }


def _body(body: Body) -> dict[str, Any]:
    return {**_surface(body), "edges": _floats(inked(body.vertices, body.faces))}


def _surface(body: Body) -> dict[str, Any]:
    return {
        **_item(body),
        "positions": _floats(body.vertices),
        "index": base64.b64encode(np.ascontiguousarray(body.faces, "<u4").tobytes()).decode("ascii"),
        "centre": body.vertices.mean(axis=0).round(2).tolist(),
    }


def _coats(scene: Scene) -> list[dict[str, Any]]:
    """Coats go where the part under them goes, and are seen when it is; pointing at one points at the part."""
    bodies = {body.name: body for body in scene.bodies}
    made = []
    for coat in scene.coats:
        under = bodies.get(coat.on or "", coat)
        centre = under.vertices.mean(axis=0).round(2).tolist()
        made.append({**_surface(coat), "centre": centre, "coats": under.group})
    return made


def _line(line: Line) -> dict[str, Any]:
    pieces = [np.stack([path[:-1], path[1:]], axis=1) for path in line.paths if len(path) > 1]
    segments = np.concatenate(pieces) if pieces else np.zeros((0, 2, 3))
    middle = segments.reshape(-1, 3).mean(axis=0) if len(segments) else np.zeros(3)
    return {**_item(line), "edges": _floats(segments), "centre": middle.round(2).tolist()}


def _floats(values: Array) -> str:
    return base64.b64encode(np.ascontiguousarray(values, "<f4").tobytes()).decode("ascii")


def _dimensions(dimensions: tuple[Dimension, ...], points: Array) -> list[dict[str, Any]]:
    """Each dimension once: its two extension lines and its own line, standing off the model."""
    result = []
    for dimension in {d.name: d for d in reversed(dimensions)}.values():
        outward = np.array(dimension.outward)
        away = float((points @ outward).max()) + STAND_OFF_MM
        feet = [np.array(point) for point in (dimension.start, dimension.end)]
        middle = (feet[0] + feet[1]) / 2.0
        # Both ends of the line lie in one plane across the measured direction's neighbours.
        along = np.array(dimension.along)
        ends = []
        for foot in feet:
            end = middle + along * float((foot - middle) @ along)
            ends.append(end + outward * (away - float(end @ outward)))
        segments = np.array([[feet[0], ends[0]], [feet[1], ends[1]], ends])
        at = ((ends[0] + ends[1]) / 2.0).tolist()
        result.append({"text": dimension.text, "segments": _floats(segments), "at": at, "along": dimension.along})
    return result


def _groups(scene: Scene, weights: dict[str, str]) -> list[dict[str, Any]]:
    items = (*scene.bodies, *scene.lines, *scene.coats)
    names = dict.fromkeys(item.group for item in items)
    return [
        {
            "name": name,
            "mass": weights.get(name, ""),
            "parts": [(number, item) for number, item in enumerate(items) if item.group == name],
        }
        for name in names
    ]


def _in_script(text: str) -> str:
    """JSON that cannot end the script element it stands in."""
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
