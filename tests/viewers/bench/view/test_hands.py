"""What mouse, fingers and keys do with the page's drawing."""

from __future__ import annotations

import numpy as np
import pytest
from playwright.sync_api import Page

from airframe.axes import Array
from tests.viewers.bench.view.drawn import Shapes, call, pixels, scene, show, spot

PINCH = """() => {
  const canvas = document.querySelector("canvas");
  canvas.setPointerCapture = () => {};
  const touch = (type, pointerId, clientX) => canvas.dispatchEvent(new PointerEvent(type, {
    pointerId, clientX, clientY: 250, pointerType: "touch", button: type === "pointermove" ? -1 : 0, buttons: 1,
  }));
  touch("pointerdown", 1, 300); touch("pointerdown", 2, 400);
  touch("pointermove", 1, 250); touch("pointermove", 2, 450);
  touch("pointerup", 1, 250); touch("pointerup", 2, 450);
}"""
RING = """() => {
  const style = getComputedStyle(document.getElementById("view"));
  return [style.outlineStyle, style.outlineWidth];
}"""


def test_a_press_turns_and_a_tap_picks(page: Page) -> None:
    """Dragging turns the drawing and picks nothing; a tap on bare paper picks nothing too, and says so."""
    call(page, "look('side')")
    before = spot(page, (800, 0, 0))
    page.mouse.move(600, 500)
    page.mouse.down()
    page.mouse.move(540, 470, steps=4)
    page.mouse.up()
    assert spot(page, (800, 0, 0)) != before
    assert page.evaluate("picked") == []
    page.mouse.click(5, 5)
    assert page.evaluate("picked") == [None]


def test_the_battery_goes_with_the_hand(page: Page) -> None:
    """Dragged by 20 mm on the paper its station grows by 20 mm; it stops at the tray's end; the model is not turned."""
    call(page, "look('side')")
    call(page, "setXray(true)")
    scale = (spot(page, (800, 0, 0))[0] - spot(page, (0, 0, 0))[0]) / 800
    x, y = spot(page, (60, 0, -20))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 20 * scale, y + 3, steps=3)
    told = page.evaluate("dragged")
    assert [one["phase"] for one in told] == ["start", *["move"] * (len(told) - 1)]
    assert told[-1]["part"] == "battery"
    assert told[-1]["value"] == pytest.approx(80.0, abs=1e-3)
    page.mouse.move(x + 300 * scale, y, steps=2)
    page.mouse.up()
    assert page.evaluate("dragged[dragged.length - 1]") == {"part": "battery", "value": 140.0, "phase": "end"}
    assert spot(page, (60, 0, -20)) == (x, y)
    assert page.evaluate("picked") == []


def test_a_held_battery_stays_under_the_hand(page: Page, shapes: Shapes) -> None:
    """A scene that still has it elsewhere, late from the server, does not snatch it away."""
    call(page, "look('side')")
    call(page, "setXray(true)")
    x, y = spot(page, (60, 0, -20))
    scale = (spot(page, (800, 0, 0))[0] - spot(page, (0, 0, 0))[0]) / 800
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 70 * scale, y, steps=3)
    show(page, scene(shapes, battery_mm=65.0))
    green = _middle_of_green(pixels(page), y)
    assert green == pytest.approx(x + 70 * scale, abs=2.0)
    page.mouse.up()
    show(page, scene(shapes, battery_mm=130.0))
    assert _middle_of_green(pixels(page), y) == pytest.approx(green, abs=2.0)


def _middle_of_green(image: Array, y_px: float) -> float:
    """The battery's middle across the paper, looked for at its own height."""
    image = image[int(y_px) - 4 : int(y_px) + 4]
    is_green = (image[:, :, 1] > image[:, :, 0] + 40) & (image[:, :, 1] > image[:, :, 2] + 10) & (image[:, :, 1] < 190)
    columns = np.flatnonzero(is_green.sum(axis=0) > 3)
    return float((columns[0] + columns[-1]) / 2.0)


def test_an_axis_seen_end_on_cannot_be_pulled(page: Page) -> None:
    """From straight ahead the tray runs into the paper: the hand turns the drawing and the battery stays."""
    call(page, "look('front')")
    call(page, "setXray(true)")
    x, y = spot(page, (60, 0, -20))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=4)
    page.mouse.up()
    assert page.evaluate("dragged") == []


def test_keys_do_what_the_hand_does(page: Page) -> None:
    """With the focus on it: digits choose a view, arrows turn, plus comes nearer, Escape lets go."""
    page.focus("#view")
    page.keyboard.press("2")
    call(page, "select(null)")
    (x0, y0), (x1, y1) = spot(page, (0, 0, 0)), spot(page, (800, 0, 0))
    assert x1 > x0 and y1 == pytest.approx(y0)
    page.keyboard.press("+")
    assert spot(page, (800, 0, 0))[0] - spot(page, (0, 0, 0))[0] == pytest.approx(1.15 * (x1 - x0))
    page.keyboard.press("ArrowUp")
    assert spot(page, (240, 500, 0))[1] < spot(page, (240, 0, 0))[1]
    page.keyboard.press("Escape")
    assert page.evaluate("picked") == [None]
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") != "view"


def test_the_wheel_keeps_what_is_under_the_pointer(page: Page) -> None:
    """Coming nearer, the point under the pointer stays where it is and others go outwards."""
    call(page, "look('side')")
    x, y = spot(page, (150, 0, -120))
    far = spot(page, (500, 0, 0))[0] - x
    page.mouse.move(x, y)
    page.mouse.wheel(0, -60)
    page.wait_for_function("([x, far]) => view.project([500, 0, 0])[0] - x > 1.1 * far", arg=[x, far])
    assert spot(page, (150, 0, -120)) == pytest.approx((x, y), abs=0.5)


def test_two_fingers_bring_it_nearer(page: Page) -> None:
    """Fingers drawn apart to twice their distance double the scale about the point between them."""
    call(page, "look('side')")
    before = spot(page, (800, 0, 0))[0] - spot(page, (0, 0, 0))[0]
    page.evaluate(PINCH)
    assert spot(page, (800, 0, 0))[0] - spot(page, (0, 0, 0))[0] == pytest.approx(2.0 * before)
    assert page.evaluate("picked") == []


def test_the_focus_is_seen(page: Page) -> None:
    """Reached by keyboard, the drawing has a ring of at least two pixels around it."""
    page.keyboard.press("Tab")
    page.focus("#view")
    style, width = page.evaluate(RING)
    assert style == "solid" and float(width.removesuffix("px")) >= 2.0
