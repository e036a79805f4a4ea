"""Whole demo aeroplanes by their meshes against the CAD kernel's exact integrals, mirrored, and turned."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import radians
from pathlib import Path

import numpy as np
import pytest

from airframe import inertia, mass, solids
from airframe.axes import Place, about_x, about_y, about_z, at
from airframe.config import from_text, load
from airframe.drawing import Bead, Film, Part, Shape
from airframe.inertia import Body
from airframe.meshes import FINE_RAD
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.starter import starter_text
from tests.designs import plain

CONFIGS = Path(__file__).parents[2] / "configs"
NAMES = ("plover", "starter", "teasel-mk1", "teasel-mk2")
PART_SHARE, INERTIA_SHARE = 2e-4, 5e-4
CENTRE_MM = 1e-6
SAME = 1e-9
"""Two routes by the same sums: only rounding, of numbers and of places (1e-9 mm), lies between them."""
COARSE_RAD = 8.0 * FINE_RAD
MIRROR = Place(rotation=((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)))


EVEN = ("fuselage.openings=[]", 'fuselage.firewall.right_thrust="0 deg"')


def design(name: str, settings: Sequence[str] = ()) -> Design:
    """The design without its weighing log: here drawings are weighed."""
    read = from_text(starter_text(), settings) if name == "starter" else load(CONFIGS / f"{name}.toml", settings)
    return read.model_copy(update={"weighed": ()})


@cache
def demo(name: str, angle_rad: float = FINE_RAD) -> Aeroplane:
    return Aeroplane(design(name).model_copy(update={"mesh_angle_rad": angle_rad}))


@cache
def exact(shape: Shape) -> Body | None:
    """The shape's body by the kernel's integrals over its true surfaces; None for a bead or a film."""
    return None if isinstance(shape, Bead | Film) else solids.exact(solids.solid(shape))


def unit_body(aeroplane: Aeroplane, part: Part) -> Body:
    """The shape's body as the aeroplane weighs it."""
    return aeroplane.record(part).body


def whole(aeroplane: Aeroplane, parts: Iterable[Part]) -> Body:
    """What these parts are together, weighed by their meshes."""
    kept = list(parts)
    return mass.statement(kept, [unit_body(aeroplane, part) for part in kept]).whole


def exact_whole(aeroplane: Aeroplane) -> Body:
    """The whole aeroplane with every solid weighed by the kernel."""
    bodies = [exact(part.shape) or unit_body(aeroplane, part) for part in aeroplane.parts]
    return mass.statement(aeroplane.parts, bodies).whole


def share_off(found: Body, true: Body) -> float:
    """The largest error in the inertia tensor, as a share of its largest entry."""
    return float(np.abs(found.inertia - true.inertia).max() / np.abs(true.inertia).max())


@pytest.mark.parametrize("name", NAMES)
def test_every_part_weighs_what_the_kernel_says(name: str) -> None:
    """Mesh volume of each part within 2e-4 of the exact one, its centre within a hundredth of a millimetre."""
    aeroplane = demo(name)
    count = 0
    for part in aeroplane.parts:
        true, found = exact(part.shape), unit_body(aeroplane, part)
        if true is not None:
            assert found.mass == pytest.approx(true.mass, rel=PART_SHARE), part.name
            assert found.centre == pytest.approx(true.centre, abs=0.01), part.name
            count += 1
    assert count >= 60


@pytest.mark.parametrize("name", NAMES)
def test_the_whole_has_the_inertia_that_the_kernel_says(name: str) -> None:
    """Inertia of the aeroplane about its balance point within 5e-4 of that of exact bodies."""
    aeroplane = demo(name)
    true = exact_whole(aeroplane)
    found = aeroplane.statement.whole
    assert found.mass == pytest.approx(true.mass, rel=PART_SHARE)
    assert share_off(found, true) < INERTIA_SHARE
    assert np.diag(found.inertia) == pytest.approx(np.diag(true.inertia), rel=INERTIA_SHARE)


def test_halving_the_mesh_angle_takes_errors_down() -> None:
    """Chords of an arc stray by the square of their angle: each halving takes three quarters off, or nearly so.

    Of the mass and the worst part of a whole aeroplane. Counts of chords are whole numbers, so "nearly" is a
    third left instead of a quarter.
    """
    angles = [COARSE_RAD / 2**k for k in range(4)]
    of_mass, of_part = [], []
    for angle in angles:
        aeroplane = demo("starter", angle)
        true = exact_whole(aeroplane)
        of_mass.append(abs(aeroplane.statement.whole.mass - true.mass) / true.mass)
        shares = [
            abs(unit_body(aeroplane, part).mass / body.mass - 1.0)
            for part in aeroplane.parts
            if (body := exact(part.shape)) is not None
        ]
        of_part.append(max(shares))
    for errors in (of_mass, of_part):
        assert all(finer < coarser / 3.0 for coarser, finer in pairwise(errors)), errors


