"""The wing's skins, joints, tape and bands."""

from __future__ import annotations

from math import asinh, cos, radians, sin, sqrt
from typing import Any

import numpy as np
import pytest

from airframe import solids
from airframe.axes import Array
from airframe.drawing import Bead, Film, Panel, Part, PartError
from airframe.folding import fold
from airframe.layout import Layout
from airframe.parts import wing
from airframe.parts.wing_bands import STRETCH
from airframe.schema.design import Design
from tests.designs import plain
from tests.overlaps import manifolds, overlaps

SLIVER_MM3 = 0.5
TOUCH_MM = 1e-3

MOUNTING = {
    "front": {"station": "100 mm", "water_line": "20 mm"},
    "rear": {"station": "330 mm", "water_line": "20 mm"},
}
TAPERED = [
    {"span": "250 mm"},
    {"span": "200 mm", "tip_chord": "150 mm", "sweep": "5 deg", "dihedral": "14 deg"},
]
POLYHEDRAL = [{"span": "250 mm", "dihedral": "2 deg"}, {"span": "200 mm", "dihedral": "16 deg"}]
INCHES = {
    "material": "foam board 3/16 in",
    "root_chord": "8 in",
    "panels": [{"span": "18 in", "tip_chord": "6 in", "dihedral": "4 deg", "sweep": "3 deg"}],
    "rib_positions": ["6 in", "12 in"],
    "spar": {"width": "1/4 in", "height": "1/8 in"},
}


def built(**wing_table: Any) -> dict[str, Part]:
    """The wing's parts by name."""
    return by_name(plain(wing=wing_table))


def by_name(design: Design) -> dict[str, Part]:
    return {part.name: part for part in wing.parts(Layout(design))}


def panel_of(part: Part) -> Panel:
    assert isinstance(part.shape, Panel)
    return part.shape


def corners(part: Part) -> Array:
    """Every corner of both faces of a bent panel, in the aeroplane's frame."""
    facets = fold(panel_of(part)).facets
    return part.place.apply(np.vstack([ring for facet in facets for ring in (*facet.outer, *facet.inner)]))


# --- skins ----------------------------------------------------------------------------------------------------


def test_flat_plate_weighs_its_area() -> None:
    """Two rectangular halves of 450 x 200 mm at 440 g/m^2 weigh 2 x 0.45 x 0.2 x 440 g."""
    parts = built(section="flat plate")
    skins = [parts[f"wing skin 1 {side}"] for side in ("right", "left")]
    masses = [solids.exact(solids.solid(skin.shape)).mass * skin.material.weight for skin in skins]
    assert [panel_of(skin).area() for skin in skins] == pytest.approx([450.0 * 200.0] * 2, rel=1e-12)
    assert sum(masses) == pytest.approx(2 * 0.45 * 0.2 * 440.0, rel=1e-9)


@pytest.mark.parametrize(("sweep", "tip"), [(0.0, 200.0), (10.0, 140.0), (-8.0, 220.0)])
def test_flat_plate_area_of_a_tapered_panel(sweep: float, tip: float) -> None:
    """A trapezium's area is its span times its mean chord, however it is swept."""
    panels = [{"span": "450 mm", "tip_chord": f"{tip} mm", "sweep": f"{sweep} deg"}]
    skin = built(section="flat plate", panels=panels)["wing skin 1 right"]
    assert panel_of(skin).area() == pytest.approx(450.0 * (200.0 + tip) / 2.0, rel=1e-8)


