"""What every test stands on: a shape cache that is thrown away after the run, and examples that stay the same."""

from __future__ import annotations

import os
import shutil
import signal
import tempfile

import pytest
from hypothesis import HealthCheck, settings

_CACHE = "AIRFRAME_CACHE"

# A busy machine is slow, and no fault of the code: nothing here is timed. `--hypothesis-profile explore` looks further.
settings.register_profile("explore", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("steady", settings.get_profile("explore"), derandomize=True)
settings.load_profile("steady")


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
