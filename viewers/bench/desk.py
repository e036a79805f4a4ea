"""The desk: one design under way, its edits, and what the page shows of it; nothing here knows of HTTP."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Condition, RLock

from airframe.config import ConfigError
from airframe.drawing import PartError
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.store import DiskStore, MemoryStore, ShapeStore
from airframe.units import System
from viewers.bench import numbers
from viewers.bench.edits import Edits, edit, laid_over, rebased, settings, without_idle
from viewers.bench.estimates import estimates
from viewers.bench.fields import Fields
from viewers.bench.history import History
from viewers.bench.numbers import Figure
from viewers.bench.refusals import Refused, StaleRevision, Superseded
from viewers.bench.saving import saved, saved_as_redesign
from viewers.bench.served import SHAPES_KEPT, Served
from viewers.bench.shown import Shown, State
from viewers.bench.slow import IsWanted, SlowWork, findings_as_json
from viewers.bench.source import Source, Variant, is_on_disk, opened
from viewers.bench.template import template_svg
from viewers.bench.variants import Variants
from viewers.bench.view import View, Views, viewed

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
        self._source = source
        self._edits: Edits = ()
        self._is_turning = False
        self._is_closed = False
        self._revision = 1
        self._history = History()
        self._variants = Variants()
        self._served = Served()
        self._slow = SlowWork()
        self._views = Views(self._served)
        self._prototype = None if prototype is None else viewed(prototype.filed, self._served)
        self._old_estimates: tuple[Figure, ...] | None = None
        old = None if self._prototype is None else self._prototype.variant
        self._fields = Fields(source.filed, old)
        self._view = self._views.of(source, ())

    @classmethod
    def opened(cls, config: Path, against: Path | None = None, store: ShapeStore | None = None) -> Desk:
        """The desk with a config on it, and beside it the prototype, if any. Raises ConfigError and Refused."""
        store = store if store is not None else MemoryStore(DiskStore(), SHAPES_KEPT)
        return cls(opened(config, store), None if against is None else opened(against, store))

    @property
    def folder(self) -> Path:
        """The project's folder: nothing outside is ever written."""
        return self._source.path.parent

    @property
    def file(self) -> Path:
        """The config that the edits are laid over."""
        return self._source.path

    @property
    def design(self) -> Design:
        """As it is on the desk."""
        return self._view.variant.design

    @property
    def aeroplane(self) -> Aeroplane:
        """What the design comes to."""
        return self._view.aeroplane

    @property
    def revision(self) -> int:
        """Grows with everything that changes the state."""
        return self._revision

    @property
    def settings(self) -> tuple[str, ...]:
        """The edits as --set lines over the file."""
        return settings(self._edits)

    @property
    def is_as_on_disk(self) -> bool:
        """Whether the files on disk are still those that were read."""
        return is_on_disk(self._source) == "same"

    # --- what is shown --------------------------------------------------------------------------------

    def state(self, system: System | None = None) -> State:
        """Everything there is to show."""
        with self._lock:
            return self._shown().whole(system)

    def _answer(self, before: View, system: System | None) -> State:
        return self._shown().since(before, system)

    def _shown(self) -> Shown:
        return Shown(
            revision=self._revision,
            source=self._source,
            view=self._view,
            filed=self._views.of(self._source, ()),
            prototype=self._prototype,
            history=self._history,
            variants=self._variants,
            fields=self._fields,
            served=self._served,
        )

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
        with self._turn(revision), self._in_words():
            try:
                changes = [edit(one) for one in settings]
            except ConfigError as error:
                raise Refused.config(error) from error
            filed = self._source.filed
            edits = without_idle(laid_over(self._edits, changes), filed.design, filed.data)
            before, old = self._view, self._edits
            if edits != old:
                self._put(edits)
                self._history.step(old, words or ", ".join(one.setting for one in changes), stroke)
            return self._answer(before, system)

    def undo(self, revision: int, system: System | None = None) -> State:
        """Take the last step back, if there is one."""
        with self._turn(revision):
            before = self._view
            if self._history.past:
                self._put(self._history.undo(self._edits))
            return self._answer(before, system)

    def redo(self, revision: int, system: System | None = None) -> State:
        """Take the last undone step again, if there is one."""
        with self._turn(revision):
            before = self._view
            if self._history.future:
                self._put(self._history.redo(self._edits))
            return self._answer(before, system)

    def reload(self, revision: int, system: System | None = None) -> State:
        """Read the file again and drop the edits and their history; variants stay that are still designs.

        Raises Refused if the file is no design any more.
        """
        with self._turn(revision):
            try:
                source = opened(self.file, self._source.store)
                view = self._views.of(source, ())
            except ConfigError as error:
                raise Refused.config(error) from error
            self._turn_to(source, view)
            self._history, kept = History(), self._variants.kept
            self._variants = Variants()
            for name, one in kept.items():
                self._keep_if_built(name, one.edits)
            return self.state(system)

    def keep(self, revision: int, name: str, system: System | None = None) -> State:
        """Keep the edits under a name, in place of what was kept under it. Raises Refused for one that will not do."""
        with self._lock:
            self._must_be(revision)
            self._variants.keep(name, self._edits, self._view.figures)
            return self._noted(system)

    def open_variant(self, revision: int, name: str, system: System | None = None) -> State:
        """Put a kept variant on the desk; can be undone. Raises NotFound."""
        with self._turn(revision):
            edits, before, old = self._variants.edits(name), self._view, self._edits
            if edits != old:
                self._put(edits)
                self._history.step(old, f"open {name}", None)
            return self._answer(before, system)

    def forget(self, revision: int, name: str, system: System | None = None) -> State:
        """Drop a kept variant. Raises NotFound."""
        with self._lock:
            self._must_be(revision)
            self._variants.forget(name)
            return self._noted(system)

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
        with self._turn(revision):
            source, variant = self._source, self._view.variant
            if redesign is None:
                written = saved(source, variant, as_, replace)
            else:
                written = saved_as_redesign(source, variant, as_ or "", redesign, replace)
            self._rebase(written)
            return self.state(system)

    def _rebase(self, source: Source) -> None:
        """Go on from what was just saved: every other set of edits is put so that it gives what it gave before."""
        was, written = self._source.filed, self._edits
        view = self._views.of(source, ())
        filed = source.filed

        def put(edits: Edits) -> Edits:
            return without_idle(rebased(edits, written, was.design, was.data), filed.design, filed.data)

        self._turn_to(source, view)
        self._history, self._variants = self._history.mapped(put), self._variants.mapped(put)

    # --- slow work and files ------------------------------------------------------------------------------

    def slow(self, revision: int, system: System | None = None, is_tried: bool = True) -> State:
        """Findings, flight estimates and battery bands; waits for them. Raises Superseded once the design changes.

        Sooner where the remedies need not be tried: they are not told then.
        """
        while True:
            source, variant, shown = self._settled(revision, system, is_tried)
            try:
                results = self._slow.results(source, variant, shown, self._is_wanted(variant), is_tried)
                old = self._old_figures()
            except PartError as error:
                raise Refused.part(error) from error
            except Superseded:
                if self._is_closed:
                    raise
                continue  # stopped for a change; if that was refused, it is begun again
            if self._revision == revision:
                break
        return {
            "revision": revision,
            "is_tried": results.is_tried,
            "findings": findings_as_json(variant.design.name, results),
            "numbers": numbers.as_json(results.figures, old, shown),
            "bands": results.bands,
        }

    def close(self) -> None:
        """End slow work at its next step: nobody waits for it any more, and none is begun."""
        with self._moved:
            self._is_closed = True
            self._moved.notify_all()

    def _settled(self, revision: int, system: System | None, is_tried: bool) -> tuple[Source, Variant, System]:
        """What is on the desk, once it has been left alone for a while. Raises Superseded."""
        with self._moved:
            source, variant = self._source, self._view.variant
            shown = system or variant.design.units
            is_known = self._slow.known(variant, shown, is_tried) is not None
            self._moved.wait_for(lambda: self._is_closed or self._revision != revision, 0.0 if is_known else SETTLE_S)
            if self._is_closed or self._revision != revision:
                raise Superseded
            return source, variant, shown

    def _is_wanted(self, variant: Variant) -> IsWanted:
        return lambda: self._view.variant is variant and not (self._is_turning or self._is_closed)

    def _old_figures(self) -> tuple[Figure, ...]:
        if self._old_estimates is None:
            self._old_estimates = () if self._prototype is None else estimates(self._prototype.aeroplane)
        return self._old_estimates

    def shapes(self, digests: Sequence[str]) -> bytes:
        """Meshes and edges of the shapes, packed one after another. Raises NotFound for one that was never shown."""
        return self._served.packed(self._view.aeroplane, digests)

    def template_svg(self, part: str, system: System | None = None) -> str:
        """The cutting outline of a part as SVG. Raises NotFound for a part that has none."""
        return template_svg(self._view.patterns, part, system or self.design.units)

    # --- how it is kept -------------------------------------------------------------------------------------

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

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        """What is refused is told in the words of the page's fields."""
        try:
            yield
        except Refused as refused:
            raise refused.in_words(self._fields.told_of(self._view.variant)) from refused

    def _must_be(self, revision: int) -> None:
        if revision != self._revision:
            raise StaleRevision(self._revision)

    def _put(self, edits: Edits) -> None:
        self._view = self._views.of(self._source, edits)
        self._edits = edits
        self._count()

    def _turn_to(self, source: Source, view: View) -> None:
        self._source, self._view, self._edits = source, view, ()
        self._fields = replace(self._fields, filed=source.filed)
        self._count()

    def _noted(self, system: System | None) -> State:
        self._count()
        return self._answer(self._view, system)

    def _count(self) -> None:
        self._revision += 1
        self._moved.notify_all()

    def _keep_if_built(self, name: str, edits: Edits) -> None:
        try:
            self._variants.keep(name, edits, self._views.of(self._source, edits).figures)
        except Refused:
            return