def test_developed_length_tends_to_the_arc() -> None:
    """The flat skin's width tends to the length of the parabola 4 m x (c - x) / c^2, the error as 1 / facets^2.

    Arc: c/2 sqrt(1 + 16 m^2) + c / (8 m) asinh(4 m) for a rise m c in the middle (any calculus text).
    """
    m, chord = 0.08, 200.0
    arc = chord / 2.0 * sqrt(1.0 + 16.0 * m * m) + chord / (8.0 * m) * asinh(4.0 * m)
    errors = []
    for scores in (3, 7, 15):  # an even number of facets has a corner at the top
        skin = built(camber="8 %", camber_position="50 %", scores=scores)["wing skin 1 right"]
        errors.append(arc - panel_of(skin).area() / 450.0)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.05)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.05)
    assert 0.0 < errors[2] < 1e-4 * arc


def test_section_has_the_camber_stated() -> None:
    """The upper face rises the camber above the line through its ends, and the skin rests on z = 0 of the wing."""
    design = plain(wing={"camber": "9 %", "camber_position": "30 %", "scores": 5, "incidence": "0 deg"})
    heights = corners(by_name(design)["wing skin 1 right"])[:, 2] - 40.0
    upper = fold(panel_of(by_name(design)["wing skin 1 right"])).facets
    ends = by_name(design)["wing skin 1 right"].place.apply([upper[0].outer[0][0]])[0, 2] - 40.0
    assert heights.max() - ends == pytest.approx(0.09 * 200.0, abs=1e-6)
    assert heights.min() == pytest.approx(0.0, abs=1e-6)


def test_folds_are_about_even() -> None:
    """Every score turns by about the same angle: no two differ by more than a quarter."""
    turns = [s.angle_rad for s in panel_of(built(scores=7)["wing skin 1 right"]).scores]
    assert len(turns) == 7
    assert max(turns) < 1.25 * min(turns)


@pytest.mark.parametrize("section", ["curved plate", "flat plate", "folded"])
def test_left_half_mirrors_the_right(section: str) -> None:
    """Every left-hand part is its right-hand fellow's shape in the mirrored place; what has no side is symmetric."""
    parts = built(section=section, panels=TAPERED, mounting=MOUNTING)
    for name, part in parts.items():
        if name.endswith(" right"):
            left = parts[name.removesuffix("right") + "left"]
            assert left.shape == part.shape
            assert left.place == part.place.mirrored()
        elif isinstance(part.shape, Bead) and not name.endswith("left"):
            y = np.vstack([np.array(path) for path in part.shape.paths])[:, 1]
            assert sorted(y) == pytest.approx(sorted(-y), abs=1e-6)


def test_folded_section_is_one_sheet_bent_one_way() -> None:
    """Lower skin, nose and upper skin: all folds one way, a right angle first, the trailing edges touching."""
    parts = built(section="folded", nose_height="22 mm", incidence="0 deg", panels=TAPERED)
    skin = parts["wing skin 1 right"]
    turns = [s.angle_rad for s in panel_of(skin).scores]
    assert turns[0] == pytest.approx(radians(90.0), abs=1e-9)
    assert len(turns) == 2 + 7
    facets = fold(panel_of(skin)).facets
    assert len(facets) == 10
    upper_inner = skin.place.apply(facets[-1].inner[0])[:, 2] - 40.0
    assert upper_inner.min() == pytest.approx(5.0, abs=1e-6)  # the sheet of the lower skin is 5 mm thick
    assert corners(skin)[:, 2].min() - 40.0 == pytest.approx(0.0, abs=1e-6)


def test_nose_too_low_is_refused_with_a_height_that_does() -> None:
    """A nose that cannot be folded is refused; the height named in the message is accepted and builds."""
    with pytest.raises(PartError, match=r"wing skin 1: .*nose_height of") as refused:
        built(section="folded", nose_height="9 mm")
    height = refused.value.problem.rsplit("nose_height of ", 1)[1]
    assert fold(panel_of(built(section="folded", nose_height=height)["wing skin 1 right"])).facets


