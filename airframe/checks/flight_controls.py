"""Findings on the controls in flight: throws reached, servos' strength, push-rods that may buckle."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, degrees, radians

from airframe import units
from airframe.checks.changes import Change, item_key, setting, settings
from airframe.checks.finding import PRACTICE, Finding, Remedy, Verdict
from airframe.checks.rounding import length_text, short, thicker
from airframe.flight import throws
from airframe.flight.axes import M_PER_MM
from airframe.flight.bands import Band
from airframe.flight.controls import ControlRun, free_length_mm, guides_needed
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.schema.design import Design
from airframe.schema.equipment import PushRod, Servo

CLOSE_RAD = radians(0.5)
"""A throw that is so little short is reached: nobody measures closer."""
ARM_STEP_MM, ARM_STEP_IN = 0.5, 0.02
MOST_GUIDES = 5
"""More than these are not proposed: thicker wire is less work."""
RESERVE = 1.05
"""Times the force or torque asked: a remedy that weighs something makes it fly faster."""
N_M_PER_KG_CM = 10.0 * units.N_PER_GF
N_M_PER_OZ_IN = units.N_PER_OZF * units.MM_PER_INCH / 1000.0
"""Servos are labelled in kilogram- and ounce-force, as units.TORQUE reads them."""
_TORQUE = "thin-aerofoil hinge moment, 5 deg of incidence at the tail: an estimate"
_BUCKLING = f"Euler, pinned ends, wire of 190 GPa; {_TORQUE}; limits.flight.push_rod_margin is our choice"


def findings(aeroplane: Aeroplane, flight: Flight) -> list[Finding]:
    """Of every push-rod that ends in a horn; one that says what is not stated of the servos."""
    try:
        runs = flight.control_runs
    except ValueError as error:
        message = f"Throws, servos and push-rods are not estimated: {error}."
        return [Finding("flight.controls", "info", None, "", (None, None), message, "equipment")]
    design = aeroplane.design
    fast = fastest_words(flight, design.units)
    return [*(finding for run in runs for finding in _of(design, run, fast)), *_not_stated(design, runs)]


def fastest_words(flight: Flight, system: units.System) -> str:
    """The speed that controls are asked at: "at 18.6 m/s, the most in level flight"."""
    which = "twice slow cruise" if flight.top_speed_m_s is None else "the most in level flight"
    return f"at {units.speed(flight.fastest_m_s, system)}, {which}"


def _of(design: Design, run: ControlRun, fast: str) -> Iterator[Finding]:
    if run.servo is not None and _has_arm(design, run):
        yield _throw(design, run, run.servo)
    if run.servo is not None and run.torque_margin is not None:
        yield _torque(design, run, run.servo, run.torque_margin, fast)
    yield _push_rod(design, run, fast)


def _has_arm(design: Design, run: ControlRun) -> bool:
    return run.servo is not None and getattr(design.equipment[run.servo], "arm_mm", None) is not None


def _not_stated(design: Design, runs: tuple[ControlRun, ...]) -> Iterator[Finding]:
    message = not_stated(design, runs)
    if message:
        yield Finding("flight.servos", "info", None, "", (None, None), f"{message}.", "equipment")
    if not runs:
        message = "Throws, servos and push-rods are not estimated: no push-rod ends in a horn of the tail."
        yield Finding("flight.controls", "info", None, "", (None, None), message, "equipment")


def not_stated(design: Design, runs: Sequence[ControlRun]) -> str:
    """What must be stated of the servos for an estimate of throws and torque; empty where all is."""
    missing = []
    for run in runs:
        known = {"arm": _has_arm(design, run), "torque": run.torque_margin is not None}
        lacking = " and ".join(what for what, is_known in known.items() if not is_known)
        if lacking:
            is_box = run.servo is not None and not isinstance(design.equipment[run.servo], Servo)
            kind = ' (with kind = "servo")' if is_box else ""
            missing.append(f"the {run.servo or f'{run.surface} servo'}'s {lacking}{kind}")
    told = ", ".join(dict.fromkeys(missing))
    return f"Throws and servos are not estimated in full: state {told}" if missing else ""


def _throw(design: Design, run: ControlRun, servo: str) -> Finding:
    reached, wanted = run.throw_reached_rad, run.throw_wanted_rad
    judged: Verdict = "pass" if reached is not None and reached >= wanted - CLOSE_RAD else "caution"
    does = "locks on its way" if reached is None else f"moves the {run.surface} {degrees(reached):.0f} deg"
    message = f"The {servo} at full travel {does}; {degrees(wanted):.0f} deg to either side are wanted."
    mends: tuple[Remedy, ...] = ()
    if judged == "caution":
        step_mm = ARM_STEP_IN * units.MM_PER_INCH if design.units == "imperial" else ARM_STEP_MM
        arm_mm = ceil(run.arm_needed_mm / step_mm) * step_mm
        typed = length_text(arm_mm, design.units)
        text = f"hook the push-rod into the {servo}'s arm {typed} from its shaft"
        mends = (Remedy(text, (setting(item_key(servo, "arm"), typed),)),)
    value = None if reached is None else round(degrees(reached), 4)
    limit, parts = (round(degrees(wanted), 4), None), (servo, run.surface)
    code, source = f"flight.throw: {run.surface}", "the linkage's geometry, set up square"
    return Finding(code, judged, value, "deg", limit, message, source, mends, parts)


def _torque(design: Design, run: ControlRun, servo: str, margin: Band, fast: str) -> Finding:
    """Fails only where it stalls even at the weakest guess of the air's force."""
    low, worst, best = design.limits.flight.servo_margin, margin.low, margin.high
    judged: Verdict = "pass" if worst >= low else "fail" if best < 1.0 else "caution"
    message = (
        f"Estimate: {fast}, full throw, the {servo} has {worst:.1f} to {best:.1f} times the torque "
        f"that the {run.surface} asks for."
    )
    mends: tuple[Remedy, ...] = ()
    if judged != "pass":
        typed = _torque_text(low * RESERVE * run.torque_needed_n_m.high, design.units)
        text = f"fit a servo of {typed} or more as the {servo}"
        mends = (Remedy(text, (setting(item_key(servo, "torque"), typed),)),)
    code, source = f"flight.servo: {servo}", f"{_TORQUE}; limit: {PRACTICE}"
    return Finding(code, judged, round(worst, 4), "", (low, None), message, source, mends, (servo,))


