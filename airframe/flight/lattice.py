"""The vortex lattice of a set of lifting surfaces: circulation, forces and their exact derivatives; SI units.

Thin surfaces at small angles in an ideal, slow flow: no thickness, no separation, the wake straight aft along x.
One matrix is solved once a geometry for a unit of each motion and control; every state is a combination of these,
and every load a quadratic form of a few numbers.
Forces are those on the bound vortices (Kutta and Joukowski) with all induced velocities, the full suction at leading
edges among them; the legs bear none. An estimate of what a real plate bears. 400 panels with all derivatives take about
a quarter of a second from a cold start, nothing for a second state of the same geometry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from airframe.axes import Array
from airframe.flight.axes import to_body_axes
from airframe.flight.panels import Panels
from airframe.flight.vortices import UPSIDE_DOWN, above_ground, horseshoes

CORE_SHARE = 0.25
"""Blunting of a leg for the panels of other surfaces, as a share of its strip's width: an estimate of the real core."""
MOTIONS = ("u", "v", "w", "p", "q", "r")
"""Velocities forward, to the right, down (m/s) and rates of roll, pitch, yaw (rad/s), body axes."""


@dataclass(frozen=True, eq=False)
class Loads:
    """What the air does at one state, about one point; body axes, N and N m."""

    wrench: Array
    """(6,) force X, Y, Z and moment L, M, N."""
    slopes: Array
    """(6, 6 + controls) their derivatives in `MOTIONS` and then in each control, per m/s and rad."""

    def __add__(self, other: Loads) -> Loads:
        return Loads(self.wrench + other.wrench, self.slopes + other.slopes)

    def times(self, factor: float) -> Loads:
        """A share or a multiple of them."""
        return Loads(factor * self.wrench, factor * self.slopes)


