"""Waiting for what other threads and processes do, for as long as a busy machine may take."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

PATIENCE_S = 120.0
"""Nothing of a few seconds' work takes so long: what has not come by then does not come."""
LOOK_S = 0.02


def until(is_so: Callable[[], object]) -> None:
    """Wait until something is so; fail if it never is."""
    give_up_s = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < give_up_s, "it never came"
        threading.Event().wait(LOOK_S)
