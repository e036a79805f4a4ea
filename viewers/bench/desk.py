"""The desk: the design under way, asked from several threads, and what the page shows of it; it knows no HTTP."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Condition, RLock

from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.store import DiskStore, MemoryStore, ShapeStore
from airframe.units import System
from viewers.bench.draft import Draft
from viewers.bench.edits import settings
from viewers.bench.fields import Fields
from viewers.bench.refusals import Refused, StaleRevision, Superseded
from viewers.bench.served import SHAPES_KEPT, Served
from viewers.bench.shown import Shown, State
from viewers.bench.slow import IsWanted, SlowWork, as_json
from viewers.bench.source import Source, Variant, is_on_disk, opened
from viewers.bench.template import template_svg
from viewers.bench.view import Views, viewed

SETTLE_S = 0.15
"""How long the design must have been left alone before slow work on it begins."""


class Desk:
    """One config, read once, with the edits laid over it. May be asked from several threads at once.

    A method that takes a revision raises StaleRevision unless it is the current one. Whatever is refused leaves
    the desk as it was. `system` is the one that the page shows; None: the design's own.
    """

    def __init__(self, source: Source, prototype: Source | None = None) -> None:
        self._lock = RLock()
        self._moved = Condition(self._lock)
        self._is_turning = False
        self._is_closed = False
        self._served = Served()
        self._slow = SlowWork()
        self._prototype = None if prototype is None else viewed(prototype.filed, self._served)
        self._draft = Draft(source, Views(self._served))
        self._fields = Fields(source.filed, None if self._prototype is None else self._prototype.variant)

    @classmethod
    def opened(cls, config: Path, against: Path | None = None, store: ShapeStore | None = None) -> Desk:
        """The desk with a config on it, and beside it the prototype, if any. Raises ConfigError and Refused."""
        store = store if store is not None else MemoryStore(DiskStore(), SHAPES_KEPT)
        return cls(opened(config, store), None if against is None else opened(against, store))

    @property
    def folder(self) -> Path:
        """The project's folder: nothing outside is ever written."""
        return self.file.parent

    @property
    def file(self) -> Path:
        """The config that the edits are laid over."""
        return self._draft.source.path

    @property
    def design(self) -> Design:
        """As it is on the desk."""
        return self._draft.variant.design

    @property
    def aeroplane(self) -> Aeroplane:
        """What the design comes to."""
        return self._draft.variant.aeroplane

    @property
    def revision(self) -> int:
        """Grows with everything that changes the state."""
        return self._draft.revision

    @property
    def settings(self) -> tuple[str, ...]:
        """The edits as --set lines over the file."""
        return settings(self._draft.edits)

    @property
    def is_as_on_disk(self) -> bool:
        """Whether the files on disk are still those that were read."""
        return is_on_disk(self._draft.source) == "same"

    # --- what is shown --------------------------------------------------------------------------------

    def state(self, system: System | None = None) -> State:
        """Everything there is to show."""
        with self._lock:
            return self._shown().whole(system)

    def shapes(self, digests: Sequence[str]) -> bytes:
        """Meshes and edges of the shapes, packed one after another. Raises NotFound for one that was never shown."""
        return self._served.packed(self.aeroplane, digests)

    def template_svg(self, part: str, system: System | None = None) -> str:
        """The cutting outline of a part as SVG. Raises NotFound for a part that has none."""
        return template_svg(self._draft.view.patterns, part, system or self.design.units)

    def _shown(self) -> Shown:
        return Shown(self._draft, self._prototype, self._fields, self._served)

    # --- changes ----------------------------------------------------------------------------------------

    def change(
        self,
        revision: int,
        settings: Sequence[str],
        stroke: str | None = None,
        words: str = "",
        system: System | None = None,
    ) -> State:
        """Lay KEY=VALUE settings over the design; those of one stroke are undone in one step.

        Raises Refused where that is no design, or one that cannot be built.
        """

        def step() -> None:
            try:
                self._draft.change(settings, stroke, words)
            except Refused as refused:
                raise refused.in_words(self._fields.told_of(self._draft.variant)) from refused

        return self._stepped(revision, system, step)

    def undo(self, revision: int, system: System | None = None) -> State:
        """Take the last step back, if there is one."""
        return self._stepped(revision, system, self._draft.undo)

    def redo(self, revision: int, system: System | None = None) -> State:
        """Take the last undone step again, if there is one."""
        return self._stepped(revision, system, self._draft.redo)

    def open_variant(self, revision: int, name: str, system: System | None = None) -> State:
        """Put a kept variant on the desk; can be undone. Raises NotFound."""
        return self._stepped(revision, system, lambda: self._draft.open_variant(name))

    def keep(self, revision: int, name: str, system: System | None = None) -> State:
        """Keep the edits under a name, in place of what was kept under it. Raises Refused for one that will not do."""
        return self._noted(revision, system, lambda: self._draft.keep(name))

    def forget(self, revision: int, name: str, system: System | None = None) -> State:
        """Drop a kept variant. Raises NotFound."""
        return self._noted(revision, system, lambda: self._draft.forget(name))

    def reload(self, revision: int, system: System | None = None) -> State:
        """Read the file again and drop the edits and their history; variants stay that are still designs.

        Raises Refused if the file is no design any more.
        """
        return self._refiled(revision, system, self._draft.reload)

    def save(
        self,
        revision: int,
        as_: str | None = None,
        replace: bool = False,
        system: System | None = None,
        redesign: str | None = None,
    ) -> State:
        """Write the edits into the file, or into another one beside it, which is then the one on the desk.

        With the name of a redesign that other file states only the edits, and is based on the first.

        Raises Conflict where that would overwrite a file nobody has looked at, unless `replace`; Refused for a
        name that will not do, and where the file would not give the design on the desk; WriteError.
        """
        return self._refiled(revision, system, lambda: self._draft.save(as_, replace, redesign))

    def _stepped(self, revision: int, system: System | None, step: Callable[[], None]) -> State:
        """What a step has changed."""
        with self._turn(revision):
            before = self._draft.view
            step()
            return self._shown().since(before, system)

    def _refiled(self, revision: int, system: System | None, step: Callable[[], None]) -> State:
        """Everything, after a step to another reading of a file."""
        with self._turn(revision):
            step()
            self._fields = replace(self._fields, filed=self._draft.source.filed)
            return self.state(system)

    def _noted(self, revision: int, system: System | None, note: Callable[[], None]) -> State:
        """What there is to show once something was noted that leaves the design as it is: slow work goes on."""
        with self._lock:
            self._must_be(revision)
            note()
            self._moved.notify_all()
            return self._shown().since(self._draft.view, system)

    @contextmanager
    def _turn(self, revision: int) -> Iterator[None]:
        """While the design is changed, slow work rests: the answer to a change must not wait for it."""
        with self._lock:
            self._must_be(revision)
            self._is_turning = True
            try:
                yield
            finally:
                self._is_turning = False
                self._moved.notify_all()

    def _must_be(self, revision: int) -> None:
        if revision != self.revision:
            raise StaleRevision(self.revision)

    # --- slow work ----------------------------------------------------------------------------------------

    def slow(self, revision: int, system: System | None = None, is_tried: bool = True) -> State:
        """Findings, flight estimates and battery bands; waits for them. Raises Superseded once the design changes.

        Sooner where the remedies need not be tried: they are not told then.
        """
        while True:
            source, variant, shown = self._settled(revision, system, is_tried)
            try:
                results = self._slow.results(source, variant, shown, self._is_wanted(variant), is_tried)
                old = () if self._prototype is None else self._prototype.estimates
            except PartError as error:
                raise Refused.part(error) from error
            except Superseded:
                if self._is_closed:
                    raise
                continue  # stopped for a change; if that was refused, it is begun again
            if self.revision == revision:
                break
        return {"revision": revision} | as_json(results, variant.design.name, old, shown)

    def close(self) -> None:
        """End slow work at its next step: nobody waits for it any more, and none is begun."""
        with self._moved:
            self._is_closed = True
            self._moved.notify_all()

    def _settled(self, revision: int, system: System | None, is_tried: bool) -> tuple[Source, Variant, System]:
        """What is on the desk, once it has been left alone for a while. Raises Superseded."""
        with self._moved:
            source, variant = self._draft.source, self._draft.variant
            shown = system or variant.design.units
            is_known = self._slow.known(variant, shown, is_tried) is not None
            self._moved.wait_for(lambda: self._is_closed or self.revision != revision, 0.0 if is_known else SETTLE_S)
            if self._is_closed or self.revision != revision:
                raise Superseded
            return source, variant, shown

    def _is_wanted(self, variant: Variant) -> IsWanted:
        return lambda: self._draft.variant is variant and not (self._is_turning or self._is_closed)
