"""The colours of a builder's bench drawing: tinted parts and dark ink on warm paper."""

from __future__ import annotations

from dataclasses import dataclass

from airframe.materials import Look


@dataclass(frozen=True)
class Tint:
    """How a material looks: an sRGB colour (#rrggbb), how opaque it is (0 to 1), and its words in a legend."""

    colour: str
    words: str
    opacity: float = 1.0


LOOKS: dict[Look, Tint] = {
    "foam": Tint("#a8d0ea", "foam board"),
    "plywood": Tint("#c9853f", "plywood"),
    "wood": Tint("#efc564", "wood"),
    "wire": Tint("#343f86", "wire"),
    "metal": Tint("#6f8fc4", "metal"),
    "clear": Tint("#6fd9d2", "clear sheet", 0.45),
    "plastic": Tint("#8a63b8", "plastic, bought items"),
    "rubber": Tint("#4a2f45", "rubber"),
    "glue": Tint("#e8940a", "glue"),
    "paint": Tint("#d8503f", "paint"),
    "filler": Tint("#e3a9bd", "filler"),
    "tape": Tint("#e6d8a0", "tape", 0.75),
    "cell": Tint("#1f8a70", "battery"),
}
"""One tint for each look; neighbours in an aeroplane differ in lightness as well as in hue."""

PAPER = "#f7f0e0"
PAPER_SHADE = "#ebe0c8"
INK = "#2a2633"
INK_SOFT = "#6d6472"
DIMENSION = "#7a2e2a"
"""Dimension lines and their figures."""
BALANCE = "#c0135e"
"""The balance point."""
CONTACT = "#0b6e5f"
"""Where the wheels touch the ground."""
DISC = "#8a63b8"
"""The propeller's swept disc."""
AXES = {"aft": "#c0392b", "right": "#0f7d4a", "up": "#2356b8"}
"""The three axes through the balance point, by the way each one points."""


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of a #rrggbb colour."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
