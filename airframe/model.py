"""The whole aeroplane: a table of contents of lazy properties, in the order things happen.

design -> parts (drawings and places) -> bodies of the distinct shapes -> weight statement -> how sure
                                      -> flight estimates
                                      -> solids, meshes for pictures and files
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from airframe import mass, ruler, weighing
from airframe.axes import Point
from airframe.config import Loaded
from airframe.drawing import Bead, Film, Part, PartError
from airframe.inertia import Body
from airframe.layout import Layout
from airframe.measured import Shapes
from airframe.parts import equipment, gear, whole
from airframe.schema.design import Design
from airframe.shapes import Record
from airframe.store import MemoryStore, ShapeStore
from airframe.sure.causes import Cause, causes
from airframe.sure.growth import Growth, growth
from airframe.sure.propagation import Sureness, sureness
from airframe.sure.reconcile import Reconciliation, Residual, reconcile
from airframe.sure.spreads import stated_shares
from airframe.sure.swung import Swing, swings
from airframe.sure.unknowns import NOTHING, Learned

if TYPE_CHECKING:
    import cadquery as cq

    from airframe.flight.solved import Lattices
    from airframe.flight.whole import Flight

Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, how many there are."""


class Aeroplane:
    """One design with everything that follows from it, computed when first asked for, once.

    `taught_by` is an aeroplane whose weighing log holds for this one's materials and bought items too: what it
    is based on, or the same aeroplane as filed.
    """

    def __init__(
        self,
        design: Design,
        store: ShapeStore | None = None,
        progress: Progress | None = None,
        taught_by: Aeroplane | None = None,
    ) -> None:
        self.design = design
        self.taught_by = taught_by
        self.source: Loaded | None = None
        """The files and tables that it was read from; None for one that was made in memory."""
        self._store = store or MemoryStore()
        self._shapes = Shapes(self._store, design.mesh_angle_rad)
        self._progress = progress

    @classmethod
    def loaded(cls, loaded: Loaded, store: ShapeStore | None = None, progress: Progress | None = None) -> Aeroplane:
        """The aeroplane that was read, taught by those it is based on and by its own log as filed."""
        store = store or MemoryStore()
        teacher = cls.loaded(loaded.base, store, progress) if loaded.base is not None else None
        if loaded.as_filed is not None:
            teacher = cls(loaded.as_filed, store, progress, teacher)
        made = cls(loaded.design, store, progress, teacher)
        made.source = loaded
        return made

    def changed(self, design: Design) -> Aeroplane:
        """A variant of this aeroplane: it shares its shapes, and what was learned by weighing."""
        return Aeroplane(design, self._store, self._progress, self)

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
        """The weight statement. Raises PartError for what cannot be built or closed, and for a wrong log."""
        learned_g = self.reconciliation.learned_g.tolist() if self.has_learned else None
        if self.taught_by is not None and self._is_variant:
            before = self.taught_by.statement.entries
            return mass.summed(mass.known(self._drawn, learned_g=learned_g, before=before))
        return mass.summed(mass.known(self._drawn, self.design.weighed, learned_g))

    @cached_property
    def _drawn(self) -> list[mass.Entry]:
        """The lines of the statement before anything was weighed."""
        return mass.drawn(self.parts, self._bodies)

    @cached_property
    def _bodies(self) -> list[Body]:
        bodies = []
        parts = self.parts
        with ruler.reading(self.design.units):
            for done, part in enumerate(parts):
                if self._progress is not None:
                    self._progress(part.name, done, len(parts))
                bodies.append(self._shapes.body(part.shape, part.name))
        return bodies

    def entries(self, parts: Sequence[Part]) -> list[mass.Entry]:
        """The lines of the statement that parts of the aeroplane have, or would have with another mass or place.

        What its own weighing log says is left out: a variant that changes a part learns from the log as filed.
        """
        drawn = mass.drawn(parts, [self._shapes.body(part.shape, part.name) for part in parts])
        learned_g = None
        if self.has_learned:
            certainty, stated = self.design.certainty, stated_shares(self.design)
            learned_g = reconcile(drawn, (), certainty, stated, self._taught).learned_g.tolist()
        before = self.taught_by.statement.entries if self.taught_by is not None and self._is_variant else ()
        return mass.known(drawn, learned_g=learned_g, before=before)

    @property
    def has_learned(self) -> bool:
        """Whether a weighing log, its own or that of an aeroplane it learns from, moves its masses."""
        return bool(self.design.weighed) or (self.taught_by is not None and self.taught_by.has_learned)

    @cached_property
    def reconciliation(self) -> Reconciliation:
        """What the weighing logs teach of every entry."""
        certainty, stated = self.design.certainty, stated_shares(self.design)
        log = () if self._is_variant else weighing.pieces(self.design.weighed, self.parts)
        return reconcile(self._drawn, log, certainty, stated, self._taught)

    @property
    def _taught(self) -> Learned:
        if self.taught_by is None or not self.taught_by.has_learned:
            return NOTHING
        return self.taught_by.reconciliation.after.learned(self._is_variant)

    @property
    def _is_variant(self) -> bool:
        """Whether the teacher is this same aeroplane, whose log must not be learned from twice."""
        return self.taught_by is not None and self.taught_by.design.weighed == self.design.weighed != ()

    @property
    def residuals(self) -> tuple[Residual, ...]:
        """Every line of its weighing log beside the drawing and what was learned."""
        if self._is_variant and self.taught_by is not None:
            return self.taught_by.residuals
        return self.reconciliation.residuals if self.design.weighed else ()

    @cached_property
    def sureness(self) -> Sureness:
        """How sure mass, balance point and inertia are."""
        return sureness(self.statement.entries, self.reconciliation.after)

    @cached_property
    def causes(self) -> tuple[Cause, ...]:
        """What the uncertainty of the balance point comes from, the greatest first: what to weigh next."""
        return causes(self.statement.entries, self.reconciliation.after, self.design.certainty)

    @cached_property
    def swings(self) -> tuple[Swing, ...]:
        """What swinging it as a pendulum said, beside what the model says."""
        return swings(self.design.swung, self.statement.entries, self.reconciliation.after, self.design.certainty)

    @property
    def growth(self) -> Growth:
        """Basic and predicted mass."""
        return growth(self.statement.entries)

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
    def flight(self) -> Flight:
        """The flight estimates; variants of one geometry share the solved lattice."""
        from airframe.flight.whole import Flight

        return Flight(self.layout, self.statement.whole, self.lattices)

    @cached_property
    def lattices(self) -> Lattices:
        """Lattices solved for this aeroplane and those that it learns from."""
        from airframe.flight.solved import Lattices

        return Lattices() if self.taught_by is None else self.taught_by.lattices

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
        with ruler.reading(self.design.units):
            return self._shapes.record(part.shape, part.name)

    def solid(self, part: Part) -> cq.Shape:
        """The part's solid in its place; only for parts that have one."""
        from airframe import solids

        if isinstance(part.shape, Bead | Film):
            raise PartError(part.name, "has no solid of its own")
        try:
            return solids.placed(solids.solid(part.shape), part.place)
        except ValueError as error:
            raise PartError(part.name, str(error)) from error
