"""The only door to CadQuery: drawings become solids, in their own frame.

Everything here goes through the kernel's direct calls; a plate takes about a millisecond that way.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np

from airframe.axes import Array, Place
from airframe.bends import CentreLine, centre_line
from airframe.drawing import Block, Loop, Panel, Revolved, Rod, Solid, Wire
from airframe.facets import rings
from airframe.folding import fold
from airframe.inertia import Body

if TYPE_CHECKING:
    import cadquery as cq

SEWING_MM = 1e-5
"""Faces that share an edge have the same corners to far less than this."""


def solid(shape: Solid) -> cq.Solid:
    """The shape's solid in its own frame.

    Raises ValueError with the reason for a drawing that makes no solid: tangled outlines, folds tighter
    than the sheet, wires too short for their bends, sizes that are not positive.
    """
    import cadquery as cq

    with _kernel_refusals():
        return cq.Solid(_outwards(_made(shape)))


@contextmanager
def _kernel_refusals() -> Iterator[None]:
    """Turn the CAD kernel's own exceptions, which have no common ancestor, into ValueError."""
    try:
        yield
    except Exception as error:
        if type(error).__module__.startswith("OCP."):
            raise ValueError(f"the CAD kernel cannot build it ({str(error) or type(error).__name__})") from error
        raise


def _made(shape: Solid) -> Any:
    if isinstance(shape, Panel):
        return _folded(shape) if shape.scores or shape.bevels else _plate(shape)
    if isinstance(shape, Wire):
        return _bent(centre_line(shape), shape.diameter_mm)
    if isinstance(shape, Block):
        return _box(shape)
    return _turned(profile(shape))


def profile(shape: Rod | Revolved) -> Array:
    """Corners (x, radius) of what turns about the own x axis, counter-clockwise, mm, shape (n, 2).

    Raises ValueError for sizes that are not positive, and a profile that crosses itself or the axis.
    """
    if isinstance(shape, Rod):
        if not (shape.length_mm > 0.0 and shape.diameter_mm > shape.bore_mm >= 0.0):
            raise ValueError(
                f"a rod of length {shape.length_mm:g}, diameter {shape.diameter_mm:g}, bore {shape.bore_mm:g} mm: "
                "length and wall must be more than 0"
            )
        x, outer, inner = shape.length_mm / 2.0, shape.diameter_mm / 2.0, shape.bore_mm / 2.0
        return np.array([(-x, inner), (x, inner), (x, outer), (-x, outer)])
    import shapely

    corners = np.array(shape.profile, dtype=np.float64).reshape(-1, 2)
    corners = corners[np.any(corners != np.roll(corners, -1, axis=0), axis=1)]
    if len(corners) < 3 or corners[:, 1].min() < 0.0 or not shapely.Polygon(corners).is_valid:
        raise ValueError("a turned profile needs three corners or more, no radius below 0, and must not cross itself")
    ccw: Array = corners if shapely.LinearRing(corners).is_ccw else corners[::-1]
    return ccw


def placed(made: cq.Solid, where: Place) -> cq.Solid:
    """The solid where the part sits; a mirrored place gives the mirror image."""
    import cadquery as cq
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf

    rotation = np.array(where.rotation)
    if where.is_mirrored:
        rotation = rotation @ np.diag([1.0, 1.0, -1.0])
    motion = gp_Trsf()
    # From axes, not from the matrix: the kernel then makes the rotation exactly orthogonal.
    axes = gp_Ax3(gp_Pnt(*where.origin), gp_Dir(*rotation[:, 2].tolist()), gp_Dir(*rotation[:, 0].tolist()))
    motion.SetTransformation(axes, gp_Ax3())
    if where.is_mirrored:
        mirror = gp_Trsf()
        mirror.SetMirror(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)))
        motion.Multiply(mirror)
    return cq.Solid(_outwards(BRepBuilderAPI_Transform(made.wrapped, motion, True).Shape()))


def exact(made: cq.Solid) -> Body:
    """Volume, centre and inertia by the kernel's own integrals, at unit density."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(made.wrapped, sums)
    centre, matrix = sums.CentreOfMass(), sums.MatrixOfInertia()
    inertia = np.array([[matrix.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)])
    return Body(sums.Mass(), np.array([centre.X(), centre.Y(), centre.Z()]), inertia)


def _outwards(made: Any) -> Any:
    """The kernel's shape as one solid, turned so that its volume counts positive."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.TopAbs import TopAbs_SOLID
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    bodies = TopExp_Explorer(made, TopAbs_SOLID)
    if not bodies.More():
        raise ValueError("the kernel made no solid of the drawing")
    single = TopoDS.Solid_s(bodies.Current())
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(single, sums)
    if sums.Mass() < 0.0:
        single.Reverse()
    return single


# --- panels -------------------------------------------------------------------------------------------


