"""How a servo's arm moves a control surface through a push-rod: a four-bar linkage in its own plane; any one unit.

The servo's shaft is the origin, u runs from it towards the hinge line, w across. Angles are measured from w towards u,
so with both arms upright (zero) and equal, surface and servo turn alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan2, cos, hypot, sin


class LinkageLocks(ValueError):  # noqa: N818 - what happens, in one word
    """The push-rod cannot reach: the linkage has passed its dead point."""


@dataclass(frozen=True)
class Linkage:
    """Arm, push-rod and horn with the surface at rest."""

    arm: float
    """From the servo's shaft to the push-rod's hole."""
    horn: float
    """From the hinge line to the push-rod's hole."""
    along: float
    """From the servo's shaft to the hinge line, along u."""
    across: float = 0.0
    """The same across: how far the hinge line lies to the side that the arm points to."""
    arm_at_rest_rad: float = 0.0
    """Of the arm when the surface is at rest; 0 is upright."""
    horn_at_rest_rad: float = 0.0
    """Of the horn's hole as seen from the hinge line, surface at rest; positive leans away from the servo."""

    @property
    def rod(self) -> float:
        """Length of the push-rod between its holes."""
        (ax, ay), (bx, by) = self._arm_tip(0.0), self._horn_tip(0.0)
        return hypot(bx - ax, by - ay)

    def surface_rad(self, servo_rad: float) -> float:
        """How far the surface turns for a turn of the servo; both positive when the holes move towards +u.

        From |horn tip - arm tip| = rod: X sin(phi) + Y cos(phi) = K. Raises LinkageLocks beyond the dead point.
        """
        x, y = self._arm_tip(servo_rad)
        x, y = x - self.along, y - self.across
        reach = hypot(x, y)
        level = (reach**2 + self.horn**2 - self.rod**2) / (2.0 * self.horn * reach)
        if abs(level) > 1.0:
            raise LinkageLocks(f"the linkage locks before the servo has turned {servo_rad:.2f} rad")
        return atan2(x, y) + self._side * acos(level) - self.horn_at_rest_rad

    def gain(self, servo_rad: float) -> float:
        """How fast the surface turns for each radian of the servo, at a place of the servo.

        The rod keeps its length, so both ends move alike along it.
        """
        surface = self.surface_rad(servo_rad)
        (ax, ay), (bx, by) = self._arm_tip(servo_rad), self._horn_tip(surface)
        u, w = bx - ax, by - ay
        arm, horn = self.arm_at_rest_rad + servo_rad, self.horn_at_rest_rad + surface
        along_horn = self.horn * (u * cos(horn) - w * sin(horn))
        return self.arm * (u * cos(arm) - w * sin(arm)) / along_horn

    def rod_arm(self, servo_rad: float) -> float:
        """The rod's distance from the hinge line: hinge moment over the force in the rod."""
        surface = self.surface_rad(servo_rad)
        (ax, ay), (bx, by) = self._arm_tip(servo_rad), self._horn_tip(surface)
        horn = self.horn_at_rest_rad + surface
        return abs(self.horn * ((bx - ax) * cos(horn) - (by - ay) * sin(horn))) / self.rod

    @property
    def _side(self) -> float:
        """Which of the two ways the linkage closes, as it is at rest."""
        x, y = self._arm_tip(0.0)
        x, y = x - self.along, y - self.across
        turn = self.horn_at_rest_rad - atan2(x, y)
        return 1.0 if sin(turn) >= 0.0 else -1.0

    def _arm_tip(self, servo_rad: float) -> tuple[float, float]:
        angle = self.arm_at_rest_rad + servo_rad
        return self.arm * sin(angle), self.arm * cos(angle)

    def _horn_tip(self, surface_rad: float) -> tuple[float, float]:
        angle = self.horn_at_rest_rad + surface_rad
        return self.along + self.horn * sin(angle), self.across + self.horn * cos(angle)


def straight_linkage(arm: float, horn: float, along: float) -> Linkage:
    """Arm and horn both square to the push-rod at rest, as a linkage should be set up: nothing else to state.

    `along` is the push-rod's length; the hinge line then lies across by the difference of the arms.
    """
    return Linkage(arm, horn, along, across=arm - horn)
