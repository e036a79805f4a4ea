"""Steps taken and taken back: what the edits were before each, and what the step was called."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from viewers.bench.edits import Edits

MOST_STEPS = 200
"""Steps that can be taken back; older ones are forgotten: a long visit takes no more memory than a short one."""


@dataclass(frozen=True)
class Step:
    """One step, and the edits on the other side of it."""

    edits: Edits
    words: str
    stroke: str | None = None


@dataclass
class History:
    """The steps that can be taken back, and those that can be taken again; the last of each is the next."""

    past: list[Step] = field(default_factory=list)
    future: list[Step] = field(default_factory=list)

    @property
    def undo_words(self) -> str | None:
        """What would be taken back; None if nothing can be."""
        return self.past[-1].words if self.past else None

    @property
    def redo_words(self) -> str | None:
        """What would be taken again; None if nothing can be."""
        return self.future[-1].words if self.future else None

    def step(self, before: Edits, words: str, stroke: str | None) -> None:
        """A step was taken from some edits; one of the same stroke as the last is part of it."""
        is_more = bool(self.past) and stroke is not None and self.past[-1].stroke == stroke and not self.future
        if is_more:
            self.past[-1] = replace(self.past[-1], words=words)
        else:
            self.past.append(Step(before, words, stroke))
            del self.past[:-MOST_STEPS]
        self.future.clear()

    def undo(self, now: Edits) -> Edits:
        """The edits before the last step, which can be taken again. Raises IndexError where there is none."""
        step = self.past.pop()
        self.future.append(Step(now, step.words))
        return step.edits

    def redo(self, now: Edits) -> Edits:
        """The edits after the step that was taken back last. Raises IndexError where there is none."""
        step = self.future.pop()
        self.past.append(Step(now, step.words))
        return step.edits

    def mapped(self, change: Callable[[Edits], Edits]) -> History:
        """The same steps, with every set of edits put another way."""

        def put(steps: list[Step]) -> list[Step]:
            return [replace(step, edits=change(step.edits), stroke=None) for step in steps]

        return History(put(self.past), put(self.future))
