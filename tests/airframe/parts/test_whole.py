"""The complete aeroplane as a list of parts."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from airframe.drawing import PartError
from airframe.layout import Layout
from airframe.parts import equipment, gear, whole
from airframe.parts.common import GROUPS
from tests.designs import plain
from tests.fittings import MOTOR, PROPELLER, gear_data

ROOT = Path(__file__).parents[3]
HEAVY = ("cadquery", "OCP", "trimesh", "pyvista", "vtk", "shapely", "scipy", "manifold3d")


def complete(**more_items: object) -> Layout:
    """The plain design with gear, motor, propeller and a coat of paint."""
    items = {"motor": MOTOR, "propeller": PROPELLER, **more_items}
    coat = {"on": "fuselage side*", "material": "acrylic paint"}
    return Layout(plain(gear=gear_data(), equipment=items, finish=[coat]))


def test_every_family_is_there() -> None:
    """Wing, tail, fuselage, gear, propulsion, glue and finish each have parts in a complete aeroplane."""
    groups = {part.group for part in whole.build(complete())}
    assert {"wing", "tail", "fuselage", "landing gear", "propulsion", "glue", "finish"} <= groups


def test_parts_come_group_by_group() -> None:
    """The order is that of the weight statement, and within a group that of the family."""
    layout = complete()
    parts = whole.build(layout)
    order = [GROUPS.index(part.group) for part in parts]
    assert order == sorted(order)
    in_family = [part.name for part in gear.parts(layout) if part.group == "landing gear"]
    assert [part.name for part in parts if part.group == "landing gear"] == in_family
    items = [part.name for part in equipment.parts(layout)]
    assert [part.name for part in parts if part.group == "propulsion"] == items


def test_names_are_unique() -> None:
    """No two lines of the weight statement have one name."""
    names = [part.name for part in whole.build(complete())]
    assert len(names) == len(set(names))


def test_second_part_of_a_name_is_refused() -> None:
    """An item called like a part of the structure is refused, and both groups are named."""
    item = {"mass": "9 g", "size": ["10 mm", "10 mm", "10 mm"], "station": "200 mm"}
    with pytest.raises(PartError, match=r"gear plate: two parts have this name.*'landing gear'.*'payload'"):
        whole.build(complete(**{"gear plate": item}))


def test_drawing_needs_no_heavy_library() -> None:
    """A whole aeroplane is drawn without the kernel, the meshes or the pictures being imported."""
    code = (
        "import sys; from tests.airframe.parts.test_whole import complete; from airframe.parts import whole;"
        f"whole.build(complete()); print([m for m in {HEAVY} if m in sys.modules])"
    )
    result = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert result.stdout.strip() == "[]", result.stderr
