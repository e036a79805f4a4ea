"""What the page may send: the shape of every message, bounded in each direction."""

from __future__ import annotations

from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from airframe.units import System

LARGEST_REVISION = 2**53
"""The largest whole number that JavaScript counts to without a slip."""
MOST_SETTINGS, MOST_SHAPES = 400, 1000

Words = Annotated[str, StringConstraints(max_length=200, pattern=r"^[^\x00-\x1f\x7f]*$")]
Setting = Annotated[str, StringConstraints(min_length=3, max_length=4000, pattern=r"^[^\x00-\x08\x0b-\x1f\x7f]+$")]
Digest = Annotated[str, StringConstraints(max_length=80, pattern=r"^[\w-]+$")]


class MessageError(ValueError):
    """A message that is not what the address takes; one sentence."""


class Message(BaseModel):
    """What every message keeps: nothing it does not know, no value taken for another kind of value."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class Revised(Message):
    """A message about the design as the page has it."""

    revision: int = Field(ge=0, le=LARGEST_REVISION)
    system: System | None = None


class Change(Revised):
    """Settings to lay over the design."""

    settings: list[Setting] = Field(min_length=1, max_length=MOST_SETTINGS)
    stroke: Words | None = None
    words: Words = ""


class Named(Revised):
    """A variant to keep, open or forget."""

    name: Words = Field(min_length=1)


class Save(Revised):
    """Where to save: None is the file itself."""

    name: Words | None = Field(default=None, alias="as")
    replace: bool = False
    redesign: Words | None = None
    """Name of the aeroplane, where only what changes is to be written."""


class ShapesWanted(Message):
    """The shapes that the page does not hold yet."""

    digests: list[Digest] = Field(max_length=MOST_SHAPES)


class JobWanted(Revised):
    """Something to make; its options are read by the kind of job."""

    what: Words
    options: dict[str, Any] = Field(default_factory=dict, max_length=20)


class Nothing(Message):
    """No message at all."""


Kind = TypeVar("Kind", bound=Message)


def read(kind: type[Kind], body: bytes) -> Kind:
    """The message in a body. Raises MessageError."""
    try:
        return kind.model_validate_json(body or b"{}")
    except ValidationError as error:
        raise MessageError(_sentence(error)) from None


def taken(kind: type[Kind], values: Any) -> Kind:
    """The message in values that were JSON. Raises MessageError."""
    try:
        return kind.model_validate(values)
    except ValidationError as error:
        raise MessageError(_sentence(error)) from None


def _sentence(error: ValidationError) -> str:
    first = error.errors(include_url=False, include_input=False, include_context=False)[0]
    place = ".".join(str(step) for step in first["loc"])
    return f"The message is not understood: {f'{place}: ' if place else ''}{first['msg']}."[:300]
