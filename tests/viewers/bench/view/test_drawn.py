"""What the page's drawing shows, in a real browser, and that it forgets what it no longer needs."""

from __future__ import annotations

import numpy as np
import pytest
from playwright.sync_api import Page

from tests.viewers.bench.view.drawn import REST, Shapes, call, pixels, scene, show, spot, tap


def test_only_what_changed_is_touched(page: Page, shapes: Shapes) -> None:
    """The missing shapes come in one request; a battery that moved needs none, and one part is placed anew."""
    assert [len(set(digests)) for digests in page.evaluate("asked")] == [7]
    assert show(page, scene(shapes, battery_mm=75.0))
    assert page.evaluate("asked.length") == 1
    assert page.evaluate("view.stats().touched") == 1
    assert show(page, scene(shapes, width_mm=90.0))
    assert [len(digests) for digests in page.evaluate("asked")] == [7, 2]
    assert page.evaluate("view.stats().partsShown") == 9


def test_left_is_the_mirror_of_right(page: Page) -> None:
    """Both halves of the wing hang on one shape; each is found on its own side, and the view from above is to scale."""
    call(page, "look('top')")
    assert tap(page, (240, 400, 65)) == "wing right"
    assert tap(page, (240, -400, 65)) == "wing left"
    (x0, y0), (x1, y1) = spot(page, (0, -500, 0)), spot(page, (800, 500, 0))
    assert (x1 - x0) / 800 == pytest.approx((y0 - y1) / 1000)


def test_a_late_answer_never_overwrites_a_newer_one(page: Page, shapes: Shapes) -> None:
    """A scene whose shapes come after those of the next one is given up; the newer stays."""
    slow, quick = scene(shapes, width_mm=61.0, track_mm=300.0), scene(shapes, battery_mm=100.0)
    outcome = page.evaluate(
        """async ([slow, quick]) => {
          let release;
          window.wait = new Promise((resolve) => { release = resolve; });
          const late = view.show(slow);
          window.wait = null;
          const first = await view.show(quick);
          release();
          return [await late, first];
        }""",
        [slow, quick],
    )
    assert outcome == [False, True]
    call(page, "look('front')")
    assert tap(page, (150, 120, -130)) == "main wheel right"


@pytest.mark.slow
def test_memory_stays_flat(page: Page, shapes: Shapes) -> None:
    """However many shapes have come and gone, those held and what the graphics card holds stop growing."""
    changes = [scene(shapes, width_mm=100.0 + 0.25 * k) for k in range(60)]
    page.set_viewport_size({"width": 300, "height": 220})
    seen = page.evaluate(
        """async (changes) => {
          const seen = [];
          await view.setSection(0);
          for (const change of changes) {
            await view.show(change);
            const { shapesHeld, geometries } = view.stats();
            seen.push([shapesHeld, geometries, document.querySelectorAll("svg *").length]);
          }
          return seen;
        }""",
        changes,
    )
    assert seen[-1][0] == seen[45][0] < 90
    assert seen[-1][1] <= seen[45][1]
    assert seen[-1][2] <= seen[45][2]


def test_nothing_is_drawn_unasked(page: Page) -> None:
    """A drawing at rest makes no frames, but for a single finer one where the processor draws."""
    page.evaluate(REST)
    before = page.evaluate("view.stats().frames")
    page.wait_for_timeout(500)
    assert page.evaluate("view.stats().frames") == before


def test_hidden_groups_are_gone(page: Page) -> None:
    """Without the wing's group the hand reaches through to the fuselage; a coat goes with the part under it."""
    call(page, "look('top')")
    call(page, "setHidden(new Set(['wing']))")
    assert tap(page, (240, 20, 65)) == "fuselage"
    x, y = (int(value) for value in spot(page, (600, 20, 45)))
    red, green, _ = pixels(page)[y, x]
    assert red > green + 80.0
    call(page, "setHidden(new Set(['fuselage']))")
    red, green, _ = pixels(page)[y, x]
    assert abs(red - green) < 20.0


def test_see_through_reaches_what_is_inside(page: Page) -> None:
    """Pointing at the battery's place picks the skin, and seen through the battery."""
    call(page, "look('side')")
    assert tap(page, (60, 0, -20)) == "fuselage"
    call(page, "setXray(true)")
    assert tap(page, (60, 0, -20)) == "battery"
    assert tap(page, (600, 0, 0)) == "fuselage"


def test_a_cut_is_hatched_and_leaves_what_is_bought_whole(page: Page) -> None:
    """Cut at the centre plane the near side is gone, the cut face carries ink, and the battery stands out whole."""
    call(page, "look('side')")
    x, y = spot(page, (600, 0, 0))
    part = np.s_[int(y) - 12 : int(y) + 12, int(x) - 12 : int(x) + 12]
    whole = pixels(page)[part]
    assert whole.min() > 120.0
    call(page, "setSection(0)")
    assert (pixels(page)[part].max(axis=2) < 150.0).mean() > 0.03
    assert tap(page, (60, 0, -20)) == "battery"
    call(page, "setSection(10)")
    assert tap(page, (60, 0, -20)) == "battery"
    call(page, "setSection(null)")
    np.testing.assert_allclose(pixels(page)[part], whole, atol=2.0)


def test_a_cut_at_the_edge_shows_all(page: Page) -> None:
    """A plane beyond the left wing tip takes nothing away and hatches nothing."""
    call(page, "look('three-quarter')")
    whole = pixels(page)
    call(page, "setSection(-600)")
    np.testing.assert_allclose(pixels(page), whole, atol=2.0)


def test_pulled_apart_it_has_no_dimensions(page: Page) -> None:
    """Each part goes away from the balance point, its coat with it, and the dimensions of the whole are left out."""
    call(page, "setExplode(1)")
    texts = page.locator("svg text:visible").all_text_contents()
    assert texts == ["balance point"]
    call(page, "look('side')")
    assert tap(page, (580, 0, 5)) == "fuselage"
    call(page, "setExplode(0)")
    assert "length 800 mm" in page.locator("svg text:visible").all_text_contents()


def test_the_prototype_is_a_tracing(page: Page, shapes: Shapes) -> None:
    """Its ink lies outside the model where it differs; not shown, the paper is as it was."""
    call(page, "look('front')")
    plain = pixels(page)
    tracing = {"parts": [{"shape": p["shape"], "place": p["place"]} for p in scene(shapes, track_mm=400.0)["parts"]]}
    page.evaluate("(tracing) => view.setGhost(tracing)", tracing)
    x, y = spot(page, (150, 206, -120))
    ring = np.s_[int(y) - 14 : int(y) + 14, int(x) - 8 : int(x) + 8]
    assert np.abs(pixels(page)[ring] - plain[ring]).max() > 60.0
    call(page, "setGhostShown(false)")
    np.testing.assert_allclose(pixels(page), plain, atol=2.0)
