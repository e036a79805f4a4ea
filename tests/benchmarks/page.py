"""From a moved slider to new numbers and a new drawing on the bench page, timed in the browser."""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.benchmarks.measured import ROOT, TEASEL, Ratio

SOFTWARE_3D = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
CHANGES = 15
CAMERA, WIDTH = "equipment.camera.station", "fuselage.width"
REST_MS = 450
"""Between two steps from rest: long enough for the drawing to be still, too short for the findings to begin."""
MOVED = """async ([tab, key, times, rest]) => {
  [...document.querySelectorAll('[role=tab]')].find((one) => one.textContent.includes(tab)).click();
  const slider = document.querySelector(`.field[data-key="${key}"] input[type=range]`);
  const frame = () => new Promise((done) => requestAnimationFrame(done));
  const hand = (name, buttons) => slider.dispatchEvent(new PointerEvent(name, { bubbles: true, buttons }));
  const taken = [];
  if (!rest) hand("pointerdown", 1);
  for (let i = 0; i < times; i += 1) {
    await bench.desk.settled();
    await bench.drawing.shown;
    if (rest) await new Promise((done) => setTimeout(done, rest));
    const start = performance.now();
    slider.value = Number(slider.value) + Number(slider.step);
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    await bench.desk.settled();
    await bench.drawing.shown;
    await frame();
    taken.push((performance.now() - start) / 1000);
  }
  slider.dispatchEvent(new Event("change", { bubbles: true }));
  hand("pointerup", 0);
  return taken;
}"""
"""Moves a dimension's slider some steps, held by a hand if there is no rest between them; seconds of each until the
answer is on the screen and drawn."""


def ratios() -> list[Ratio]:
    """Medians of some moves each; the whole rebuild is the kernel's, without the time to import it."""
    with _open() as page:
        moved = _median(page, "carries", CAMERA, REST_MS)
        dragged = _median(page, "carries", CAMERA, 0)
        wider = _median(page, "Body", WIDTH, REST_MS)
        pulled = _median(page, "Body", WIDTH, 0)
    rebuilt = _rebuilt()
    return [
        Ratio("page: equipment moved (bar: 0.1 s)", moved, "0.1 s", 0.1, 1.0),
        Ratio("page: fuselage wider (bar: 0.4 s)", wider, "0.4 s", 0.4, 1.0),
        Ratio("page: equipment in a drag, each step", dragged, "0.1 s", 0.1, None),
        Ratio("page: fuselage in a drag, each step", pulled, "0.4 s", 0.4, None),
        Ratio("page: fuselage wider", wider, "bare build, mesh, integrate", rebuilt, 0.6),
    ]


@contextmanager
def _open() -> Iterator[Page]:
    with tempfile.TemporaryDirectory() as folder:
        for name in ("teasel-mk1.toml", "teasel-mk2.toml"):
            shutil.copy(TEASEL.with_name(name), folder)
        words = [sys.executable, "-m", "viewers.cli", "bench", TEASEL.name, "--against", "teasel-mk1.toml", "--no-open"]
        bench = subprocess.Popen(words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        try:
            assert bench.stdout is not None
            address = bench.stdout.readline().strip()
            with sync_playwright() as driver:
                browser = driver.chromium.launch(executable_path=shutil.which("chromium"), args=list(SOFTWARE_3D))
                page = browser.new_page(viewport={"width": 1366, "height": 768})
                page.set_default_timeout(90_000)
                page.goto(address)
                page.locator("#view[data-ready]").wait_for()
                page.locator("#notes:not(.stale)").wait_for()
                page.wait_for_timeout(1000)
                yield page
                browser.close()
        finally:
            bench.kill()
            bench.communicate()


def _median(page: Page, tab: str, key: str, rest_ms: int) -> float:
    taken: list[float] = page.evaluate(MOVED, [tab, key, CHANGES, rest_ms])
    return statistics.median(taken)


def _rebuilt() -> float:
    script = Path(__file__).with_name("bare.py")
    out = subprocess.run(
        [sys.executable, str(script), str(TEASEL)], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return sum(float(value) for value in out.stdout.split()[1:3])
