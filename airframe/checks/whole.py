"""All checks of one aeroplane, worst first, with remedies that have been tried."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from airframe import plugins
from airframe.checks import balance, fit, flight, ground, making, moving, propeller
from airframe.checks.finding import WORST_FIRST, Finding, Remedy
from airframe.checks.pairs import PairCache
from airframe.drawing import PartError
from airframe.model import Aeroplane

Check = Callable[[Aeroplane], list[Finding]]
Rebuild = Callable[[Sequence[str]], Aeroplane]
"""Makes the same design with --set lines (KEY=VALUE) applied; ValueError where that is no design."""
PASSES = WORST_FIRST.index("pass")
"""From here on nothing is asked of the builder."""
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
    return tuple((plugin.name, partial(_asked_outside, plugin)) for plugin in plugins.added("checks"))


def _asked_outside(plugin: plugins.Plugin, aeroplane: Aeroplane) -> list[Finding]:
    """The findings of a plug-in's check. PartError, named by the plug-in, for whatever goes wrong in it."""
    try:
        found = list(plugin.made(aeroplane))
    except PartError:
        raise
    except Exception as error:
        raise PartError(str(plugin), f"{type(error).__name__}: {error}") from error
    odd = next((one for one in found if not isinstance(one, Finding)), None)
    if odd is not None:
        raise PartError(str(plugin), f"must give a list of Findings, not one with {odd!r}"[:200])
    return found


def run(
    aeroplane: Aeroplane,
    rebuild: Rebuild | None = None,
    progress: Progress | None = None,
    cache: PairCache | None = None,
) -> tuple[Finding, ...]:
    """Every finding, worst first. A cache that is kept from one variant to the next saves unchanged pairs.

    With `rebuild`, each remedy that is a setting is applied and its check asked again; only remedies that
    turn their finding to pass are kept. What they make worse of the same check, or of the standing on the ground,
    which everything that weighs something bears on, is told.
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
            result += [_tried(one, check, rebuild, [*findings, *stands]) for one in findings]
    return tuple(sorted(result, key=lambda finding: (WORST_FIRST.index(finding.verdict), finding.code)))


def _tried(finding: Finding, check: Check, rebuild: Rebuild, now: Sequence[Finding]) -> Finding:
    kept = []
    for remedy in finding.remedies:
        then = _mended(finding, remedy, partial(_asked, check), rebuild) if remedy.settings else None
        if then is not None:
            kept.append(replace(remedy, text=remedy.text + _cost(finding, now, then)))
        elif not remedy.settings:
            kept.append(remedy)
    return finding if kept == list(finding.remedies) else replace(finding, remedies=tuple(kept))


def _cost(finding: Finding, now: Sequence[Finding], then: Sequence[Finding]) -> str:
    """What a remedy makes worse besides, in those findings' own words, the worst first; empty for nothing."""
    codes = set(worse(now, then)) - {finding.code}
    spoilt = {one.message: one for one in sorted(then, key=_rank) if one.code in codes and _rank(one) < PASSES}
    kinds = {"fail": "a failed check", "caution": "a caution"}
    told = [f"{kinds[one.verdict]}: {one.message.rstrip('.')}" for one in spoilt.values()]
    return f", at the cost of {'; and of '.join(told)}" if told else ""


def mends(finding: Finding, remedy: Remedy, check: Check, rebuild: Rebuild) -> bool:
    """Whether the finding passes, or no longer arises, once the remedy's settings are applied."""
    return _mended(finding, remedy, check, rebuild) is not None


def _mended(finding: Finding, remedy: Remedy, check: Check, rebuild: Rebuild) -> list[Finding] | None:
    """What the check finds with the remedy applied; None where it does not help, or the design is none."""
    try:
        then = check(rebuild(remedy.settings))
    except ValueError:
        return None
    return then if all(_rank(other) >= PASSES for other in then if other.code == finding.code) else None


def on_trial(check: Check) -> Check:
    """The same check without solving remedies, which costs most: for a variant of which only verdicts are asked."""
    if check is flight.findings:
        return partial(flight.findings, with_remedies=False)
    return partial(ground.findings, with_remedies=False) if check is ground.findings else check


def _asked(check: Check, aeroplane: Aeroplane) -> list[Finding]:
    """The check's findings and those on the ground, of what is on trial."""
    found = on_trial(check)(aeroplane)
    return found if check is ground.findings else [*found, *ground.findings(aeroplane, with_remedies=False)]


def worse(old: Sequence[Finding], new: Sequence[Finding]) -> list[str]:
    """The codes of new findings that ask for more attention than they did, in their order."""
    before = {finding.code: min(_rank(finding), PASSES) for finding in old}
    return [one.code for one in new if _rank(one) < before.get(one.code, PASSES)]


def _rank(finding: Finding) -> int:
    return WORST_FIRST.index(finding.verdict)
