"""Building notes: the order of assembly, every joint with its glue, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase

from airframe.cutting.amounts import amount
from airframe.drawing import Bead, Part
from airframe.parts.common import GLUE
from airframe.schema.design import Design

GLUE_ORDER = (
    "Join the pages row by row in the order of their names: A1, A2, A3 and so on, then B1, B2, B3; then row B under "
    "row A, row C under row B. Trim the left edge of a page that has a neighbour there straight through the middles of "
    "its crosses, lay it over that neighbour so that the half crosses become whole ones, and tape it; the same with "
    "the upper edge of a whole row. A page that is not there has nothing to cut on it."
)
"""How the pages of one drawing become one sheet of paper."""

BEFORE = (
    "Print at 100 %, with no scaling to fit the page. Measure the check bars on every page before cutting "
    "anything: the bars of 100 mm and of 4 in, along both axes, must be right as near as a steel rule shows. Half a "
    "millimetre in 100 mm is 2.5 mm in half a metre: mend it with the printer's scale, and print again.",
    f"{GLUE_ORDER} Fix the sheet to the board with a few strips of tape or a light spray glue.",
    "Every pattern is drawn with the face up that has the most to be done to it: scores, bevels and pencil "
    "lines. It says which way that face looks in the finished aeroplane. Left and right are drawn apart.",
    "Cut through along the middle of the heavy lines, blade upright. Cut the scores to the depth stated and no "
    "deeper: the board folds towards the cut, about the paper, or the last half millimetre, that is left. From 10 "
    "degrees on, cut a V as wide as the bend, so that it closes.",
    "Then slant the bevelled edges, from the cut edge on one face to the dashed line on the other. Dotted lines "
    "lie on the face that is underneath. Prick through the ends of pencil lines before lifting the paper, and "
    "join the pricks.",
)
"""What to know before the first cut."""

CAUTIONS = (
    ("Knife", "Use fresh blades and a steel rule, cut away from the hand that holds it, several light passes; "
              "snap off or sheathe the blade when it is put down."),
    ("Hot glue", "Melt is at 120 to 200 degrees C and sticks to skin: cold water within reach, no glue gun left "
                 "on unattended. Use a low-temperature gun on foam; test on a scrap, for a hot nozzle melts it."),
    ("Epoxy", "Gloves, fresh air, no skin contact: allergy to it is for life. Mix small amounts: a full pot "
              "heats up. Clean up before it sets."),
    ("Plywood and wire", "Wear a dust mask and goggles for sawing and sanding plywood. Cut wire with goggles on, "
                         "and file its ends round; bend it round a rod in the vice, never with fingers near the "
                         "end."),
    ("First power-up", "Propeller off until everything else works; children and pets well away. "
                       "These drawings are estimates and no clearance to fly: have the aeroplane looked over by "
                       "an experienced flyer."),
)  # fmt: skip
"""Dangers of the work, each with what to do."""


@dataclass(frozen=True)
class Joint:
    """One glued joint."""

    name: str
    glue: str
    length_mm: float


@dataclass(frozen=True)
class Step:
    """One stage of the assembly."""

    title: str
    text: str
    joints: tuple[Joint, ...]


def steps(design: Design, parts: Iterable[Part]) -> list[Step]:
    """The stages that have joints, in the order of building; every joint is in the first stage that knows it."""
    left = [
        Joint(part.name.removeprefix("glue, "), part.material.name, amount(part.shape))
        for part in parts
        if part.group == GLUE and isinstance(part.shape, Bead)
    ]
    made = []
    for title, text, names in _stages(design):
        own = tuple(joint for joint in left if _is_named(joint.name, names))
        left = [joint for joint in left if joint not in own]
        if own:
            made.append(Step(title, text, own))
    return made


def _is_named(name: str, patterns: Sequence[str]) -> bool:
    return any(fnmatchcase(name.lower(), pattern.lower()) for pattern in patterns)


def _stages(design: Design) -> list[tuple[str, str, list[str]]]:
    fuselage = design.fuselage
    decks = [f"{deck.name}*" for deck in fuselage.decks]
    shells = [f"{shell.name}*" for shell in fuselage.shells]
    inside = [*(brace.name for brace in fuselage.braces), *(shelf.name for shelf in fuselage.shelves)]
    return [
        (
            "Sides",
            "Join spliced sides over a straight edge, glue the doublers across inside. Glue plywood "
            "reinforcement to the inner faces while the sides still lie flat. Make a left and a right side.",
            ["side splice", "*reinforcement*", "firewall doublers"],
        ),
        (
            "Fuselage box",
            "Try everything dry first. Stand the formers on one side, square to it, tack them, then add the "
            "other side; pull the tails together last. The firewall goes in last of the cross pieces: roughen "
            "the plywood, glue it between its doublers, then the gussets. Sight along the box for twist before "
            "the glue is hard.",
            ["former *", *inside, "firewall*"],
        ),
        (
            "Wing dowels",
            "Try the dowels through both sides: square to the fuselage and level with one another. Glue them "
            "where they pass.",
            ["*dowel"],
        ),
        (
            "Landing gear",
            "Bend both legs by the table and hold them together: they must mirror one another. Bind them to the "
            "plate with thread before the glue. Check that the wheels are in line and the track is as drawn.",
            ["gear *", "main *", "leg *", "strut *", "tail wheel*", "nose wheel*", "skid*"],
        ),
        (
            "Decks, floor and cowl",
            "Bend scored pieces over the edge of the table first, then round their formers; hold them with tape "
            "while the glue sets. Fit leads and push-rods while you can still reach.",
            [*decks, *shells, "*lid*"],
        ),
        (
            "Wing",
            "Bend each skin along its scores, glue in the spar and the ribs at their pencil lines, then close "
            "it. Join the panels last, propped to the dihedral drawn, both halves alike; tape over the joints.",
            ["centre rib*", "wing *"],
        ),
        (
            "Tail",
            "Try the hinges dry: full throw both ways without rubbing. Glue the stabiliser level with the wing "
            "and square to the centre line, then the fin upright on it.",
            ["*stabiliser*", "fin*", "elevator*", "rudder*"],
        ),
        ("The rest", "Whatever remains, when what it is glued to is there.", ["*"]),
    ]
