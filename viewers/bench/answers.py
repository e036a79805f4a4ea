"""What goes out to the page: results as JSON, and errors as a status with one clear sentence."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, get_args

from anyio import CapacityLimiter, to_thread
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from airframe.units import System
from airframe.writing import WriteError
from viewers.bench.jobs import BusyError, NoSuchJobError
from viewers.bench.messages import LARGEST_REVISION, MessageError
from viewers.bench.names import WrongNameError
from viewers.bench.refusals import DeskError, NotFound, Refused

Made = Callable[[], Any]


def system_of(request: Request) -> System | None:
    """The system of units that an address asks for; None: the design's own. Raises MessageError."""
    text = request.query_params.get("system")
    for system in get_args(System):
        if text == system:
            return system  # type: ignore[no-any-return]
    if text is not None:
        message = "The system of units is metric or imperial."
        raise MessageError(message)
    return None


def is_tried_of(request: Request) -> bool:
    """Whether an address asks for remedies that have been tried; if it does not say, it does. Raises MessageError."""
    text = request.query_params.get("tried", "true")
    if text not in ("true", "false"):
        message = "Remedies are asked for as tried=true or tried=false."
        raise MessageError(message)
    return text == "true"


def revision_of(request: Request) -> int:
    """The revision that an address asks for. Raises MessageError."""
    text = request.query_params.get("revision", "")
    if not (text.isascii() and text.isdecimal() and len(text) <= len(str(LARGEST_REVISION))):
        message = "The revision must be a whole number."
        raise MessageError(message)
    return int(text)


async def answer(work: Made, limiter: CapacityLimiter | None = None) -> Response:
    """What the work gives, as JSON; both are made in a thread, so that other requests need not wait."""

    def made() -> bytes:
        return json.dumps(work(), separators=(",", ":"), allow_nan=False).encode()

    return Response(await to_thread.run_sync(made, limiter=limiter), media_type="application/json")


def handlers() -> Any:
    """What each error becomes: a status and one clear sentence."""
    return {
        DeskError: lambda _, error: _error(_status(error), **error.payload),
        MessageError: lambda _, error: _error(400, str(error)),
        WrongNameError: lambda _, error: _error(422, str(error)),
        BusyError: lambda _, error: _error(409, str(error), kind="busy"),
        NoSuchJobError: lambda _, error: _error(404, str(error)),
        WriteError: lambda _, error: _error(422, str(error)),
        HTTPException: lambda _, error: _error(error.status_code, _http_sentence(error.status_code)),
        Exception: _fault,
    }


def _status(error: DeskError) -> int:
    if isinstance(error, Refused):
        return 422
    return 404 if isinstance(error, NotFound) else 409


def _http_sentence(status: int) -> str:
    return "This address takes no such request." if status == 405 else "There is nothing here."


def _fault(_: Request, error: Exception) -> Response:
    """A fault of ours: the page learns that; how it came, the guard writes on the terminal."""
    return _error(500, "The program has a fault: details are on the terminal that the bench was started from.")


def _error(status: int, error: str, **more: Any) -> Response:
    body = json.dumps({"error": error, **more}, default=str).encode()
    return Response(body, status, media_type="application/json")
