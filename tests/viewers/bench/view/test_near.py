"""Thin things on the page's drawing can be pointed at: what is nearest is meant where nothing lies under the hand."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.viewers.bench.view.drawn import call, spot

MOUSE_PX, FINGER_PX = 6.0, 22.0
POINT = """([kind, x, y]) => {
  const canvas = document.querySelector("canvas");
  canvas.setPointerCapture = () => {};
  const [pointerId, clientX, clientY, pointerType] = [1, x, y, kind];
  for (const [type, buttons] of [["pointerdown", 1], ["pointerup", 0]]) {
    canvas.dispatchEvent(new PointerEvent(type, { pointerId, clientX, clientY, pointerType, button: 0, buttons }));
  }
  return picked[picked.length - 1];
}"""
TIP = (240.0, 500.0, 60.0)


def beside(page: Page, kind: str, point: tuple[float, float, float], right_px: float, down_px: float) -> str | None:
    """The part picked by a tap so far from where a point is drawn."""
    x, y = spot(page, point)
    picked: str | None = page.evaluate(POINT, [kind, x + right_px, y + down_px])
    return picked


@pytest.mark.parametrize(("kind", "reach"), [("mouse", MOUSE_PX), ("touch", FINGER_PX)])
def test_the_hand_reaches_so_far(page: Page, kind: str, reach: float) -> None:
    """Seen from above, a tap just less than the reach beyond the wing's tip picks the wing; just more, bare paper."""
    call(page, "look('top')")
    assert beside(page, kind, TIP, 0.0, -(reach - 0.5)) == "wing right"
    assert beside(page, kind, TIP, 0.0, -(reach + 0.5)) is None


def test_the_nearer_of_two_is_meant(page: Page) -> None:
    """Behind the tail the fuselage or the wheel under it is picked, whichever is nearer the finger."""
    call(page, "look('side')")
    assert beside(page, "touch", (800, 0, -40), 3.0, 0.0) == "fuselage"
    assert beside(page, "touch", (782, 0, -48), 3.0, 4.0) == "tail wheel"


def test_a_corner_is_reached_as_far_as_a_side(page: Page) -> None:
    """Aslant from the tip's corner at 3, 4 and 5 times a length: within reach at 5 px of a mouse's 6, without at 10."""
    call(page, "look('top')")
    corner = (150.0, 500.0, 65.0)
    assert beside(page, "mouse", corner, -3.0, -4.0) == "wing right"
    assert beside(page, "mouse", corner, -6.0, -8.0) is None


def test_what_is_cut_away_is_not_there(page: Page) -> None:
    """Cut at the centre plane the left tip can no longer be reached, and the right one can."""
    call(page, "look('top')")
    left = (240.0, -500.0, 60.0)
    assert beside(page, "touch", left, 0.0, 10.0) == "wing left"
    call(page, "setSection(0)")
    assert beside(page, "touch", left, 0.0, 10.0) is None
    assert beside(page, "touch", TIP, 0.0, -10.0) == "wing right"


def test_the_cut_is_an_edge(page: Page) -> None:
    """Cut between the centre plane and the tip, the wing's half is reached from the cut, not from what was cut away."""
    call(page, "look('top')")
    call(page, "setSection(300)")
    call(page, "setHidden(new Set(['fuselage', 'finish', 'electrical', 'landing gear']))")
    cut = (240.0, 300.0, 65.0)
    assert beside(page, "touch", (150.0, 300.0, 65.0), -10.0, 5.0) == "wing right"
    assert beside(page, "touch", cut, 0.0, 40.0) is None


def test_seen_through_what_is_inside_comes_first(page: Page) -> None:
    """A finger beside the battery, on the skin: the skin is picked, and seen through the battery."""
    call(page, "look('side')")
    rear = (90.0, 0.0, -20.0)
    assert beside(page, "touch", rear, 10.0, 0.0) == "fuselage"
    call(page, "setXray(true)")
    assert beside(page, "touch", rear, 10.0, 0.0) == "battery"
    assert beside(page, "mouse", rear, 10.0, 0.0) == "fuselage"
