"""The U-shaped section of a bent shell: its outer corners, and the largest former that fits inside it."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Literal

import numpy as np

from airframe import ruler
from airframe.axes import Array
from airframe.drawing import PartError
from airframe.parts.common import SLACK_MM
from airframe.schema.fuselage import Shell, ShellEnd


def section(shell: Shell, where: Literal["front", "rear"], thickness_mm: float) -> Array:
    """Outer corners (n, 3) from one free edge over the crown to the other; aft x (next corner) points out of the shell.

    Each rounded corner is drawn as equal folds, its facets tangent to the arc: the k-th of n corners
    lies at (k + 1/2) 90/n deg, at r / cos(45/n deg) from the arc's centre. So facets of the same number
    are parallel at front and rear, and flat in between.
    """
    end: ShellEnd = getattr(shell, where)
    _refuse_small(f"{shell.name}", where, end, thickness_mm)
    count, r = shell.scores_per_corner, end.corner_radius_mm
    up = 1.0 if shell.opens == "down" else -1.0
    angles = [(k + 0.5) * pi / 2.0 / count for k in range(count)]
    reach = r / cos(pi / 4.0 / count)
    half, centre = end.width_mm / 2.0, end.crown_mm - up * r
    corner = [(half - r + reach * cos(angle), centre + up * reach * sin(angle)) for angle in angles]
    right = [(half, end.edge_mm), *corner]
    left = [(-y, z) for y, z in right]
    # Left over to right under a crown that is up, right over to left above one that is down: outside stays outside.
    around = [*left, *reversed(right)] if shell.opens == "down" else [*right, *reversed(left)]
    return np.array([(end.station_mm, y, z) for y, z in around])


def _refuse_small(name: str, where: str, end: ShellEnd, thickness_mm: float) -> None:
    r, height = end.corner_radius_mm, abs(end.crown_mm - end.edge_mm)
    if r <= thickness_mm:
        text = f"corner_radius {ruler.exact(r)} at the {where} must exceed the sheet's {ruler.exact(thickness_mm)}"
        raise PartError(name, text)
    most = min(end.width_mm / 2.0, height) - thickness_mm
    if r > most + SLACK_MM:
        text = f"corner_radius {ruler.exact(r)} at the {where} leaves no flat crown or sides"
        advice = f"{ruler.most(most)} or less would do" if most > thickness_mm else "make it wider or higher"
        raise PartError(name, f"{text} in {ruler.sides(end.width_mm, height)}; {advice}")


def inner_outline(shell: Shell, thickness_mm: float, stations_mm: tuple[float, float]) -> Array:
    """Corners (n, 2) of the largest former (butt line, water line) inside the shell over two stations.

    Every facet's inner face is a line in the plane of the former, at both stations; the nearer one
    counts. The free edges close the outline.
    """
    front, rear = section(shell, "front", thickness_mm), section(shell, "rear", thickness_mm)
    shares = [(x - front[0, 0]) / (rear[0, 0] - front[0, 0]) for x in stations_mm]
    cuts = [front[:, 1:] + share * (rear - front)[:, 1:] for share in shares]
    normals, inner = [], []
    for i in range(len(front) - 1):
        facet = np.cross(rear[i] - front[i], front[i + 1] - front[i])
        facet /= np.linalg.norm(facet)
        in_plane = float(np.hypot(facet[1], facet[2]))
        normal = facet[1:] / in_plane
        normals.append(normal)
        inner.append(min(float(normal @ cut[i]) for cut in cuts) - thickness_mm / in_plane)
    edge_normal = np.array([0.0, -1.0 if shell.opens == "down" else 1.0])
    normals.append(edge_normal)
    inner.append(min(float(edge_normal @ cut[0]) for cut in cuts))
    lines = list(zip(normals, inner, strict=True))
    pairs = zip(lines[-1:] + lines[:-1], lines, strict=True)
    return np.array([np.linalg.solve(np.array([n, m]), np.array([a, b])) for (n, a), (m, b) in pairs])


def inset(corners: Array, rim_mm: float) -> Array:
    """A convex outline (n, 2) with a rim of even width taken off; (0, 2) where nothing is left."""
    ring = corners
    centre = corners.mean(axis=0)
    for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        inwards = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a))
        inwards = inwards if float(inwards @ (centre - a)) > 0.0 else -inwards
        ring = _cut_off(ring, inwards, float(inwards @ a) + rim_mm)
    return ring


def _cut_off(ring: Array, normal: Array, least: float) -> Array:
    """The part of a convex outline where normal . p exceeds `least`."""
    kept: list[Array] = []
    for p, q in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        here, there = float(normal @ p) - least, float(normal @ q) - least
        if here >= 0.0:
            kept.append(p)
        if here * there < 0.0:
            kept.append(p + (q - p) * here / (here - there))
    return np.array(kept).reshape(-1, 2)