@dataclass(frozen=True, eq=False)
class Lattice:
    """Panels in their flow, perhaps above a ground that lies along x at a height in the aeroplane's frame."""

    panels: Panels
    ground_z_m: float | None = None

    @property
    def controls(self) -> tuple[str, ...]:
        """The moving surfaces, in the order of the columns of the slopes."""
        return tuple(self.panels.tips)

    def deflections(self, angles_rad: Mapping[str, float] | None = None) -> Array:
        """Angles by name as a vector: trailing edge down, or to the left, is positive. Raises KeyError for others."""
        given = dict(angles_rad or {})
        found = np.array([given.pop(name, 0.0) for name in self.controls])
        if given:
            raise KeyError(f"no such control: {', '.join(given)}")
        return found

    def loads(
        self,
        motion: ArrayLike,
        deflections: ArrayLike,
        density_kg_m3: float,
        about_m: ArrayLike = (0.0, 0.0, 0.0),
        only: NDArray[np.bool_] | None = None,
    ) -> Loads:
        """Force and moment about a point (aeroplane's frame) at a motion of that point (`MOTIONS`), with slopes.

        `only`, (n,), counts the forces of some panels, in the flow of all.
        """
        shift = _shift(np.asarray(about_m, dtype=np.float64))
        s = shift @ np.asarray(motion, dtype=np.float64)
        d = np.append(1.0, deflections)
        both = self._forms(only) @ np.kron(d, s)
        by_state = both.reshape(6, len(d), len(s))
        slopes = np.concatenate([(by_state.transpose(0, 2, 1) @ d) @ shift, by_state[:, 1:] @ s], axis=1)
        wrench: Array = 0.5 * density_kg_m3 * (both @ np.kron(d, s))
        return Loads(shift.T @ wrench, density_kg_m3 * (shift.T @ slopes))

    def circulation(self, motion: ArrayLike, deflections: ArrayLike) -> Array:
        """(n,) circulation of every panel, m^2/s, at a motion of the frame's origin."""
        state = np.append(1.0, deflections)
        found: Array = np.einsum("nck,c,k->n", self._unit_circulation, state, np.asarray(motion))
        return found

    def _forms(self, only: NDArray[np.bool_] | None) -> Array:
        """(6, m, m) symmetric, m = 6 (1 + controls): the load per unit density is x Q x / 2, x all products of state.

        Circulation and wind are both linear in each of motion and controls, so that every load about the frame's
        origin is a quadratic form of their products, found once.
        """
        key = b"" if only is None else only.tobytes()
        if key not in self._known_forms:
            counted = slice(None) if only is None else only
            unit, count = self._unit_circulation, len(self.panels.middle)
            wind = self._unit_downwash.transpose(1, 2, 3, 0).copy()
            wind[:, 0] += _wind(self.panels.middle)
            forces = np.cross(wind.reshape(count, -1, 3), self.panels.bound[:, None, :])
            wrenches = _wrenches(forces, self.panels.middle)[counted]
            form = np.tensordot(unit.reshape(count, -1)[counted], wrenches, (0, 0)).transpose(2, 0, 1)
            self._known_forms[key] = form + form.transpose(0, 2, 1)
        return self._known_forms[key]

    @cached_property
    def _known_forms(self) -> dict[bytes, Array]:
        return {}

    @cached_property
    def influence(self) -> Array:
        """(n, n) velocity along each control point's normal by each unit circulation, controls at rest, 1/m."""
        influence: Array = np.einsum("xij,ix->ij", self._induced(self.panels.control), self.panels.normal)
        return influence

    @cached_property
    def _unit_circulation(self) -> Array:
        """(n, 1 + controls, 6) circulation for a unit of each motion, controls at rest, then for a radian of each."""
        tilts = np.stack([self.panels.normal, *self.panels.tips.values()], axis=1)
        onset = np.einsum("nkx,ncx->nck", _wind(self.panels.control), tilts)
        count = len(onset)
        solved: Array = np.linalg.solve(self.influence, -onset.reshape(count, -1)).reshape(onset.shape)
        return solved

    @cached_property
    def _unit_downwash(self) -> Array:
        """(3, n, 1 + controls, 6) induced velocity at the bound vortices' middles for the unit circulations."""
        induced = self._induced(self.panels.middle)
        unit = self._unit_circulation
        count = len(unit)
        downwash: Array = (induced @ unit.reshape(count, -1)).reshape(3, *unit.shape)
        return downwash

    def _induced(self, points: Array) -> Array:
        """(3, points, n) velocity of every unit horseshoe; points must be the panels' own."""
        panels = self.panels
        width = np.linalg.norm(panels.bound[:, 1:], axis=1)
        core = np.where(panels.surface[:, None] == panels.surface, 0.0, CORE_SHARE * width)
        if self.ground_z_m is None:
            return horseshoes(points, panels.start, panels.end, core)
        return above_ground(points, panels.start, panels.end, self.ground_z_m, core)

    def wake_drag_n(self, motion: ArrayLike, deflections: ArrayLike, density_kg_m3: float) -> float:
        """Induced drag from the wake far behind (Trefftz's plane), N, at a motion of the frame's origin."""
        panels = self.panels
        _, first = np.unique(panels.strip, return_index=True)
        gamma = np.bincount(panels.strip, self.circulation(motion, deflections))
        start, middle, end = panels.start[first, 1:], panels.middle[first, 1:], panels.end[first, 1:]
        wash = _far_wash(middle, start, end)
        if self.ground_z_m is not None:
            mirrored = middle * UPSIDE_DOWN[1:] + (0.0, 2.0 * self.ground_z_m)
            wash = wash + _far_wash(mirrored, start, end) * UPSIDE_DOWN[1:]
        across = np.column_stack([start[:, 1] - end[:, 1], end[:, 0] - start[:, 0]])
        return float(-0.5 * density_kg_m3 * gamma @ np.einsum("ijx,ix->ij", wash, across) @ gamma)


def _wind(points: Array) -> Array:
    """(n, 6, 3) velocity of the air at points, aeroplane's frame, for a unit of each motion of the frame's origin."""
    turned = to_body_axes(np.eye(3))
    straight = np.broadcast_to(-turned, (len(points), 3, 3))
    wind: Array = np.concatenate([straight, -np.cross(turned, points[:, None, :])], axis=1)
    return wind


def _shift(about_m: Array) -> Array:
    """(6, 6) from the motion of a point (aeroplane's frame) to that of the origin; its transpose takes loads back."""
    arm = to_body_axes(-about_m)
    shift = np.eye(6)
    shift[:3, 3:] = np.cross(np.eye(3), arm).T
    return shift


def _wrenches(forces: Array, points: Array) -> Array:
    """(n, m, 6) forces and their moments about the origin in body axes, of forces (n, m, 3) at points (n, 3)."""
    moments = np.cross(points[:, None, :], forces)
    turned: Array = np.concatenate([to_body_axes(forces), to_body_axes(moments)], axis=-1)
    return turned


def _far_wash(points: Array, start: Array, end: Array) -> Array:
    """(points, strips, 2) velocity y, z in the far wake by endless vortices at the strips' edges."""

    def endless(vortices: Array) -> Array:
        offset = points[:, None, :] - vortices
        beside = np.einsum("ijx,ijx->ij", offset, offset)
        turned: Array = np.stack([-offset[..., 1], offset[..., 0]], axis=-1) / (2.0 * np.pi * beside[..., None])
        return turned

    return endless(end) - endless(start)
