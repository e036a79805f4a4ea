"""Whatever is thrown at it, reading gives a design or a list of problems."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from airframe.config import ConfigError, from_dict, from_text
from tests.plane import PLANE

JUNK = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=5), st.dates(), st.just("none")),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)
PATHS = st.sampled_from(
    (
        "name",
        "units",
        "mesh_angle",
        "wing",
        "wing.panels",
        "wing.panels.0",
        "wing.panels.0.span",
        "wing.scores",
        "wing.spar.material",
        "fuselage.stations",
        "tail.elevator",
        "gear",
        "glue.foam_joint",
        "materials",
        "finish",
        "weighed",
        "equipment",
        "equipment.battery",
        "equipment.battery.kind",
        "equipment.battery.size",
    )
)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.tuples(PATHS, JUNK), min_size=1, max_size=3))
def test_any_junk_is_a_design_or_a_config_error(changes: list[tuple[str, Any]]) -> None:
    """Whatever stands in a place, the answer is a design or a list of problems in our own words."""
    data: Any = tomllib.loads(PLANE)
    for path, junk in changes:
        *way, last = [int(part) if part.isdigit() else part for part in path.split(".")]
        holder = data
        try:
            for step in way:
                holder = holder[step]
            holder[last] = junk
        except (TypeError, KeyError, IndexError):
            continue
    try:
        from_dict(data)
    except ConfigError as error:
        assert error.problems
        assert "Input should" not in str(error)
        assert "pydantic" not in str(error)


@given(st.text(max_size=60))
def test_any_text_is_a_config_error(text: str) -> None:
    """No text whatever gets through as a traceback."""
    with pytest.raises(ConfigError):
        from_text(text)


def test_reading_imports_nothing_heavy() -> None:
    """A process that only reads a config has loaded no CAD kernel, no mesh library, no screen, no oracle."""
    heavy = ("cadquery", "OCP", "trimesh", "pyvista", "vtk", "vtkmodules", "scipy", "shapely", "pint")
    code = f"import sys, airframe.config, airframe.starter; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
