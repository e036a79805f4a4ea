"""The page's drawing without a graphics card, without a server, and put away."""

from __future__ import annotations

import numpy as np
from playwright.sync_api import Browser, Page

from tests.viewers.bench.view.drawn import OPEN, Json, Shapes, call, open_page, pixels, scene, show

LOSE = """() => {
  window.loss = document.querySelector("canvas").getContext("webgl2").getExtension("WEBGL_lose_context");
  loss.loseContext();
}"""
COPY = """() => new Promise((done) => {
  window.addEventListener("beforeprint", () => {
    const canvas = document.querySelector("canvas");
    const image = new Image();
    image.onload = () => {
      const pen = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d");
      pen.drawImage(image, 0, 0);
      const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
      let filled = 0;
      for (let k = 3; k < data.length; k += 4) filled += data[k] > 0 ? 1 : 0;
      done((4 * filled) / data.length);
    };
    image.src = canvas.toDataURL();
  });
  window.dispatchEvent(new Event("beforeprint"));
})"""


def test_without_webgl_it_says_so(opened: Browser, shapes: Shapes, drawn: Json) -> None:
    """No 3D: one clear sentence in its place, and every call of the page still answers."""
    page = open_page(opened, shapes, script="HTMLCanvasElement.prototype.getContext = () => null;")
    page.evaluate(OPEN)
    assert show(page, drawn) is False
    assert "cannot draw in 3D" in page.inner_text("#view")
    assert call(page, "look('side')") is False
    assert page.evaluate("view.stats().partsShown") == 0
    page.close()


def test_it_comes_back_after_the_driver_gave_up(page: Page) -> None:
    """While the graphics context is lost that is said; once it is back the same drawing is there."""
    before = pixels(page)
    page.evaluate(LOSE)
    page.wait_for_selector(".view-note")
    page.evaluate("loss.restoreContext()")
    page.wait_for_selector(".view-note", state="detached")
    call(page, "select(null)")
    np.testing.assert_allclose(pixels(page), before, atol=2.0)


def test_shapes_that_do_not_come_leave_the_drawing_as_it_was(page: Page, shapes: Shapes) -> None:
    """A failed request is told to the page; what is drawn stays, and the next scene is drawn."""
    outcome = page.evaluate(
        """async (scene) => {
          const fetched = window.fetch;
          window.fetch = async () => { throw new Error("no server"); };
          const outcome = await view.show(scene).catch((error) => error.message);
          window.fetch = fetched;
          return outcome;
        }""",
        scene(shapes, width_mm=55.0),
    )
    assert outcome == "no server"
    assert page.evaluate("view.stats().partsShown") == 9
    assert show(page, scene(shapes, width_mm=55.0))


def test_it_can_be_copied_for_the_printer(page: Page) -> None:
    """In the task that prints, the canvas can be read: something stands on it, and paper is left around it."""
    filled = page.evaluate(COPY)
    assert 0.05 < filled < 0.7


def test_put_away_it_leaves_nothing(page: Page) -> None:
    """After dispose the host is empty and the graphics card holds nothing of it."""
    page.evaluate("view.dispose()")
    assert page.evaluate("document.getElementById('view').childElementCount") == 0
    assert page.evaluate("view.stats().geometries") == 0