def _torque_text(torque_n_m: float, system: units.System) -> str:
    """The next tenth of a kg cm, or ounce-inch."""
    if system == "imperial":
        return f"{ceil(torque_n_m / N_M_PER_OZ_IN)} oz in"
    return f"{short(ceil(torque_n_m / N_M_PER_KG_CM * 10.0) / 10.0, 1)} kg cm"


def _push_rod(design: Design, run: ControlRun, fast: str) -> Finding:
    """Never fails: it may well lean on something that no key says."""
    low, margin, system = design.limits.flight.push_rod_margin, run.buckling_margin, design.units
    judged: Verdict = "pass" if margin >= low else "caution"
    rod = design.equipment[run.push_rod]
    assert isinstance(rod, PushRod)
    stretch = f"{units.length(free_length_mm(rod), system)} of {units.size(rod.diameter_mm, system)} wire"
    free = f"between its {_count(rod.guides)} guides" if rod.guides > 1 else "to either side of its guide"
    does = "buckles" if margin < 1.0 else "holds, but barely" if judged == "caution" else "holds"
    message = (
        f"Estimate: {free if rod.guides else 'without guides'} the {run.push_rod}, {stretch}, bears "
        f"{units.force(run.buckling_n, system)}; full throw {fast}, asks "
        f"{units.force(run.rod_force_n.low, system)} to {units.force(run.rod_force_n.high, system)}: it {does}."
    )
    mends = () if judged == "pass" else tuple(_stiffer(design, run, rod))
    code = f"flight.push-rod: {run.push_rod}"
    return Finding(code, judged, round(margin, 4), "", (low, None), message, _BUCKLING, mends, (run.push_rod,))


def _stiffer(design: Design, run: ControlRun, rod: PushRod) -> Iterator[Remedy]:
    """Guides, which cut it into equal lengths that each bear n^2 times as much; or a thicker wire."""
    low, system = design.limits.flight.push_rod_margin, design.units
    guides = guides_needed(run, RESERVE * low)
    if guides <= MOST_GUIDES:
        places = "in the middle" if guides == 1 else f"in {guides} places, evenly spaced"
        yield Remedy(f"guide it {places}", settings([Change(("equipment", run.push_rod, "guides"), guides)], system))
    force_n = RESERVE * run.rod_force_n.high
    least_mm = throws.unguided_diameter_m(free_length_mm(rod) * M_PER_MM, force_n, low) / M_PER_MM
    typed = thicker(least_mm, system)
    yield Remedy(f"make it of {typed} wire", (setting(item_key(run.push_rod, "diameter"), typed),))


def _count(number: int) -> str:
    return {2: "two", 3: "three", 4: "four"}.get(number, str(number))
