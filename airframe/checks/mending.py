"""Remedies on trial: which of them mend, what they make worse, and which two do together what one cannot."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from airframe.checks import flight, ground
from airframe.checks.finding import PASSES, Finding, Remedy, rank
from airframe.model import Aeroplane

Check = Callable[[Aeroplane], list[Finding]]
Rebuild = Callable[[Sequence[str]], Aeroplane]
"""Makes the same design with --set lines (KEY=VALUE) applied; ValueError where that is no design."""
KINDS = {"fail": "a failed check", "caution": "a caution"}


@dataclass(frozen=True)
class Mending:
    """The trial of what one check proposes for one design."""

    check: Check
    rebuild: Rebuild
    now: Sequence[Finding]
    """What the check finds as it is, and how it stands on the ground, on which everything that weighs bears."""

    def tried(self, finding: Finding) -> Finding:
        """The finding with those of its remedies that mend it; what is done by hand stays untried.

        Each says what it makes worse. Where each does, the first that makes nothing worse once that is mended as well
        is offered so, before the others.
        """
        kept: list[Remedy] = []
        costly: dict[Remedy, list[Finding]] = {}
        for remedy in finding.remedies:
            then = self._mended(finding, remedy.settings) if remedy.settings else None
            if then is not None and (spoilt := self._spoilt(finding, then)):
                costly[remedy] = spoilt
            if then is not None or not remedy.settings:
                kept.append(remedy)
        joint = {}
        if costly and all(remedy in costly or not remedy.settings for remedy in kept):
            joint = self._joint(finding, costly)
        alone = (replace(one, text=one.text + _cost(costly.get(one, ()))) for one in kept if one not in joint)
        return replace(finding, remedies=(*joint.values(), *alone))

    def _mended(self, finding: Finding, settings: Sequence[str]) -> list[Finding] | None:
        """What there is to find with the settings applied; None where they do not help, or the design is none."""
        try:
            then = _asked(self.check, self.rebuild(settings))
        except ValueError:
            return None
        return then if _passes(finding, then) else None

    def _spoilt(self, finding: Finding, then: Sequence[Finding]) -> list[Finding]:
        """The other findings that ask for more attention than they do now, the worst first."""
        codes = set(worse(self.now, then)) - {finding.code}
        return [one for one in sorted(then, key=rank) if one.code in codes and rank(one) < PASSES]

    def _joint(self, finding: Finding, costly: Mapping[Remedy, Sequence[Finding]]) -> dict[Remedy, Remedy]:
        """The first that spoils nothing together with a second, for the worst of what it spoils; and what both are."""
        for first, spoilt in costly.items():
            for second in self._seconds(first, spoilt[0].code):
                both = Remedy(f"{first.text}, and {second.text}", merged(first.settings, second.settings))
                then = self._mended(finding, both.settings)
                if then is not None and not self._spoilt(finding, then):
                    return {first: both}
        return {}

    def _seconds(self, first: Remedy, code: str) -> Iterator[Remedy]:
        """What is proposed for a finding that a remedy spoils, once that remedy is applied."""
        changed = self.rebuild(first.settings)
        checks = [ground.findings] if self.check is ground.findings else [ground.findings, self.check]
        found = next((one for check in checks for one in check(changed) if one.code == code), None)
        yield from (remedy for remedy in (found.remedies if found else ()) if remedy.settings)


def merged(first: Sequence[str], second: Sequence[str]) -> tuple[str, ...]:
    """The lines of both; of a key that both set the later value holds."""
    return tuple({line.partition("=")[0]: line for line in (*first, *second)}.values())


def on_trial(check: Check) -> Check:
    """The same check without solving remedies, which costs most: for a variant of which only verdicts are asked."""
    if check is flight.findings:
        return partial(flight.findings, with_remedies=False)
    return partial(ground.findings, with_remedies=False) if check is ground.findings else check


def worse(old: Sequence[Finding], new: Sequence[Finding]) -> list[str]:
    """The codes of new findings that ask for more attention than they did, in their order."""
    before = {finding.code: min(rank(finding), PASSES) for finding in old}
    return [one.code for one in new if rank(one) < before.get(one.code, PASSES)]


def _asked(check: Check, aeroplane: Aeroplane) -> list[Finding]:
    """The check's findings and those on the ground, of what is on trial."""
    found = on_trial(check)(aeroplane)
    return found if check is ground.findings else [*found, *ground.findings(aeroplane, with_remedies=False)]


def _passes(finding: Finding, then: Sequence[Finding]) -> bool:
    return all(rank(other) >= PASSES for other in then if other.code == finding.code)


def _cost(spoilt: Sequence[Finding]) -> str:
    """What a remedy makes worse, in those findings' own words; empty for nothing."""
    told = {one.message: f"{KINDS[one.verdict]}: {one.message.rstrip('.')}" for one in spoilt}
    return f", at the cost of {'; and of '.join(told.values())}" if told else ""
