"""While the page's drawing moves it is drawn quickly: nothing is missing, and no finer frame comes in between."""

from __future__ import annotations

import base64
import io
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from tests.viewers.bench.view.drawn import OPEN, Json, Shapes, call, open_page, pixels, scene, show, spot

FRAMES = """async ([name, value]) => {
  const canvas = document.querySelector("canvas");
  const gl = canvas.getContext("webgl2");
  const strokes = gl.drawArrays;
  const seen = [];
  const hand = (kind, buttons) => window.dispatchEvent(new PointerEvent(kind, { buttons }));
  hand("pointerdown", 1);  // no finer frame comes in between
  for (let k = 0; k < 4; k += 1) {
    let lines = 0;
    gl.drawArrays = (...all) => { lines += 1; strokes.apply(gl, all); };
    const drawn = k === 0 ? view[name](value) : view.setBands([]);
    await new Promise((done) => requestAnimationFrame(done));  // in the task that drew: later the canvas is empty
    seen.push({ lines, image: canvas.toDataURL("image/png") });
    await drawn;
  }
  delete gl.drawArrays;
  hand("pointerup", 0);
  return seen;
}"""
"""A call of the view and more frames after it: how many pieces were drawn in each, and what stood on the canvas."""
TIMERS = """
  const timers = new Map();
  let last = 0;
  window.setTimeout = (act) => { last += 1; timers.set(last, act); return last; };
  window.clearTimeout = (number) => timers.delete(number);
  window.due = () => {
    const acts = [...timers.values()];
    timers.clear();
    acts.forEach((act) => act());
    return acts.length;
  };
"""
"""Timers that go off when the test says so: a script for the page."""
GREY = 2.0


def frames(page: Page, name: str, value: str | bool) -> list[Any]:
    """The frame of a call of the view and those after it, their pictures as arrays."""
    from PIL import Image

    seen: list[Any] = page.evaluate(FRAMES, [name, value])
    for one in seen:
        png = base64.b64decode(one["image"].partition(",")[2])
        one["image"] = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"), dtype=float)
    return seen


@pytest.fixture
def traced(page: Page, shapes: Shapes) -> Page:
    """The small aeroplane with a prototype of wider track laid over it."""
    parts = [{"shape": p["shape"], "place": p["place"]} for p in scene(shapes, track_mm=400.0)["parts"]]
    page.evaluate("(tracing) => view.setGhost(tracing)", {"parts": parts})
    return page


def test_the_tracing_is_drawn_once_and_looks_the_same(traced: Page) -> None:
    """While the eye stays the prototype is laid down as one image, equal to what was drawn; other ink, a new image."""
    call(traced, "look('top')")
    pictures = []
    for name, value in (("look", "side"), ("setTheme", "dark")):
        drawn, *_, laid = frames(traced, name, value)
        assert laid["lines"] < drawn["lines"]
        np.testing.assert_allclose(laid["image"], drawn["image"], atol=GREY)
        pictures.append(laid["image"])
    assert np.abs(pictures[1] - pictures[0]).max() > 60.0


def test_a_prototype_taken_away_is_gone(traced: Page) -> None:
    """Taken away, a prototype kept as an image leaves the drawing as it is while the prototype is not shown."""
    frames(traced, "look", "front")
    *_, hidden = frames(traced, "setGhostShown", False)
    *_, shown = frames(traced, "setGhostShown", True)
    assert np.abs(shown["image"] - hidden["image"]).max() > 60.0
    call(traced, "setGhost(null)")
    for one in frames(traced, "setGhostShown", True):
        np.testing.assert_allclose(one["image"], hidden["image"], atol=GREY)


def test_a_moved_eye_sees_the_tracing_from_there(traced: Page) -> None:
    """Turned away and back, the drawing with its prototype is what it was, whatever was kept meanwhile."""
    *_, before = frames(traced, "look", "side")
    frames(traced, "look", "top")
    for one in frames(traced, "look", "side"):
        np.testing.assert_allclose(one["image"], before["image"], atol=GREY)


def test_no_finer_frame_while_the_hand_is_down(opened: Browser, shapes: Shapes, drawn: Json) -> None:
    """However long a held hand pauses, the drawing stays quick; let go, one finer frame of twice the pixels comes."""
    page = open_page(opened, shapes, script=TIMERS)
    page.evaluate(OPEN)
    assert show(page, drawn)
    page.mouse.move(20, 20)
    page.mouse.down()
    call(page, "look('side')")
    width = page.evaluate("document.querySelector('canvas').width")
    before = page.evaluate("view.stats().frames")
    assert [page.evaluate("due()") for _ in range(3)] == [1, 1, 1]
    assert page.evaluate("view.stats().frames") == before
    page.mouse.up()
    assert page.evaluate("due()") == 1
    assert page.evaluate("view.stats().frames") == before + 1
    assert page.evaluate("document.querySelector('canvas').width") == 2 * width
    assert page.evaluate("due()") == 0
    page.close()


def test_lines_are_as_wide_on_a_dense_screen(opened: Browser, shapes: Shapes, drawn: Json) -> None:
    """Where the screen has two pixels for one of the page, a line is two of them wide, and lies where it should."""
    page = open_page(opened, shapes, dense=2.0)
    page.evaluate(OPEN)
    assert show(page, drawn)
    call(page, "look('side')")
    groups = ["fuselage", "finish", "wing", "electrical", "landing gear"]
    page.evaluate("(groups) => view.setHidden(new Set(groups))", groups)
    x, y = (2.0 * value for value in spot(page, (650, 0, -45)))
    column = pixels(page)[int(y) - 20 : int(y) + 20, int(x)]
    is_orange = np.flatnonzero(column[:, 0] - column[:, 2] > 150.0)
    assert len(is_orange) == 2
    assert is_orange.mean() + 0.5 == pytest.approx(20.0 + y % 1.0, abs=1.0)
    page.close()