def test_panel_shorter_than_its_joints_is_refused() -> None:
    """A span used up by the slant of the joint planes is refused; the span named does."""
    panels = [{"span": "8 mm"}, {"span": "300 mm", "dihedral": "50 deg"}]
    with pytest.raises(PartError, match="wing skin 1: its span of 8 mm") as refused:
        built(panels=panels, camber="15 %", centre_ribs=False)
    panels[0]["span"] = refused.value.problem.rsplit("it needs ", 1)[1]
    assert "wing skin 1 right" in built(panels=panels, camber="15 %", centre_ribs=False)


# --- joints ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("section", ["curved plate", "flat plate", "folded"])
def test_mitred_joint_closes(section: str) -> None:
    """At a dihedral joint of unswept panels the walls of both skins have the same corners, on both faces."""
    parts = built(section=section, panels=POLYHEDRAL)
    inner = corners(parts["wing skin 1 right"])
    ends = 2 * (len(panel_of(parts["wing skin 1 right"]).scores) + 2)  # corners of both faces along one end
    for neighbour in ("wing skin 2 right", "wing skin 1 left"):
        other = corners(parts[neighbour])
        apart = np.linalg.norm(inner[:, None] - other[None], axis=2).min(axis=1)
        shared = np.unique(np.round(inner[apart < TOUCH_MM], 2), axis=0)
        assert len(shared) == ends


@pytest.mark.parametrize("panels", [POLYHEDRAL, TAPERED])
def test_skins_touch_without_overlap(panels: list[dict[str, str]]) -> None:
    """The skins of neighbouring panels share no volume and leave no gap."""
    skins = [part for part in built(panels=panels).values() if part.name.startswith("wing skin")]
    assert overlaps(skins, SLIVER_MM3) == {}
    bodies = manifolds(skins)
    assert bodies["wing skin 1 right"].min_gap(bodies["wing skin 2 right"], 1.0) < TOUCH_MM
    assert bodies["wing skin 1 right"].min_gap(bodies["wing skin 1 left"], 1.0) < TOUCH_MM


def test_tape_covers_its_width_on_both_faces() -> None:
    """On a flat plate of 200 mm chord half the centre joint's 40 mm tape covers 2 x 20 x 200 mm^2 a side."""
    part = built(section="flat plate")["tape, centre joint right"]
    assert isinstance(part.shape, Film)
    assert fold(part.shape.panel).area(part.shape.face) == pytest.approx(2 * 20.0 * 200.0, rel=1e-9)
    assert part.group == "finish"


def test_tape_lies_on_the_skin() -> None:
    """Every corner of a tape over a dihedral joint lies on the skin's own face planes, within its span."""
    parts = built(panels=TAPERED)
    tape, skin = parts["tape, joint 1-2 inboard right"], parts["wing skin 1 right"]
    assert isinstance(tape.shape, Film)
    strip = Part("strip", "finish", tape.shape.panel, tape.place, skin.material)
    assert overlaps([strip], SLIVER_MM3) == {}
    both = manifolds([strip, skin])
    shared = (both["strip"] ^ both["wing skin 1 right"]).volume()
    assert shared == pytest.approx(both["strip"].volume(), rel=1e-4)


def test_no_tape_no_part() -> None:
    """Without a second panel only the centre joint is taped and glued."""
    parts = built()
    assert [name for name in parts if name.startswith("tape")] == [
        "tape, centre joint right",
        "tape, centre joint left",
    ]
    assert [name for name in parts if "joint" in name and name.startswith("glue")] == ["glue, wing centre joint"]


# --- rubber bands -----------------------------------------------------------------------------------------------


def test_bands_weigh_what_slack_ones_do() -> None:
    """A band of 4.6 g/m weighs its stretched length over the stretch; an even number lies half on each side."""
    parts = built(section="flat plate", mounting={**MOUNTING, "bands": 4})
    bands = {name: part for name, part in parts.items() if name.startswith("rubber band")}
    assert sorted(bands) == [f"rubber band {k} {side}" for k in (1, 2) for side in ("left", "right")]
    # Dowels 20 mm ahead of and 10 mm behind a 200 mm chord; the skin's upper face with the band 25.5 mm above them.
    strand = sqrt(20.0**2 + 25.5**2) + 200.0 + sqrt(10.0**2 + 25.5**2)
    for part in bands.values():
        assert part.mass_g == pytest.approx(2.0 * strand * 4.6e-3 / STRETCH, rel=1e-6)
        assert part.basis == "estimated"
        assert isinstance(part.shape, Bead)
        assert part.shape.paths[0][0] == part.shape.paths[0][-1]


