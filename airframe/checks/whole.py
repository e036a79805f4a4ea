"""All checks of one aeroplane, worst first, with remedies that have been tried."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from airframe import plugins
from airframe.checks import balance, fit, flight, ground, making, moving, propeller
from airframe.checks.finding import Finding, rank
from airframe.checks.mending import Check, Mending, Rebuild
from airframe.checks.pairs import PairCache
from airframe.model import Aeroplane
from airframe.outside import made_by

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
        ("flight", flight.findings),
        *added(),
    )


def added() -> tuple[tuple[str, Check], ...]:
    """The checks from outside by their names."""
    return tuple((plugin.name, partial(made_by, plugin, kind=Finding)) for plugin in plugins.added("checks"))


def run(
    aeroplane: Aeroplane,
    rebuild: Rebuild | None = None,
    progress: Progress | None = None,
    cache: PairCache | None = None,
) -> tuple[Finding, ...]:
    """Every finding, worst first. A cache that is kept from one variant to the next saves unchanged pairs.

    With `rebuild`, each remedy that is a setting is applied and its check asked again; only remedies that
    turn their finding to pass are kept. What they make worse of the same check, or of the standing on the ground,
    which everything that weighs something bears on, is told; where each makes something worse, two are tried together.
    """
    asked = checks(PairCache() if cache is None else cache)
    found: list[tuple[Check, list[Finding]]] = []
    for number, (name, check) in enumerate(asked):
        if progress is not None:
            progress(name, number, len(asked))
        found.append((check, check(aeroplane)))
    result = [one for _, findings in found for one in findings]
    if rebuild is not None:
        stands = next(findings for check, findings in found if check is ground.findings)
        result = []
        for number, (check, findings) in enumerate(found):
            if progress is not None:
                progress(f"remedies, {asked[number][0]}", number, len(found))
            mending = Mending(check, rebuild, [*findings, *stands])
            result += [mending.tried(one) for one in findings]
    return tuple(sorted(result, key=lambda finding: (rank(finding), finding.code)))
