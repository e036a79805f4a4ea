"""Whether the wheels turn freely."""

from __future__ import annotations

from airframe import units
from airframe.checks.finding import Finding
from airframe.checks.pairs import Meeting, Pairs, is_solid, judged
from airframe.drawing import Part

SEARCH_MM = 5.0
"""A gap wider than this is not measured."""
SOURCE = "geometry; our choice: limits.moving.gap"
AXLES = {"main wheel": "main leg", "tail wheel": "tail wheel wire", "nose wheel": "nose wheel wire"}
"""What each wheel turns on."""


def findings(pairs: Pairs) -> list[Finding]:
    """The tightest gap of any wheel to what is not its own axle or collars."""
    code, limit = "moving.wheels", pairs.aeroplane.design.limits.moving.gap_mm
    wheels = [part for part in pairs.aeroplane.parts if _kind(part) is not None]
    if not wheels:
        text = "does not apply: there are no wheels"
        return [Finding(code, "info", None, "", (None, None), text, SOURCE)]
    solid = [part for part in pairs.aeroplane.parts if is_solid(part)]
    met = [
        one
        for wheel in wheels
        for one in pairs.meetings([wheel], [part for part in solid if not _is_on_axle(wheel, part)], SEARCH_MM)
    ]
    system = pairs.aeroplane.design.units
    if not met:
        text = f"the wheels keep more than {units.length(SEARCH_MM, system)} from everything beside them"
        return [Finding(code, "pass", None, "mm", (limit, None), text, SOURCE)]
    wheel, other, worst = min(met, key=lambda one: (-one[2].overlap_mm3, one[2].gap_mm))
    gap = worst.gap_mm if worst.overlap_mm3 else pairs.exact_gap_mm(wheel, other)
    verdict = judged(Meeting(worst.overlap_mm3, gap), limit)
    rubs = "rubs on" if verdict == "fail" else f"turns {units.length(gap, system)} from"
    text = f"the {wheel.name} {rubs} the {other.name}"
    return [Finding(code, verdict, gap, "mm", (limit, None), text, SOURCE, (), (wheel.name, other.name))]


def _kind(part: Part) -> str | None:
    return next((kind for kind in AXLES if part.name in (kind, f"{kind} right", f"{kind} left")), None)


def _is_on_axle(wheel: Part, other: Part) -> bool:
    """Whether the other part is the wheel itself, its collar, or the wire it turns on."""
    kind = _kind(wheel) or ""
    side = wheel.name.removeprefix(kind)
    same_side = not side or other.name.endswith(side)
    is_wire = other.name.startswith(AXLES[kind]) and same_side
    return other.name == wheel.name or is_wire or (other.name.startswith(kind) and "collar" in other.name and same_side)