def test_odd_band_crosses() -> None:
    """The fifth of five bands runs from the right end of the front dowel to the left end of the rear one."""
    band = built(mounting={**MOUNTING, "bands": 5})["rubber band 3 across"]
    assert isinstance(band.shape, Bead)
    path = np.array(band.shape.paths[0])
    rear = int(path[:, 0].argmax())
    assert path[0, 1] == pytest.approx(-path[rear, 1])
    assert path[0, 1] > 35.0


def test_band_is_clear_of_the_skin() -> None:
    """A band passes over the upper skin, never through it, on a wing with dihedral and incidence too."""
    design = plain(wing={"incidence": "3 deg", "panels": POLYHEDRAL, "mounting": MOUNTING})
    parts = by_name(design)
    band, skin = parts["rubber band 1 right"], parts["wing skin 1 right"]
    assert isinstance(band.shape, Bead)
    path = np.array(band.shape.paths[0])
    own = (path - np.array(Layout(design).wing_panels[0].place.origin)) @ np.array(
        Layout(design).wing_panels[0].place.rotation
    )
    over = own[(own[:, 0] > -TOUCH_MM) & (own[:, 0] < 200.0 + TOUCH_MM)]
    outer = np.vstack([facet.outer[0] for facet in fold(panel_of(skin)).facets])
    local = skin.place.apply(outer) - np.array(Layout(design).wing_panels[0].place.origin)
    local = local @ np.array(Layout(design).wing_panels[0].place.rotation)
    root = local[local[:, 1] < 10.0]
    order = np.argsort(root[:, 0])
    assert len(over) > 4
    assert np.all(over[:, 2] > np.interp(over[:, 0], root[order, 0], root[order, 2]))


# --- whole wings ------------------------------------------------------------------------------------------------

WINGS: dict[str, dict[str, Any]] = {
    "plain": {},
    "tapered": {"panels": TAPERED, "rib_positions": ["150 mm", "300 mm", "447.5 mm"], "spar": {}},
    "polyhedral": {"panels": POLYHEDRAL, "rib_positions": ["100 mm", "240 mm", "350 mm"], "spar": {}},
    "folded": {
        "section": "folded", "nose_height": "24 mm", "panels": TAPERED, "spar": {}, "rib_positions": ["150 mm"],
    },
    "inches": INCHES,
    "flat": {"section": "flat plate", "panels": TAPERED},
}  # fmt: skip


@pytest.mark.parametrize("name", WINGS)
def test_parts_do_not_overlap(name: str) -> None:
    """No two solids of a wing share more than a sliver, and every name is given once."""
    parts = wing.parts(Layout(plain(wing=WINGS[name])))
    assert len({part.name for part in parts}) == len(parts)
    assert overlaps(parts, SLIVER_MM3) == {}


def test_dihedral_lifts_the_tip() -> None:
    """The lowest corner at the tip of a panel with dihedral lies span x sin(angle) up, span x cos(angle) out."""
    skin = built(section="flat plate", incidence="0 deg", panels=[{"span": "450 mm", "dihedral": "6 deg"}])
    tip = corners(skin["wing skin 1 right"])
    lowest = tip[tip[:, 1] > 400.0]
    lowest = lowest[lowest[:, 2].argmin()]
    assert lowest[1:] == pytest.approx((450.0 * cos(radians(6.0)), 40.0 + 450.0 * sin(radians(6.0))), abs=1e-6)
