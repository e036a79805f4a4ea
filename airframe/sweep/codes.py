"""What may be asked of every variant by name: the sums of the weight statement, and the findings of our checks."""

from __future__ import annotations

BALANCE, GROUND, PROPELLER = "balance", "standing and tipping over", "propeller clearance"
FIT, MOVING, MAKING = "fit", "moving parts", "making"

SUMS: dict[str, str] = {
    "mass": "g",
    "cg.station": "mm",
    "cg.behind_leading_edge": "mm",
    "cg.percent_mac": "%",
    "cg.butt_line": "mm",
    "cg.water_line": "mm",
    "inertia.roll": "g mm^2",
    "inertia.pitch": "g mm^2",
    "inertia.yaw": "g mm^2",
    "inertia.product": "g mm^2",
}
"""Code of a sum, and its unit inside. The product is the tensor's xz entry: the NEGATIVE integral of x z dm."""

FINDINGS: dict[str, tuple[str, str]] = {
    "balance.range": (BALANCE, "mm"),
    "balance.reach": (BALANCE, "mm"),
    "balance.sideways": (BALANCE, "mm"),
    "ground.stands": (GROUND, "%"),
    "ground.lateral": (GROUND, "times gravity"),
    "ground.overturn": (GROUND, "deg"),
    "ground.turn": (GROUND, "m"),
    "ground.grass": (GROUND, "%"),
    "ground.bump": (GROUND, "deg"),
    "ground.wind": (GROUND, "m/s"),
    "ground.battery": (GROUND, "deg"),
    "ground.wheel-line": (GROUND, "deg"),
    "ground.third-load": (GROUND, "%"),
    "ground.tip-back": (GROUND, "deg"),
    "ground.nose-over": (GROUND, "%"),
    "ground.full-throttle": (GROUND, "N"),
    "ground.attitude": (GROUND, "deg"),
    "ground.tail-strike": (GROUND, "deg"),
    "propeller.ground": (PROPELLER, "mm"),
    "propeller.deflected": (PROPELLER, "mm"),
    "propeller.flat-tyre": (PROPELLER, "mm"),
    "propeller.nose-down": (PROPELLER, "deg"),
    "propeller.axial": (PROPELLER, "mm"),
    "propeller.radial": (PROPELLER, "mm"),
    "fit.inside": (FIT, "mm"),
    "fit.outside": (FIT, "mm"),
    "fit.overlap": (FIT, "mm^3"),
    "fit.room": (FIT, "mm"),
    "fit.hatch": (FIT, "mm"),
    "fit.hand": (FIT, "mm"),
    "fit.shaft": (FIT, "mm"),
    "fit.screws": (FIT, "mm"),
    "fit.lead": (FIT, ""),
    "moving.elevator": (MOVING, "mm"),
    "moving.rudder": (MOVING, "mm"),
    "moving.elevator_rudder": (MOVING, "mm"),
    "moving.bevel": (MOVING, "deg"),
    "moving.push_rod": (MOVING, "mm"),
    "moving.wheels": (MOVING, "mm"),
    "making.score": (MAKING, ""),
    "making.sheet": (MAKING, "mm"),
    "making.edge": (MAKING, ""),
    "making.loose": (MAKING, ""),
    "making.glue": (MAKING, "%"),
    "making.wire": (MAKING, ""),
    "making.firewall": (MAKING, ""),
    "making.dowels": (MAKING, ""),
    "making.screws": (MAKING, ""),
}
"""Code of a finding, without the item that may follow: the check in `airframe.checks.whole` and the value's unit.

A finding of a check that is not listed here is found by asking the design's own checks.
"""