@pytest.mark.parametrize("name", NAMES)
def test_with_its_mirror_image_it_balances_on_the_centre_plane(name: str) -> None:
    """An aeroplane and its mirror image together have y = 0 to 1e-6 mm, and no products of inertia with y."""
    aeroplane = demo(name)
    mirrored = [part.mirrored(f"{part.name}, mirrored") for part in aeroplane.parts]
    both = whole(aeroplane, [*aeroplane.parts, *mirrored])
    assert both.mass == pytest.approx(2.0 * whole(aeroplane, aeroplane.parts).mass, rel=SAME)
    _is_symmetric(both)


@pytest.mark.parametrize("name", NAMES)
def test_left_and_right_parts_balance_on_the_centre_plane(name: str) -> None:
    """Everything that is drawn left and right balances at y = 0 to 1e-6 mm where nothing makes it differ.

    What makes left and right differ in the demos are openings in one side, and right thrust.
    """
    aeroplane = Aeroplane(design(name, EVEN))
    pairs = [part for part in aeroplane.parts if part.name.endswith((" right", " left"))]
    names = {part.name for part in pairs}
    assert len(pairs) >= 20
    assert all(_other(name) in names for name in names)
    _is_symmetric(whole(aeroplane, pairs))


def test_a_symmetric_design_balances_on_the_centre_plane() -> None:
    """The plain design has y = 0 to 1e-6 mm, but for horns and the rudder, whose bevel and hinge are on one face."""
    aeroplane = Aeroplane(plain())
    parts = [part for part in aeroplane.parts if "horn" not in part.name and "rudder" not in part.name]
    assert len(aeroplane.parts) - len(parts) == 6
    _is_symmetric(whole(aeroplane, parts))


def test_mirrored_it_has_the_mirrored_tensor() -> None:
    """The mirror image of an aeroplane has the same tensor with the products of y turned round."""
    aeroplane = demo("teasel-mk2")
    here = whole(aeroplane, aeroplane.parts)
    there = whole(aeroplane, [part.mirrored(part.name) for part in aeroplane.parts])
    _is_same(there, here.placed(MIRROR.rotation, MIRROR.origin))


def test_turning_the_aeroplane_turns_its_tensor() -> None:
    """Every part moved and turned in space, then weighed by the kernel there, gives R I R^T about R c + o."""
    motion = at(310.0, -45.0, 120.0).after(about_z(radians(33.0))).after(about_y(radians(-20.0)))
    motion = motion.after(about_x(radians(57.0)))
    aeroplane = demo("teasel-mk2")
    bodies = []
    for part in aeroplane.parts:
        place = motion.after(part.place)
        if isinstance(part.shape, Bead | Film):
            body = unit_body(aeroplane, part).placed(place.rotation, place.origin)
        else:
            body = solids.exact(solids.placed(solids.solid(part.shape), place))
        given = part.mass_g if part.mass_g is not None else body.mass * part.material.weight
        bodies.append(body.scaled(given / body.mass))
    _is_same(inertia.combined(bodies), exact_whole(aeroplane).placed(motion.rotation, motion.origin), 1e-8)


def test_turned_parts_weigh_as_the_turned_whole() -> None:
    """By the meshes, too, turning every part's place turns the statement's tensor and centre."""
    motion = about_x(radians(-71.0)).after(at(0.0, 250.0, -30.0)).after(about_z(radians(140.0)))
    aeroplane = demo("plover")
    turned = [replace(part, place=motion.after(part.place)) for part in aeroplane.parts]
    here = whole(aeroplane, aeroplane.parts)
    _is_same(whole(aeroplane, turned), here.placed(motion.rotation, motion.origin))


def _other(name: str) -> str:
    stem, side = name.rsplit(" ", 1)
    return f"{stem} {'left' if side == 'right' else 'right'}"


def _is_symmetric(body: Body) -> None:
    assert abs(body.centre[1]) < CENTRE_MM
    scale = float(np.abs(body.inertia).max())
    assert abs(body.inertia[0, 1]) < SAME * scale
    assert abs(body.inertia[1, 2]) < SAME * scale


def _is_same(found: Body, wanted: Body, share: float = SAME) -> None:
    assert found.mass == pytest.approx(wanted.mass, rel=share)
    assert found.centre == pytest.approx(wanted.centre, abs=CENTRE_MM)
    assert found.inertia == pytest.approx(wanted.inertia, rel=share, abs=share * float(np.abs(wanted.inertia).max()))
