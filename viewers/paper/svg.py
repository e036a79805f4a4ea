"""Writes a drawing as SVG, one unit a millimetre, a group for each layer."""

from __future__ import annotations

from html import escape
from math import atan, degrees

from viewers.paper.drawing import STYLES, Curve, Drawing, Layer, Text, arc

CAPITAL = 0.718
"""Height of a capital over the size of the type, of a plain sans serif."""


def svg(drawing: Drawing) -> bytes:
    """Width and height are stated in millimetres and the view box in the same, so that 1 unit is 1 mm everywhere."""
    x0, y0, x1, y1 = drawing.box
    width, height = _number(x1 - x0), _number(y1 - y0)
    rows = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="{_number(x0)} {_number(-y1)} {width} {height}">',
        f"<title>{escape(drawing.title)}</title>",
    ]
    for layer in drawing.layers():
        rows += _layer(drawing, layer)
    return "\n".join([*rows, "</svg>", ""]).encode()


def _layer(drawing: Drawing, layer: Layer) -> list[str]:
    style = STYLES[layer]
    if layer == "TEXT":
        letters = 'font-family="Helvetica, Arial, sans-serif" fill="#000"'
        return [f'<g id="TEXT" {letters}>', *(_text(text) for text in drawing.texts), "</g>"]
    head = f'<g id="{layer}" fill="none" stroke="#000" stroke-width="{style.width_mm:g}">'
    return [head, *(_path(curve) for curve in drawing.curves if curve.layer == layer), "</g>"]


def _path(curve: Curve) -> str:
    steps = [f"M{_point(curve.points[0])}"]
    for start, end, bulge in curve.edges():
        if bulge:
            _, radius, _ = arc(start, end, bulge)
            large = int(abs(4.0 * atan(bulge)) > 3.141592653589793)
            # Upwards is negative in SVG: a left-turning arc is one of sweep flag 0.
            steps.append(f"A{_number(radius)} {_number(radius)} 0 {large} {int(bulge < 0.0)} {_point(end)}")
        else:
            steps.append(f"L{_point(end)}")
    dashes = f' stroke-dasharray="{" ".join(f"{dash:g}" for dash in curve.dashes_mm)}"' if curve.dashes_mm else ""
    return f'<path d="{" ".join(steps)}{" Z" if curve.is_closed else ""}"{dashes}/>'


def _text(text: Text) -> str:
    x, y = text.at
    place = f"translate({_number(x)} {_number(-y)}) rotate({_number(-degrees(text.angle_rad))})"
    size, anchor = text.height_mm / CAPITAL, "middle" if text.is_centred else "start"
    look = f'text-anchor="{anchor}" y="{_number(text.height_mm / 2.0)}" font-size="{_number(size)}"'
    return f'<text transform="{place}" {look}>{escape(text.text)}</text>'


def _point(point: tuple[float, float]) -> str:
    return f"{_number(point[0])} {_number(-point[1])}"


def _number(value: float) -> str:
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")
