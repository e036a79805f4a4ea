"""The design under way: a config as it was read, the edits over it, the steps taken, and what is kept under names."""

from __future__ import annotations

from collections.abc import Sequence

from airframe.config import ConfigError
from viewers.bench.edits import Edits, edit, laid_over, rebased, without_idle
from viewers.bench.history import History
from viewers.bench.refusals import Refused
from viewers.bench.saving import saved, saved_as_redesign
from viewers.bench.source import Source, Variant, opened
from viewers.bench.variants import Variants
from viewers.bench.view import View, Views


class Draft:
    """One config, read once, with the edits laid over it; for one thread at a time.

    What is refused leaves it as it was.
    """

    def __init__(self, source: Source, views: Views) -> None:
        self._views = views
        self._source = source
        self._view = views.of(source, ())
        self._history = History()
        self._variants = Variants()
        self._revision = 1

    @property
    def revision(self) -> int:
        """Grows with every change of what else is told here."""
        return self._revision

    @property
    def source(self) -> Source:
        """The config as it was read."""
        return self._source

    @property
    def edits(self) -> Edits:
        """Over the design as filed."""
        return self._view.variant.edits

    @property
    def view(self) -> View:
        """What the edits make of it."""
        return self._view

    @property
    def variant(self) -> Variant:
        """The design with the edits in it."""
        return self._view.variant

    @property
    def filed(self) -> View:
        """The design without them."""
        return self._views.of(self._source, ())

    @property
    def history(self) -> History:
        """The steps that can be taken back, and again."""
        return self._history

    @property
    def variants(self) -> Variants:
        """What is kept under names."""
        return self._variants

    # --- steps that can be taken back -------------------------------------------------------------------

    def change(self, settings: Sequence[str], stroke: str | None = None, words: str = "") -> None:
        """Lay KEY=VALUE settings over the design; those of one stroke are one step.

        Raises Refused where that is no design, or one that cannot be built.
        """
        try:
            changes = [edit(one) for one in settings]
        except ConfigError as error:
            raise Refused.config(error) from error
        filed = self._source.filed
        edits = without_idle(laid_over(self.edits, changes), filed.design, filed.data)
        self._step(edits, words or ", ".join(one.setting for one in changes), stroke)

    def open_variant(self, name: str) -> None:
        """Go on from a kept variant. Raises NotFound."""
        self._step(self._variants.edits(name), f"open {name}", None)

    def undo(self) -> None:
        """Take the last step back, if there is one."""
        if self._history.past:
            before = self.edits
            self._put(self._history.past[-1].edits)
            self._history.undo(before)

    def redo(self) -> None:
        """Take the last undone step again, if there is one."""
        if self._history.future:
            before = self.edits
            self._put(self._history.future[-1].edits)
            self._history.redo(before)

    def _step(self, edits: Edits, words: str, stroke: str | None) -> None:
        before = self.edits
        if edits != before:
            self._put(edits)
            self._history.step(before, words, stroke)

    def _put(self, edits: Edits) -> None:
        self._view = self._views.of(self._source, edits)
        self._revision += 1

    # --- what is kept under names -------------------------------------------------------------------------

    def keep(self, name: str) -> None:
        """Keep the edits under a name, in place of what was kept under it. Raises Refused for one that will not do."""
        self._variants.keep(name, self.edits, self._view.figures)
        self._revision += 1

    def forget(self, name: str) -> None:
        """Drop a kept variant. Raises NotFound."""
        self._variants.forget(name)
        self._revision += 1

    # --- from the file, and into it -----------------------------------------------------------------------

    def reload(self) -> None:
        """Read the file again and drop the edits and their history; variants stay that are still designs.

        Raises Refused if the file is no design any more.
        """
        try:
            source = opened(self._source.path, self._source.store)
            view = self._views.of(source, ())
        except ConfigError as error:
            raise Refused.config(error) from error
        kept = self._variants.kept
        self._turn_to(source, view)
        self._history, self._variants = History(), Variants()
        for name, one in kept.items():
            self._keep_if_built(name, one.edits)

    def _keep_if_built(self, name: str, edits: Edits) -> None:
        try:
            self._variants.keep(name, edits, self._views.of(self._source, edits).figures)
        except Refused:
            return

    def save(self, as_: str | None = None, replace: bool = False, redesign: str | None = None) -> None:
        """Write the edits into the file, or into another one beside it, and go on from that.

        With the name of a redesign that other file states only the edits, and is based on the first.

        Raises Conflict where that would overwrite a file nobody has looked at, unless `replace`; Refused for a
        name that will not do, and where the file would not give this design; WriteError.
        """
        if redesign is None:
            written = saved(self._source, self.variant, as_, replace)
        else:
            written = saved_as_redesign(self._source, self.variant, as_ or "", redesign, replace)
        self._rebase(written)

    def _rebase(self, source: Source) -> None:
        """Every other set of edits is put so that it gives over the new file what it gave before."""
        was, written = self._source.filed, self.edits
        view, filed = self._views.of(source, ()), source.filed

        def put(edits: Edits) -> Edits:
            return without_idle(rebased(edits, written, was.design, was.data), filed.design, filed.data)

        self._turn_to(source, view)
        self._history, self._variants = self._history.mapped(put), self._variants.mapped(put)

    def _turn_to(self, source: Source, view: View) -> None:
        self._source, self._view = source, view
        self._revision += 1
