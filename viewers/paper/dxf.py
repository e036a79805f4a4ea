"""Writes a drawing as DXF R2010 in millimetres."""

from __future__ import annotations

import io
from math import degrees
from typing import Any

from viewers.paper.drawing import FAR_MM, LAYERS, STYLES, Drawing, Text

FAR_LINETYPE = "UNDERNEATH"


def dxf(drawing: Drawing) -> bytes:
    """The same bytes for the same drawing: the file carries no date and no name of a person.

    Arcs stay arcs. Layers have their line types; what lies on the far face has a dotted one of its own.
    """
    import ezdxf
    from ezdxf import units

    fixed, ezdxf.options.write_fixed_meta_data_for_testing = ezdxf.options.write_fixed_meta_data_for_testing, True
    try:
        document = ezdxf.new("R2010", units=units.MM)
        document.header["$MEASUREMENT"] = 1
        document.header["$LTSCALE"] = 1.0
        _set_up(document)
        space = document.modelspace()
        for curve in drawing.curves:
            corners = [(x, y, bulge) for (x, y), bulge in zip(curve.points, curve.bulges, strict=True)]
            look = {"layer": curve.layer} | ({"linetype": FAR_LINETYPE} if curve.is_far else {})
            space.add_lwpolyline(corners, format="xyb", close=curve.is_closed, dxfattribs=look)
        for text in drawing.texts:
            _letter(space, text)
        stream = io.StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = fixed
    return stream.getvalue().encode("utf-8")


def _set_up(document: Any) -> None:
    for layer in LAYERS:
        style = STYLES[layer]
        linetype = "CONTINUOUS"
        if style.dashes_mm:
            linetype = f"{layer}LINE"
            document.linetypes.add(linetype, pattern=_pattern(style.dashes_mm), description=style.words)
        made = document.layers.add(layer, color=7, linetype=linetype, lineweight=round(style.width_mm * 100.0))
        made.description = style.words
    document.linetypes.add(FAR_LINETYPE, pattern=_pattern(FAR_MM), description="on the face underneath")


def _pattern(dashes_mm: tuple[float, ...]) -> list[float]:
    """Total length, then dashes positive and gaps negative."""
    signed = [dash if i % 2 == 0 else -dash for i, dash in enumerate(dashes_mm)]
    return [sum(dashes_mm), *signed]


def _letter(space: Any, text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment

    look = {"layer": "TEXT", "rotation": degrees(text.angle_rad)}
    made = space.add_text(text.text.replace("°", "%%d"), height=text.height_mm, dxfattribs=look)
    align = TextEntityAlignment.MIDDLE_CENTER if text.is_centred else TextEntityAlignment.MIDDLE_LEFT
    made.set_placement(text.at, align=align)
