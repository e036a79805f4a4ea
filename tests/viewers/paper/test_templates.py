"""The whole folder of templates: complete, the same every time, nothing half written."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import ezdxf
import numpy as np
import pypdfium2
import pytest
import shapely

from airframe.axes import Place
from airframe.cutting.patterns import patterns
from airframe.cutting.sheets import Sheet
from airframe.drawing import Panel, Part, PartError, loop, rectangle
from airframe.materials import MATERIALS
from airframe.model import Aeroplane
from airframe.writing import WriteError
from tests.designs import plain
from tests.viewers.conftest import fitted
from viewers.paper.drawing import LEAST_LETTER_MM
from viewers.paper.sheet_drawing import sheet_drawing
from viewers.paper.templates import left_over, write_templates

CONFIGS = Path(__file__).parents[3] / "configs"


@pytest.fixture(scope="module")
def written(tmp_path_factory) -> list[Path]:
    return write_templates(fitted(), tmp_path_factory.mktemp("cut") / "new", "a4", 0.0, 0)


def test_the_files(written) -> None:
    """A PDF first, a DXF and an SVG for every sheet and the wires, a shopping list, all in the folder that was made."""
    names = [path.name for path in written]
    assert names[0] == "templates.pdf" and names[-1] == "shopping-list.txt"
    drawings = {name.rsplit(".", 1)[0] for name in names[1:-1]}
    assert {f"{one}.{ending}" for one in drawings for ending in ("dxf", "svg")} == set(names[1:-1])
    assert "wires" in drawings and all(path.stat().st_size > 500 for path in written)


def test_the_same_again(written, tmp_path) -> None:
    """The same design, seed and seconds give the same bytes."""
    again = write_templates(fitted(), tmp_path, "a4", 0.0, 0)
    for one, other in zip(written, again, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name


def test_every_part_is_named_in_the_pdf(written) -> None:
    """All parts cut from sheet, all wires and all joints stand somewhere in the words of the PDF."""
    document = pypdfium2.PdfDocument(written[0].read_bytes())
    words = " ".join(page.get_textpage().get_text_range() for page in document)
    flat = " ".join(words.split())
    for part in fitted().parts:
        name = part.name.removeprefix("glue, ")
        if part.group == "glue" or (part.material.kind == "sheet" and isinstance(part.shape, Panel)):
            assert name in flat, part.name
    assert "Epoxy" in flat and "Hot glue" in flat and "Knife" in flat and "dust mask" in flat


def test_outlines_in_the_dxf_are_the_parts(written) -> None:
    """Re-read, the closed outlines on CUT enclose the areas of the parts' patterns, holes among them."""
    expected = sorted(loop.area() for pattern in patterns(fitted().parts) for loop in (pattern.outline, *pattern.holes))
    found = []
    for path in written:
        if path.suffix == ".dxf" and path.stem != "wires":
            for line in ezdxf.read(io.StringIO(path.read_text())).modelspace().query('LWPOLYLINE[layer=="CUT"]'):
                assert line.closed
                corners = np.array([tuple(corner)[:2] for corner in line.vertices_in_wcs()])
                found.append(None if line.has_arc else shapely.Polygon(corners).area)
    assert len(found) == len(expected)
    straight = sorted(area for area in found if area is not None)
    assert all(min(abs(np.array(expected) - area)) < 1e-3 for area in straight)


@pytest.mark.parametrize("paper", ["a3", "letter", "plot"])
def test_other_papers(paper, tmp_path) -> None:
    """Each paper gives its pages; the plotter's is one page a sheet."""
    (path, *_) = write_templates(Aeroplane(plain()), tmp_path, paper, 0.0, 0)
    sizes = [tuple(page.get_size()) for page in pypdfium2.PdfDocument(path.read_bytes())]
    assert len(sizes) > 3
    if paper == "plot":
        assert max(max(size) for size in sizes) / 72.0 * 25.4 > 762.0


