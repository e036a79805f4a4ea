"""The whole aeroplane: a table of contents of lazy properties, in the order things happen.

design -> parts (drawings and places) -> bodies of the distinct shapes -> weight statement
                                      -> solids, meshes for pictures and files
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING

from airframe import mass
from airframe.axes import Point
from airframe.drawing import Part, PartError
from airframe.layout import Layout
from airframe.parts import equipment, gear, whole
from airframe.schema.design import Design
from airframe.shapes import Record
from airframe.store import MemoryStore, Shapes, ShapeStore

if TYPE_CHECKING:
    import cadquery as cq

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, how many there are."""


class Aeroplane:
    """One design with everything that follows from it, computed when first asked for, once."""

    def __init__(self, design: Design, store: ShapeStore | None = None, progress: Progress | None = None) -> None:
        self.design = design
        self._shapes = Shapes(store or MemoryStore(), design.mesh_angle_rad)
        self._progress = progress

    @cached_property
    def layout(self) -> Layout:
        """Fuselage lines and the frames of wing and tail."""
        return Layout(self.design)

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every part: a named drawing in its place. Raises PartError for what cannot be drawn."""
        return whole.build(self.layout)

    @cached_property
    def statement(self) -> mass.Statement:
        """The weight statement. Raises PartError for what cannot be built or is not closed."""
        bodies = []
        for done, part in enumerate(self.parts):
            if self._progress is not None:
                self._progress(part.name, done, len(self.parts))
            bodies.append(self._shapes.body(part.shape, part.name))
        return mass.statement(self.parts, bodies, self.design.weighed)

    @property
    def cg_mm(self) -> Point:
        """The balance point: station, butt line, water line."""
        x, y, z = self.statement.whole.centre
        return float(x), float(y), float(z)

    @property
    def cg_behind_leading_edge_mm(self) -> float:
        """How far the balance point lies behind the wing's leading edge on the centre plane."""
        return self.cg_mm[0] - self.design.wing.station_mm

    @property
    def cg_share_of_mean_chord(self) -> float:
        """Position of the balance point on the mean aerodynamic chord: 0 at its leading edge, 1 at its trailing one."""
        chord = self.layout.mean_chord
        return (self.cg_mm[0] - chord.leading_edge_mm) / chord.length_mm

    @property
    def wing_loading_g_dm2(self) -> float:
        """Mass over the area of the wing's plan."""
        return self.statement.whole.mass / (self.layout.mean_chord.area_mm2 * 1e-4)

    @cached_property
    def contacts(self) -> dict[str, Point]:
        """Where the wheels, or the skid, touch the ground with the fuselage level."""
        return gear.contact_points(self.layout)

    @cached_property
    def propeller(self) -> equipment.PropellerDisk | None:
        """The disk that the propeller sweeps, if there is one."""
        return equipment.propeller_disk(self.layout)

    def record(self, part: Part) -> Record:
        """The part's shape with its display mesh, in its own frame."""
        return self._shapes.record(part.shape, part.name)

    def solid(self, part: Part) -> cq.Shape:
        """The part's solid in its place; only for parts that have one."""
        from airframe import solids

        try:
            return solids.placed(solids.solid(part.shape), part.place)
        except ValueError as error:
            raise PartError(part.name, str(error)) from error