def _plate(panel: Panel) -> Any:
    """A square-edged flat panel keeps its true arcs."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt, gp_Vec
    from OCP.TopoDS import TopoDS

    require_thickness(panel)
    rings(panel)
    z = -panel.thickness_mm
    face = BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, z), gp_Dir(0, 0, 1)), _loop_wire(panel.outline, z), True)
    for hole in panel.holes:
        face.Add(TopoDS.Wire_s(_loop_wire(hole, z).Reversed()))
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, panel.thickness_mm)).Shape()


def require_thickness(panel: Panel) -> None:
    """Raise ValueError for a panel without thickness."""
    if not panel.thickness_mm > 0.0:
        raise ValueError(f"a panel {panel.thickness_mm:g} mm thick has no volume")


def _loop_wire(loop: Loop, z_mm: float) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeWire
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Pnt

    wire = BRepBuilderAPI_MakeWire()
    for start, end, bulge in loop.edges():
        a, b = gp_Pnt(*start, z_mm), gp_Pnt(*end, z_mm)
        if bulge:
            # Halfway round the arc: right of the chord's middle by bulge times half the chord.
            dx, dy = end[0] - start[0], end[1] - start[1]
            x, y = (start[0] + end[0] + bulge * dy) / 2.0, (start[1] + end[1] - bulge * dx) / 2.0
            edge = BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(a, gp_Pnt(x, y, z_mm), b).Value())
        else:
            edge = BRepBuilderAPI_MakeEdge(a, b)
        wire.Add(edge.Edge())
    return wire.Wire()


def _folded(panel: Panel) -> Any:
    """A scored or bevelled panel, sewn of its flat faces."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid, BRepBuilderAPI_Sewing
    from OCP.TopAbs import TopAbs_SHELL
    from OCP.TopoDS import TopoDS

    require_thickness(panel)
    sewing = BRepBuilderAPI_Sewing(SEWING_MM)
    for face in fold(panel).faces():
        sewing.Add(_polygon_face(face))
    sewing.Perform()
    shell = sewing.SewedShape()
    if shell.ShapeType() != TopAbs_SHELL or sewing.NbFreeEdges():
        raise ValueError(f"the folded panel does not close: {sewing.NbFreeEdges()} edges stay open")
    return BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(shell)).Solid()


def _polygon_face(face: list[Array]) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt

    corners = face[0] - face[0][0]
    normal = np.cross(corners, np.roll(corners, -1, axis=0)).sum(axis=0)
    plane = gp_Pln(gp_Pnt(*face[0][0].tolist()), gp_Dir(*normal.tolist()))
    made = BRepBuilderAPI_MakeFace(plane, _polygon(face[0]), True)
    for hole in face[1:]:
        made.Add(_polygon(hole))
    return made.Face()


def _polygon(corners: Array) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    polygon = BRepBuilderAPI_MakePolygon()
    for x, y, z in corners.tolist():
        polygon.Add(gp_Pnt(x, y, z))
    polygon.Close()
    return polygon.Wire()


# --- wires, blocks and turned bodies ------------------------------------------------------------------


def _bent(line: CentreLine, diameter_mm: float) -> Any:
    """A round section carried along the centre line: exact cylinders and tori."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt

    def point(p: Array) -> Any:
        return gp_Pnt(*p.tolist())

    spine = BRepBuilderAPI_MakeWire()
    legs = line.legs()
    for i, (start, end) in enumerate(legs):
        if np.linalg.norm(end - start) > SEWING_MM:
            spine.Add(BRepBuilderAPI_MakeEdge(point(start), point(end)).Edge())
        if i < len(line.bends):
            bend = line.bends[i]
            arc = GC_MakeArcOfCircle(point(bend.start), point(bend.middle), point(bend.end)).Value()
            spine.Add(BRepBuilderAPI_MakeEdge(arc).Edge())
    circle = gp_Circ(gp_Ax2(point(line.start), gp_Dir(*line.way.tolist())), diameter_mm / 2.0)
    section = BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire()
    return BRepOffsetAPI_MakePipe(spine.Wire(), BRepBuilderAPI_MakeFace(section, True).Face()).Shape()


def _box(block: Block) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Pnt

    require_sides(block)
    low = gp_Pnt(*(-side / 2.0 for side in block.size))
    return BRepPrimAPI_MakeBox(low, *block.size).Solid()


def require_sides(block: Block) -> None:
    """Raise ValueError for a block with a side that is not positive."""
    if not all(side > 0.0 for side in block.size):
        raise ValueError(f"a block of {' x '.join(f'{side:g}' for side in block.size)} mm has no volume")


def _turned(corners: Array) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    flat = np.column_stack([corners, np.zeros(len(corners))])
    face = BRepBuilderAPI_MakeFace(_polygon(flat), True).Face()
    return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))).Shape()
