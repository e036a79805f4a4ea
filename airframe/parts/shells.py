"""Cowls and belly pans: panels scored and bent round two end sections, with formers inside their ends."""

from __future__ import annotations

from typing import Literal

import numpy as np

from airframe import ruler, strips
from airframe.drawing import Panel, Part, PartError, loop, points3
from airframe.layout import Layout
from airframe.materials import Material
from airframe.parts.common import FUSELAGE, across, adhesive, joint
from airframe.parts.shell_sections import inner_outline, inset, section
from airframe.schema.fuselage import Shell

LEAST_WINDOW_MM = 2.0
"""An end former's window is at least this wide and high."""


def parts(layout: Layout) -> list[Part]:
    """Every shell with its end formers and glue. Raises PartError for one that cannot be bent."""
    result: list[Part] = []
    for shell in layout.design.fuselage.shells:
        material = layout.design.material(shell.material or layout.design.fuselage.material)
        result += _skin(layout, shell, material)
        for where in shell.end_formers:
            result += _end_former(layout, shell, where, material)
    return result


def _skin(layout: Layout, shell: Shell, material: Material) -> list[Part]:
    thickness = material.thickness_mm
    front, rear = section(shell, "front", thickness), section(shell, "rear", thickness)
    fore_and_aft = (1.0, 0.0, 0.0)
    try:
        panel, place = strips.strip_panel(front, rear, thickness, fore_and_aft, fore_and_aft)
    except strips.FlatnessError as error:
        raise PartError(shell.name, str(error)) from error
    edges = [points3([front[i].tolist(), rear[i].tolist()]) for i in (0, -1)]
    side = layout.design.material(layout.design.fuselage.material)
    glue = joint(f"{shell.name} edges", edges, adhesive(layout.design, side, material))
    return [Part(shell.name, FUSELAGE, panel, place, material), glue]


def _end_former(layout: Layout, shell: Shell, where: Literal["front", "rear"], material: Material) -> list[Part]:
    """A flat former inside one end, a window left open in it."""
    name, thickness = f"{shell.name} {where} former", material.thickness_mm
    length = shell.rear.station_mm - shell.front.station_mm
    if length < thickness * len(shell.end_formers):
        raise PartError(name, f"does not fit: the shell is {ruler.exact(length)} long")
    x = shell.front.station_mm if where == "front" else shell.rear.station_mm - thickness
    corners = inner_outline(shell, thickness, (x, x + thickness))
    window = inset(corners, shell.former_rim_mm)
    if len(window) < 3 or np.ptp(window, axis=0).min() < LEAST_WINDOW_MM:
        most = (float(np.ptp(corners, axis=0).min()) - LEAST_WINDOW_MM) / 2.0
        advice = f"{ruler.most(most)} or less would" if most > 0.0 else "there is no room for a former"
        raise PartError(name, f"former_rim {ruler.exact(shell.former_rim_mm)} leaves no window; {advice}")
    # Drawn as seen from the front, the right wing is on the left.
    outline, hole = (loop([(-y, z) for y, z in ring]) for ring in (corners, window))
    bead_x = x + thickness if where == "front" else x
    # Round the skin, on the face that can be reached: at the open side there is nothing to glue it to.
    seam = points3([(bead_x, y, z) for y, z in corners])
    panel = Panel(outline, thickness, (hole,))
    return [Part(name, FUSELAGE, panel, across(x), material), joint(name, [seam], adhesive(layout.design, material))]
