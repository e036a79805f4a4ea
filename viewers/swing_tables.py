"""How to measure inertia at home: strings and pivots proposed, with the period to expect of each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from airframe import swing
from viewers.tables import Column, Row, Table, inertia_number, length_number

if TYPE_CHECKING:
    from airframe.model import Aeroplane

AXES = ("roll", "pitch", "yaw")
CAUTION = (
    "hang it indoors, out of the draught, battery strapped in and propeller off; time ten swings or more, "
    "and put the time into [[swung]]: airframe weigh --sure then sets it beside the model"
)


def swing_table(aeroplane: Aeroplane) -> Table:
    """For each axis: two strings and one pivot that give a period easily timed, and that period."""
    system, whole = aeroplane.design.units, aeroplane.statement.whole
    rows = []
    for axis, inertia in zip(AXES, (float(whole.inertia[i, i]) for i in range(3)), strict=True):
        length, spacing = swing.bifilar_proposal(inertia, whole.mass)
        distance = swing.compound_proposal(inertia, whole.mass)
        cells = (
            inertia_number(inertia, system),
            length_number(length, system),
            length_number(spacing, system),
            f"{swing.bifilar_period(inertia, whole.mass, length, spacing):.2f}",
            length_number(distance, system),
            f"{swing.compound_period(inertia, whole.mass, distance):.2f}",
        )
        rows.append(Row((axis, *cells)))
    unit, moment = ("in", "oz in²") if system == "imperial" else ("mm", "g m²")
    columns = (
        Column("axis"),
        Column(f"inertia {moment}", "right"),
        Column(f"strings {unit}", "right"),
        Column(f"apart {unit}", "right"),
        Column("period s", "right"),
        Column(f"or pivot {unit}", "right"),
        Column("period s", "right"),
    )
    return Table("to measure it: two strings, or a pivot above the balance point", columns, tuple(rows))


def relative_error(aeroplane: Aeroplane, swings: int = 10) -> float:
    """What timing so many swings by hand on the proposed strings leaves unsure of the inertia in pitch, as a share."""
    whole = aeroplane.statement.whole
    inertia = float(whole.inertia[1, 1])
    seconds = swing.bifilar_period(inertia, whole.mass, *swing.bifilar_proposal(inertia, whole.mass))
    # Inertia goes with the square of the period.
    return 2.0 * swing.period(seconds * swings, swings, aeroplane.design.certainty.reaction_s).share
