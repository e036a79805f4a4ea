"""Tests keep their shapes in a cache of their own, made for the run and thrown away after it."""

from __future__ import annotations

import os
import shutil
import signal
import tempfile

import pytest

_CACHE = "AIRFRAME_CACHE"


def pytest_configure(config: pytest.Config) -> None:
    """Make the run's cache folder before any worker process starts: they inherit it.

    A shell's background command ignores Ctrl-C, and so would the commands that the tests stop that way.
    """
    if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    if not hasattr(config, "workerinput"):
        os.environ[_CACHE] = tempfile.mkdtemp(prefix="airframe-test-shapes-")


def pytest_unconfigure(config: pytest.Config) -> None:
    """Throw the run's cache away."""
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ[_CACHE], ignore_errors=True)
