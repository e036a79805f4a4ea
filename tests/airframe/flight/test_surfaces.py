"""From a design to sheets: edges, incidence, camber, hinges, and a lattice fine enough."""

from __future__ import annotations

import subprocess
import sys
from math import cos, pi, radians, tan

import numpy as np
import pytest

from airframe.axes import Array
from airframe.flight import surfaces
from airframe.flight.lattice import Lattice
from airframe.flight.panels import cut
from airframe.flight.plan import plan
from airframe.layout import Layout
from tests.designs import plain

POLYHEDRAL = {
    "root_chord": "220 mm",
    "station": "150 mm",
    "incidence": "0 deg",
    "panels": [
        {"span": "300 mm", "sweep": "3 deg"},
        {"span": "200 mm", "tip_chord": "150 mm", "sweep": "8 deg", "dihedral": "15 deg"},
    ],
}


def _layout(**wing: object) -> Layout:
    return Layout(plain(wing=POLYHEDRAL | wing))


def test_neighbouring_sheets_share_their_edges() -> None:
    """Panels meet without a gap, whatever their dihedral, sweep and the wing's incidence: no false vortices there."""
    sheets = surfaces.wing_sheets(_layout(incidence="4 deg"))
    right = sheets[len(sheets) // 2 :]
    np.testing.assert_allclose(right[0].end.leading_m, right[1].start.leading_m, atol=1e-12)
    np.testing.assert_allclose(right[0].start.leading_m[1], 0.0, atol=1e-15)
    assert right[0].end.chord_m == pytest.approx(right[1].start.chord_m, rel=1e-12)


def test_wing_plan_is_the_layouts() -> None:
    """Area, span and mean chord agree with the exact ones of the layout."""
    layout = _layout()
    found, chord = plan(surfaces.wing_sheets(layout), "wing"), layout.mean_chord
    assert found.area_m2 == pytest.approx(chord.area_mm2 * 1e-6, rel=1e-9)
    assert found.span_m == pytest.approx(chord.span_mm * 1e-3, rel=1e-9)
    assert found.mean_chord_m == pytest.approx(chord.length_mm * 1e-3, rel=1e-9)
    quarter = chord.leading_edge_mm + 0.25 * chord.length_mm
    assert found.quarter_chord_m == pytest.approx(quarter * 1e-3, rel=1e-9)


def test_tail_plan_by_hand() -> None:
    """Stabiliser 320 x 90 mm, gap 1 mm, elevator 40 mm; fin 110 mm high, counted from the stabiliser's middle plane."""
    layout = Layout(plain())
    found = surfaces.tail_sheets(layout)
    flat = cos(layout.slope_rad("top", 505.0, 595.0))
    assert plan(found, "stabiliser").area_m2 == pytest.approx(0.320 * 0.131 * flat, rel=1e-9)
    thickness = layout.design.material(layout.design.tail.material).thickness_mm
    assert plan(found, "fin").span_m == pytest.approx((110.0 + thickness / 2.0) * 1e-3, rel=1e-9)


def test_normals_are_those_of_the_drawing() -> None:
    """A flat plate set at an incidence and a dihedral: (sin i, -sin g cos i, cos g cos i), mirrored on the left."""
    layout = _layout(section="flat plate", incidence="3 deg")
    _, left, _, right = surfaces.wing_sheets(layout)
    i, g = radians(3.0), radians(15.0)
    np.testing.assert_allclose(np.linalg.norm(right.normals, axis=1), 1.0, atol=1e-12)
    expected = np.array([np.sin(i) * cos(g), -np.sin(g), cos(g) * cos(i)])
    np.testing.assert_allclose(right.normals[0], expected, atol=1e-9)
    np.testing.assert_allclose(left.normals[0], expected * (1, -1, 1), atol=1e-9)


def _zero_lift_rad(layout: Layout) -> float:
    """Incidence at which the wing alone bears nothing."""
    lattice = Lattice(cut(surfaces.wing_sheets(layout)))
    ahead, down = (lattice.circulation((u, 0, w, 0, 0, 0), ()) for u, w in ((1.0, 0.0), (0.0, 1.0)))
    widths = np.linalg.norm(lattice.panels.bound[:, 1:2], axis=1)
    return float(-(ahead @ widths) / (down @ widths))


def _thin_aerofoil_rad(camber: float, position: float) -> float:
    """Zero-lift angle of two parabolas: -1/pi integral of slope (cos t - 1) dt (Abbott & von Doenhoff, from memory)."""
    t = (np.arange(20_000) + 0.5) * pi / 20_000
    x = (1.0 - np.cos(t)) / 2.0
    reach: Array = np.where(x < position, position, 1.0 - position)
    slope = 2.0 * camber / reach**2 * (position - x)
    return float(np.mean(slope * (np.cos(t) - 1.0)))


def test_5_12_camber_of_the_bent_plate() -> None:
    """6 % at 35 %: zero lift at thin-aerofoil theory's angle within 3 %; degrees are near percent (5.12, secondary)."""
    layout = _layout(camber="6 %", camber_position="35 %", scores=9)
    found = -_zero_lift_rad(layout)
    assert found == pytest.approx(_thin_aerofoil_rad(0.06, 0.35), rel=0.03)
    assert np.degrees(found) == pytest.approx(6.0, abs=0.6)


def test_incidence_shifts_the_zero_lift_angle() -> None:
    """A wing set 4 deg nose up stops lifting 4 deg earlier."""
    flat, set_up = (_zero_lift_rad(_layout(section="flat plate", incidence=i)) for i in ("0 deg", "4 deg"))
    assert flat == pytest.approx(0.0, abs=1e-12)
    assert set_up == pytest.approx(-tan(radians(4.0)), rel=1e-9)


def test_a_folded_section_has_the_mean_line_of_its_two_skins() -> None:
    """Flat lower skin, cambered upper one: about half the upper skin's camber, less for the nose's height."""
    folded = -_zero_lift_rad(_layout(section="folded", nose_height="20 mm", camber="6 %"))
    plate = -_zero_lift_rad(_layout(camber="6 %"))
    assert 0.3 * plate < folded < 0.9 * plate


def test_only_the_moving_surfaces_move() -> None:
    """Elevator panels lie behind its hinge line on the stabiliser, rudder panels behind theirs on the fin."""
    panels = surfaces.lattice(Layout(plain())).panels
    for control, surface, hinge_m in (("elevator", "stabiliser", 0.595), ("rudder", "fin", 0.595)):
        moves = np.any(panels.tips[control] != 0.0, axis=1)
        assert not np.any(moves & ~panels.of(surface))
        behind = panels.of(surface) & (panels.control[:, 0] > hinge_m)
        np.testing.assert_array_equal(moves, behind)


def test_a_split_elevator_leaves_the_stabiliser_alone_in_its_gap() -> None:
    """The elevator's area is its two halves; it moves less air than one piece."""
    whole = surfaces.lattice(Layout(plain()))
    elevator = {"root_chord": "40 mm", "split": True, "split_gap": "60 mm"}
    split = surfaces.lattice(Layout(plain(tail__elevator=elevator)))
    force = [x.loads((8.0, 0, 0, 0, 0, 0), (0.0, 0.0), 1.2).slopes[2, 6] for x in (whole, split)]
    assert 0.7 < force[1] / force[0] < 0.98


def test_a_symmetric_design_flies_straight() -> None:
    """Symmetric flight of a whole design makes no sideways load to 1e-10."""
    lattice = surfaces.lattice(_layout())
    wrench = lattice.loads((8.0, 0.0, 0.5, 0.0, 0.2, 0.0), lattice.deflections({"elevator": -0.1}), 1.2).wrench
    assert np.abs(wrench[[1, 3, 5]]).max() < 1e-10 * np.abs(wrench).max()


def test_the_lattice_is_fine_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Twice as fine each way, lift slope and neutral point hardly move: under 0.5 % and 0.5 % of the chord."""
    layout = _layout()

    def lift_and_point() -> tuple[float, float]:
        slopes = surfaces.lattice(layout).loads((8.0, 0, 0, 0, 0, 0), (0.0, 0.0), 1.2).slopes
        return slopes[2, 2], slopes[4, 2] / slopes[2, 2]

    coarse = lift_and_point()
    for name in ("WING_STRIPS", "WING_ROWS", "TAIL_STRIPS", "FIXED_ROWS", "MOVING_ROWS"):
        monkeypatch.setattr(surfaces, name, 2 * getattr(surfaces, name))
    fine = lift_and_point()
    assert coarse[0] == pytest.approx(fine[0], rel=5e-3)
    assert coarse[1] == pytest.approx(fine[1], abs=5e-3 * 0.21)


def test_no_cad_kernel_is_imported() -> None:
    """Flight estimates need neither the CAD kernel nor the mesh library."""
    program = (
        "import sys, airframe.flight.trim; print(sorted({'cadquery', 'trimesh', 'OCP', 'scipy'} & set(sys.modules)))"
    )
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"
