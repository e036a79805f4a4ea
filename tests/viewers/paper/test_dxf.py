"""DXF: re-read by the library, every outline where it was drawn."""

from __future__ import annotations

import io

import ezdxf
import numpy as np
import pytest

from viewers.paper.drawing import FAR_MM, LAYERS
from viewers.paper.dxf import dxf


@pytest.fixture(scope="module")
def document(drawing):
    return ezdxf.read(io.StringIO(dxf(drawing).decode()))


def test_millimetres_and_release(document) -> None:
    """R2010 (AC1024), insertion units 4 = millimetres, metric measurement, as the DXF reference numbers them."""
    assert document.dxfversion == "AC1024"
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)


def test_the_layers(document) -> None:
    """The six layers of the templates are there, and everything is on one of them."""
    assert {layer.dxf.name for layer in document.layers} >= set(LAYERS)
    assert {entity.dxf.layer for entity in document.modelspace()} <= set(LAYERS)


def test_outlines_come_back_true(document, drawing) -> None:
    """Corners and bulges are those that were drawn, to a nanometre; over 500 mm nothing is lost."""
    lines = [entity for entity in document.modelspace() if entity.dxftype() == "LWPOLYLINE"]
    assert len(lines) == len(drawing.curves)
    for read, curve in zip(lines, drawing.curves, strict=True):
        rows = np.array([(x, y, bulge) for x, y, _, _, bulge in read])
        np.testing.assert_allclose(rows[:, :2], curve.points, atol=1e-6)
        np.testing.assert_allclose(rows[:, 2], curve.bulges, atol=1e-6)
        assert (read.closed, read.dxf.layer) == (curve.is_closed, curve.layer)


def test_the_library_measures_the_same_size(document) -> None:
    """The library's own bounding box of the cut layer is 500 mm long (arcs included), as drawn."""
    from ezdxf import bbox

    cut = document.modelspace().query('LWPOLYLINE[layer=="CUT"]')
    assert bbox.extents(cut[:1]).size.x == pytest.approx(500.0, abs=0.2)


def test_the_far_face_is_dotted(document) -> None:
    """Lines on the face underneath have a line type of their own, of dots."""
    (far,) = document.modelspace().query('LWPOLYLINE[layer=="MARK"]')
    pattern = document.linetypes.get(far.dxf.linetype).pattern_tags
    assert [abs(tag.value) for tag in pattern.tags if tag.code == 49] == list(FAR_MM)


def test_the_auditor_finds_nothing(document) -> None:
    """The library's own auditor has no error to report."""
    assert document.audit().errors == []


def test_same_drawing_same_bytes(drawing) -> None:
    """The file holds no date and no name."""
    assert dxf(drawing) == dxf(drawing)
