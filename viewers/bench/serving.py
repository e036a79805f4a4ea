"""Puts the bench page on the air of this machine alone, until Ctrl-C."""

from __future__ import annotations

import signal
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TYPE_CHECKING

from viewers.bench.guard import LOOPBACK, Guard, address, new_token
from viewers.bench.server import Site

if TYPE_CHECKING:
    import uvicorn

PATIENCE_S = 1
"""Seconds that a request under way gets when the server is ended."""


class PortError(OSError):
    """A port that cannot be had; one sentence."""


@contextmanager
def listening(port: int) -> Iterator[socket.socket]:
    """A socket that only this machine reaches; port 0 takes a free one. Raises PortError."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as listener:
        if sys.platform == "win32":
            # Without it another program could listen at the same port.
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((LOOPBACK, port))
            listener.listen(128)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            message = f"cannot serve at port {port}: {reason}; give another --port, or none to take a free one"
            raise PortError(message) from error
        yield listener


def server(site: Site, listener: socket.socket, ready: Callable[[str], None]) -> uvicorn.Server:
    """A server behind its guard, with a token of its own; `ready` gets the address of the page."""
    import uvicorn

    port, token = listener.getsockname()[1], new_token()
    application = site.application(lambda: ready(address(port, token)))
    settings = uvicorn.Config(
        Guard(application, token, port),
        log_config=None,
        log_level="critical",
        access_log=False,
        http="h11",
        ws="none",
        lifespan="on",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=PATIENCE_S,
    )
    return uvicorn.Server(settings)


def serve(site: Site, port: int, ready: Callable[[str], None]) -> None:
    """Serve until Ctrl-C or an ordinary request to end. Raises PortError."""
    with listening(port) as listener, _ended_by_signals():
        server(site, listener, ready).run(sockets=[listener])


@contextmanager
def _ended_by_signals() -> Iterator[None]:
    """Ctrl-C, and a request to end from outside, end the block quietly, so that what follows it is still done.

    The server ends in order at either, and then raises the signal again as if it had not been there.
    """

    def end(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    old = {number: signal.signal(number, end) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    except KeyboardInterrupt:
        pass
    finally:
        for number, handler in old.items():
            signal.signal(number, handler)
