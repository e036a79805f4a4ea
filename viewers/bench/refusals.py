"""What the desk refuses, each with what a page needs to say so in plain words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal, TypedDict

from airframe.config import ConfigError
from airframe.drawing import PartError


class ProblemJson(TypedDict):
    """One value that will not do."""

    key: str
    given: Any
    message: str


class DeskError(Exception):
    """Something that the desk does not do; its text is one clear sentence, `payload` what goes out as JSON."""

    def __init__(self, message: str, **more: Any) -> None:
        super().__init__(message)
        self.payload: dict[str, Any] = {"error": message, **more}


class StaleRevision(DeskError):  # noqa: N818 - a state of affairs, named as such
    """The design has been changed meanwhile, by another tab."""

    def __init__(self, current: int) -> None:
        super().__init__("the design has been changed in another window", kind="revision", revision=current)


class Superseded(DeskError):  # noqa: N818 - as above
    """The slow results of a design that is no longer the current one are not worth finishing."""

    def __init__(self) -> None:
        super().__init__("the design has changed since", kind="superseded")


class Refused(DeskError):  # noqa: N818 - as above
    """A value that is no value, or a shape that cannot be built; nothing was changed."""

    @classmethod
    def values(cls, problems: Sequence[ProblemJson]) -> Refused:
        """What is wrong with each value."""
        return cls("; ".join(dict.fromkeys(one["message"] for one in problems)), problems=list(problems))

    def in_words(self, told: Callable[[str, str], tuple[str, str]]) -> Refused:
        """The same, each value called as `told` does: of key and message, the label and the message in words."""
        problems: list[ProblemJson] = self.payload.get("problems", [])
        if not problems:
            return self
        pairs = [told(one["key"], one["message"]) for one in problems]
        sentences = dict.fromkeys(f"{label}: {message}" if label else message for label, message in pairs)
        meant = [{**one, "message": message} for one, (_, message) in zip(problems, pairs, strict=True)]
        return Refused("; ".join(sentences), problems=meant)

    @classmethod
    def config(cls, error: ConfigError) -> Refused:
        """What reading the design said."""
        return cls.values([{"key": p.key, "given": _plain(p.given), "message": p.message} for p in error.problems])

    @classmethod
    def part(cls, error: PartError) -> Refused:
        """A part that cannot be built so."""
        return cls(str(error), part=error.part)


class Conflict(DeskError):  # noqa: N818 - as above
    """Saving would overwrite what nobody has looked at."""

    def __init__(self, message: str, kind: Literal["changed on disk", "exists"]) -> None:
        super().__init__(message, kind=kind)


class NotFound(DeskError):  # noqa: N818 - as above
    """A variant, a part's template or a shape that is not there."""


def _plain(value: Any) -> Any:
    return value if isinstance(value, str | int | float | bool | None) else str(value)
