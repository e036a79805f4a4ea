"""All checks of one aeroplane, worst first, with remedies that have been tried."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from airframe.checks import balance, fit, ground, making, moving, propeller
from airframe.checks.finding import WORST_FIRST, Finding, Remedy
from airframe.checks.pairs import PairCache
from airframe.model import Aeroplane

Check = Callable[[Aeroplane], list[Finding]]
Rebuild = Callable[[Sequence[str]], Aeroplane]
"""Makes the same design with --set lines (KEY=VALUE) applied; ValueError where that is no design."""
Progress = Callable[[str, int, int], None]


def checks(cache: PairCache) -> tuple[tuple[str, Check], ...]:
    """Every check by its name; those that ask what meets what share what they have measured of pairs of parts."""
    return (
        ("balance", partial(balance.findings, cache=cache)),
        ("standing and tipping over", ground.findings),
        ("propeller clearance", propeller.findings),
        ("fit", partial(fit.findings, cache=cache)),
        ("moving parts", partial(moving.findings, cache=cache)),
        ("making", partial(making.findings, cache=cache)),
    )


def run(aeroplane: Aeroplane, rebuild: Rebuild | None = None, progress: Progress | None = None) -> tuple[Finding, ...]:
    """Every finding, worst first.

    With `rebuild`, each remedy that is a setting is applied and its check asked again; only remedies that
    turn their finding to pass are kept.
    """
    result: list[Finding] = []
    asked = checks(PairCache())
    for number, (name, check) in enumerate(asked):
        if progress is not None:
            progress(name, number, len(asked))
        for finding in check(aeroplane):
            result.append(_tried(finding, check, rebuild) if rebuild is not None else finding)
    return tuple(sorted(result, key=lambda finding: (WORST_FIRST.index(finding.verdict), finding.code)))


def _tried(finding: Finding, check: Check, rebuild: Rebuild) -> Finding:
    kept = tuple(remedy for remedy in finding.remedies if not remedy.settings or mends(finding, remedy, check, rebuild))
    return finding if kept == finding.remedies else replace(finding, remedies=kept)


def mends(finding: Finding, remedy: Remedy, check: Check, rebuild: Rebuild) -> bool:
    """Whether the finding passes, or no longer arises, once the remedy's settings are applied."""
    try:
        changed = check(rebuild(remedy.settings))
    except ValueError:
        return False
    again = [other for other in changed if other.code == finding.code]
    return all(other.verdict in ("pass", "info") for other in again)
