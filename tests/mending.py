"""Small aeroplanes to check, and their remedies applied: only for tests of the checks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from airframe import config
from airframe.checks.finding import Finding
from airframe.model import Aeroplane
from airframe.store import MemoryStore
from tests.designs import plain_data

STORE = MemoryStore()
"""Shapes measured by one test are there for the next."""

Check = Callable[[Aeroplane], list[Finding]]


def data_with(**tables: Any) -> dict[str, Any]:
    """The plain design's tables, some replaced or added."""
    return plain_data() | tables


def flown(data: dict[str, Any], settings: Sequence[str] = ()) -> Aeroplane:
    """The aeroplane of these tables with settings laid over them, as the command line does."""
    return Aeroplane(config.from_dict(data, settings), STORE)


def one(findings: list[Finding], code: str) -> Finding:
    """The finding of this code; there is exactly one."""
    found = [finding for finding in findings if finding.code == code]
    assert len(found) == 1, [finding.code for finding in findings]
    return found[0]


def assert_mended(data: dict[str, Any], check: Check, finding: Finding) -> None:
    """Every remedy that is a setting turns its finding to pass."""
    tried = [remedy for remedy in finding.remedies if remedy.settings]
    assert tried, finding
    for remedy in tried:
        again = [other for other in check(flown(data, remedy.settings)) if other.code == finding.code]
        assert all(other.verdict in ("pass", "info") for other in again), (remedy, again)
