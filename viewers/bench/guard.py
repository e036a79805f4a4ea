"""Stands before the bench's page and lets in only the page itself: nothing else in the browser, nothing from outside.

Every web page that is open in the same browser can send requests to this machine's own addresses. So a request must
know the random token, be addressed to the name we serve, and come from our own page; a body must be short JSON.
Nothing of it is answered with leave for other pages to read it.
"""

from __future__ import annotations

import json
import secrets
import traceback
from asyncio import CancelledError
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

LOOPBACK = "127.0.0.1"
LARGEST_BODY_BYTES = 64_000
"""The largest thing a page sends is a list of some hundred shapes or settings: about 30 kB."""
TOKEN_BYTES = 24
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
"""The page may use what comes from here, and nothing else."""
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
"""Sent with every answer, unless the answer has its own."""


class TurnedAwayError(Exception):
    """Why a request is turned away: the HTTP status, and one sentence."""

    def __init__(self, status: int, sentence: str) -> None:
        super().__init__(sentence)
        self.status = status


def new_token() -> str:
    """A fresh secret for one visit; it is the first part of every address of the page."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def address(port: int, token: str) -> str:
    """Where the page is."""
    return f"http://{LOOPBACK}:{port}/{token}/"


class Guard:
    """An ASGI application around the bench's own, which sees only requests that passed, under its token as root."""

    def __init__(self, app: App, token: str, port: int) -> None:
        self._app = app
        self._token = token
        self._root = f"/{token}/".encode()
        self._hosts = (f"{LOOPBACK}:{port}", f"localhost:{port}")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer the request, or turn it away."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
        elif scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
        else:
            send = _with_headers(send)
            try:
                self._check(scope)
                receive = await _whole_body(scope, receive)
            except TurnedAwayError as refused:
                await _turn_away(refused, send)
                return
            if scope["path"] == f"/{self._token}":
                # Addresses in the page are relative to its folder, so the last stroke must be there.
                await send({"type": "http.response.start", "status": 307, "headers": [(b"location", self._root)]})
                await send({"type": "http.response.body"})
                return
            await self._answered(scope, receive, send)

    async def _answered(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Have the request answered; one that takes too long when the server ends is told so, without a trace."""
        has_begun = False

        async def sending(message: Message) -> None:
            nonlocal has_begun
            has_begun = True
            await send(message)

        try:
            await self._app({**scope, "root_path": f"/{self._token}"}, receive, sending)
        except CancelledError:
            if not has_begun:
                await _turn_away(TurnedAwayError(503, "The bench has been closed."), send)
        except Exception:
            # The page was told that there is a fault; how it came is for the terminal.
            traceback.print_exc()
            if not has_begun:
                await _turn_away(TurnedAwayError(500, "The program has a fault."), send)

    def _check(self, scope: Scope) -> None:
        host = _only(scope, b"host")
        if host not in self._hosts:
            raise TurnedAwayError(403, "This address is not served here.")
        _check_path(scope["path"], self._token)
        if scope["method"] not in ("GET", "HEAD", "POST"):
            raise TurnedAwayError(405, "Only GET and POST are understood here.")
        is_change = scope["method"] == "POST"
        origin, site = _only(scope, b"origin"), _only(scope, b"sec-fetch-site")
        if origin != f"http://{host}" and (is_change or origin is not None):
            raise TurnedAwayError(403, "Only the bench's own page may ask this.")
        if site not in (None, "same-origin", "none"):
            raise TurnedAwayError(403, "Only the bench's own page may ask this.")
        if is_change and (_only(scope, b"content-type") or "").split(";")[0].strip().lower() != "application/json":
            raise TurnedAwayError(415, "Send JSON, with the content type application/json.")


def _only(scope: Scope, name: bytes) -> str | None:
    """The value of a header; None where it is not sent. Raises TurnedAwayError where it is sent more than once."""
    found = [value for key, value in scope["headers"] if key.lower() == name]
    if len(found) > 1:
        raise TurnedAwayError(400, f"The header {name.decode()} was sent more than once.")
    return found[0].decode("latin-1") if found else None


def _check_path(path: str, token: str) -> None:
    """Raise TurnedAwayError unless the path begins with the token, compared in constant time, and plays no tricks."""
    first, _, rest = path.removeprefix("/").partition("/")
    is_known = secrets.compare_digest(first.encode("utf-8", "replace"), token.encode())
    is_odd = any(sign in path for sign in ("\0", "\\", "//")) or {".", ".."} & set(rest.split("/"))
    if not is_known or is_odd:
        raise TurnedAwayError(404, "There is nothing here.")


async def _whole_body(scope: Scope, receive: Receive) -> Receive:
    """The body, read up to its limit whatever its announced length, to be received again. Raises TurnedAwayError."""
    too_large = TurnedAwayError(413, f"A message may have {LARGEST_BODY_BYTES // 1000} kB at most.")
    announced = _only(scope, b"content-length") or "0"
    if not (announced.isascii() and announced.isdecimal()):
        raise TurnedAwayError(400, "The length of the message makes no sense.")
    if len(announced) > len(str(LARGEST_BODY_BYTES)) or int(announced) > LARGEST_BODY_BYTES:
        raise too_large
    body, is_more = b"", True
    while is_more:
        message = await receive()
        if message["type"] == "http.disconnect":
            raise TurnedAwayError(400, "The message ended before it was whole.")
        body += message.get("body", b"")
        is_more = message.get("more_body", False)
        if len(body) > LARGEST_BODY_BYTES:
            raise too_large
    kept: list[Message] = [{"type": "http.request", "body": body, "more_body": False}]

    async def again() -> Message:
        return kept.pop() if kept else await receive()

    return again


async def _turn_away(refused: TurnedAwayError, send: Send) -> None:
    body = json.dumps({"error": str(refused)}).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": refused.status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


def _with_headers(send: Send) -> Send:
    """Sends what it is given, with the headers that every answer has."""

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            there = {key.lower() for key, _ in message.get("headers", ())}
            more = [(k.encode(), v.encode()) for k, v in HEADERS.items() if k.encode() not in there]
            message = {**message, "headers": [*message.get("headers", ()), *more]}
        await send(message)

    return sending