def test_nothing_is_written_for_what_no_sheet_takes(tmp_path) -> None:
    """A wing longer than the sheet is refused by name, and the folder is not made."""
    with pytest.raises(PartError, match="wing skin 1 right"):
        write_templates(
            Aeroplane(plain(stock={"sheet_length": "400 mm", "sheet_width": "300 mm"})), tmp_path / "no", "a4", 0.0
        )
    assert not (tmp_path / "no").exists()


def test_sheets_of_an_earlier_plan_are_told(tmp_path) -> None:
    """A sheet's file in the folder that this plan did not write is named; files of other names are not."""
    for name in ("sheet-9-old-foam.dxf", "sheet-1-now.svg", "notes.txt"):
        (tmp_path / name).write_text("")
    assert left_over(tmp_path, [tmp_path / "sheet-1-now.svg"]) == [tmp_path / "sheet-9-old-foam.dxf"]


def test_a_folder_that_cannot_be_made(tmp_path) -> None:
    """A file in the way is told in one sentence."""
    (tmp_path / "taken").write_text("")
    with pytest.raises(WriteError, match="taken"):
        write_templates(Aeroplane(plain()), tmp_path / "taken", "a4", 0.0)


def test_lettering_stays_inside_its_part_and_readable() -> None:
    """No letter of a pattern is smaller than can be read, and each line of lettering lies within its outline."""
    material = MATERIALS["foam board 5 mm"]
    part = Part("former F1", "fuselage", Panel(rectangle(0, 0, 70, 50), 5.0), Place(), material)
    (pattern,) = patterns([part])
    sheet = Sheet(1, material, 300.0, 200.0, 5.0, "any", True, (pattern,))
    drawing = sheet_drawing(sheet, {"former F1": 7}, "metric")
    own = drawing.texts[:-1]
    assert own[0].text == "7 former F1" and len(own) == 3
    for text in own:
        assert text.height_mm >= LEAST_LETTER_MM
        assert shapely.Polygon(pattern.outline.points).contains(shapely.Point(text.at))


def test_no_solid_and_no_mesh_is_made(tmp_path) -> None:
    """Templates come straight from the drawings: neither CAD kernel nor mesh library is imported for them."""
    code = (
        "import sys; from pathlib import Path; from airframe.config import load; from airframe.model import Aeroplane; "
        "from viewers.paper.templates import write_templates; "
        f"write_templates(Aeroplane(load({str(CONFIGS / 'plover.toml')!r})), Path({str(tmp_path)!r}), 'a4', 0.0); "
        "print(sorted({'cadquery', 'OCP', 'trimesh', 'vtk', 'pyvista', 'scipy'} & set(sys.modules)))"
    )
    result = subprocess.run(
        [sys.executable, "-c", code], cwd=CONFIGS.parent, capture_output=True, text=True, check=True
    )
    assert result.stdout.strip() == "[]"


def test_every_grained_piece_shows_its_grain() -> None:
    """Even a gusset of 12 mm has an arrow inside it, along the sheet's grain, whichever way that runs."""
    plywood = MATERIALS["birch plywood 3 mm"]
    gusset = Part("gusset", "fuselage", Panel(loop([(0, 0), (12, 0), (0, 12)]), 3.0), Place(), plywood)
    (pattern,) = patterns([gusset])
    for grain, axis in (("length", 0), ("width", 1)):
        sheet = Sheet(1, plywood, 300.0, 200.0, 5.0, grain, True, (pattern,))
        shaft, *heads = (
            curve for curve in sheet_drawing(sheet, {"gusset": 1}, "metric").curves if curve.layer == "GRAIN"
        )
        assert len(heads) == 2 and shaft.points[0][1 - axis] == shaft.points[1][1 - axis]
        assert shapely.Polygon(pattern.outline.points).contains(shapely.LineString(shaft.points))
