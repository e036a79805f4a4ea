"""A small aeroplane of boxes and wheels as the page's drawing is told of it, and a page with only that drawing."""

from __future__ import annotations

import io
import json
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import numpy as np
from playwright.sync_api import Browser, Page, Route, ViewportSize, sync_playwright

from airframe.axes import Array
from viewers import turnable
from viewers.edges import inked

Json = dict[str, Any]
CHROMIUM = shutil.which("chromium")
FLAGS = (
    "--no-sandbox --disable-gpu --disable-background-networking --no-first-run --disable-component-update "
    "--disable-sync --enable-unsafe-swiftshader --use-gl=angle --use-angle=swiftshader"
)
PAGE = Path(str(files("viewers"))) / "bench" / "page"
SIZE: ViewportSize = {"width": 700, "height": 520}
ADDRESS = "http://bench.test/"
TYPES = {".js": "text/javascript", ".css": "text/css"}
HOST = """<!doctype html><html lang="en"><head><title>drawing</title>
<style>html, body { margin: 0; font-family: sans-serif }
#view { width: 100vw; height: 100vh }</style><script src="three.js"></script></head>
<body><div id="view" role="img" tabindex="0" aria-label="drawing"></div></body></html>"""
OPEN = """async () => {
  const { createView } = await import("./page/view.js");
  Object.assign(window, { asked: [], picked: [], dragged: [], wait: null });
  window.view = createView(document.getElementById("view"), {
    fetchShapes: async (digests) => {
      asked.push(digests);
      const held = wait;
      const answer = await fetch("api/shapes", { method: "POST", body: JSON.stringify({ digests }) });
      if (held) await held;
      return answer.arrayBuffer();
    },
    onPick: (name) => picked.push(name),
    onDrag: (drag, value, phase) => dragged.push({ part: drag.part, value, phase }),
  });
}"""


REST = """() => {
  view.refine();
  return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
}"""
SIDES = ("right", "left", "tail")
KEY = "equipment.battery.station"
TRAY = {"low": 40.0, "high": 140.0}


class Shapes:
    """Shapes by digest, as the server answers with them."""

    def __init__(self) -> None:
        self.packed: dict[str, bytes] = {}

    def box(self, x_mm: float, y_mm: float, z_mm: float) -> str:
        """A box about the origin."""
        corners = np.array([(i, j, k) for i in (-0.5, 0.5) for j in (-0.5, 0.5) for k in (-0.5, 0.5)]) * (
            x_mm,
            y_mm,
            z_mm,
        )
        sides = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
        faces = np.array([triangle for a, b, c, d in sides for triangle in ((a, b, c), (a, c, d))])
        return self.keep(f"box {x_mm} {y_mm} {z_mm}", corners, faces)

    def wheel(self, radius_mm: float, width_mm: float) -> str:
        """A disc about the origin, its axle along y."""
        count = 24
        turn = [2.0 * pi * k / count for k in range(count)]
        ring = [(radius_mm * cos(a), y, radius_mm * sin(a)) for y in (-width_mm / 2, width_mm / 2) for a in turn]
        corners = np.array([*ring, (0.0, -width_mm / 2, 0.0), (0.0, width_mm / 2, 0.0)])
        faces = []
        for k in range(count):
            n = (k + 1) % count
            faces += [
                (k, count + k, n),
                (n, count + k, count + n),
                (2 * count, k, n),
                (2 * count + 1, count + n, count + k),
            ]
        return self.keep(f"wheel {radius_mm} {width_mm}", corners, np.array(faces))

    def line(self, *points: tuple[float, float, float]) -> str:
        """A line that is only inked."""
        ends = np.array([points[:-1], points[1:]], dtype=float).transpose(1, 0, 2)
        return self.pack(f"line {points}", np.zeros((0, 3)), np.zeros((0, 3)), ends)

    def keep(self, digest: str, corners: Array, faces: Array) -> str:
        """Corners and faces with their inked edges."""
        return self.pack(digest, corners, faces, inked(corners, faces.astype(np.int64)))

    def pack(self, digest: str, corners: Array, faces: Array, ends: Array) -> str:
        """Three counts, then the numbers."""
        counts = np.array([len(corners), len(faces), len(ends)], "<u4")
        self.packed[digest] = b"".join(
            (
                counts.tobytes(),
                corners.astype("<f4").tobytes(),
                faces.astype("<u4").tobytes(),
                ends.astype("<f4").tobytes(),
            )
        )
        return digest


def part(name: str, group: str, shape: str, at: tuple[float, float, float], **more: Any) -> Json:
    """A part of the scene, mirrored to the left if `mirrored`."""
    y = -1.0 if more.pop("mirrored", False) else 1.0
    place = [1, 0, 0, at[0], 0, y, 0, at[1], 0, 0, 1, at[2], 0, 0, 0, 1]
    basic = {"material": "foam", "mass": "1 g", "basis": "estimated", "colour": "#a8d0ea", "opacity": 1, "skin": False}
    return (
        {"name": name, "group": group, "shape": shape, "place": place, "kind": "body", "on": None, "template": False}
        | basic
        | more
    )


def scene(shapes: Shapes, battery_mm: float = 60.0, width_mm: float = 80.0, track_mm: float = 240.0) -> Json:
    """A box fuselage with a battery in it, a wing of two halves and three wheels; 800 mm long, 1000 mm across."""
    half = shapes.box(180, 500, 10)
    wheel = shapes.wheel(30, 12)
    feet = [(150.0, track_mm / 2, -150.0), (150.0, -track_mm / 2, -150.0), (770.0, 0.0, -60.0)]
    parts = [
        part("fuselage", "fuselage", shapes.box(800, width_mm, 90), (400, 0, 0), skin=True),
        part(
            "paint",
            "finish",
            shapes.box(800, width_mm, 0.2),
            (400, 0, 45.2),
            skin=True,
            kind="coat",
            on="fuselage",
            colour="#d8503f",
        ),
        part("wing right", "wing", half, (240, 250, 60), skin=True),
        part("wing left", "wing", half, (240, -250, 60), skin=True, mirrored=True),
        part("battery", "electrical", shapes.box(60, 30, 20), (battery_mm, 0, -20), colour="#1f8a70"),
        part("main wheel right", "landing gear", wheel, (150, track_mm / 2, -120)),
        part("main wheel left", "landing gear", wheel, (150, -track_mm / 2, -120), mirrored=True),
        part("tail wheel", "landing gear", shapes.wheel(12, 8), (770, 0, -48)),
        part("glue", "glue", shapes.line((100, 0, -45), (700, 0, -45)), (0, 0, 0), kind="line", colour="#e8940a"),
    ]
    return {
        "parts": parts,
        "balance": {"point": [220.0, 0.0, -5.0], "text": "station 220 mm"},
        "contacts": [{"name": f"{name} wheel", "point": foot} for name, foot in zip(SIDES, feet, strict=True)],
        "tipping": [[feet[k], feet[(k + 1) % 3]] for k in range(3)],
        "ground": [[150.0, 0.0, -150.0], [770.0, 0.0, -60.0]],
        "dimensions": [
            dimension("balance", "70 mm behind the leading edge", (150, 0, 60), (220, 0, -5), 0, 2),
            dimension("track", f"track {track_mm:g} mm", feet[1], feet[0], 1, 2, -1),
            dimension("span", "span 1000 mm", (240, -500, 60), (240, 500, 60), 1, 2),
            dimension("length", "length 800 mm", (0, 0, 0), (800, 0, 0), 0, 2, -1),
        ],
        "disc": [[-20.0, 100.0 * cos(k * pi / 24), 100.0 * sin(k * pi / 24)] for k in range(49)],
        "low": [-20.0, -500.0, -150.0],
        "high": [800.0, 500.0, 100.0],
        "drags": [{"part": "battery", "key": KEY, "axis": [1, 0, 0], "value": battery_mm, "unit": "mm", **TRAY}],
    }


def dimension(name: str, text: str, start: Any, end: Any, along: int, outward: int, sign: int = 1) -> Json:
    """Two extension lines and the line between them, 200 mm off."""
    ways = np.eye(3)
    feet = [np.array(start, float), np.array(end, float)]
    level = max(float(foot @ ways[outward]) * sign for foot in feet) * sign + sign * 200.0
    ends = [foot + ways[outward] * (level - foot[outward]) for foot in feet]
    ends[1] = ends[0] + ways[along] * float((ends[1] - ends[0]) @ ways[along])
    segments = np.array([[feet[0], ends[0]], [feet[1], ends[1]], ends])
    at = (ends[0] + ends[1]) / 2.0
    return {"name": name, "text": text, "segments": segments.tolist(), "at": at.tolist(), "along": ways[along].tolist()}


@contextmanager
def browser() -> Iterator[Browser]:
    """Chromium with a WebGL of its own that needs no graphics card."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS.split())
        yield opened
        opened.close()


def open_page(opened: Browser, shapes: Shapes, script: str = "", dense: float = 1.0) -> Page:
    """A page with room for a drawing; what goes wrong in it fails the test. `script` runs before its own; `dense` are
    the screen's pixels for each of the page."""
    page = opened.new_page(viewport=SIZE, device_scale_factor=dense)
    page.set_default_timeout(20_000)
    page.on("pageerror", lambda error: (_ for _ in ()).throw(AssertionError(str(error))))
    page.route("**/*", lambda route: _answer(route, shapes))
    page.add_init_script(script)
    page.goto(ADDRESS)
    return page


def _answer(route: Route, shapes: Shapes) -> None:
    path = route.request.url.removeprefix(ADDRESS)
    if path == "":
        route.fulfill(body=HOST, content_type="text/html")
    elif path == "three.js":
        route.fulfill(body=turnable.library(), content_type="text/javascript")
    elif path == "api/shapes":
        digests = json.loads(route.request.post_data or "")["digests"]
        route.fulfill(
            body=b"".join(shapes.packed[digest] for digest in digests), content_type="application/octet-stream"
        )
    else:
        file = PAGE / path.removeprefix("page/")
        route.fulfill(body=file.read_text("utf-8"), content_type=TYPES[file.suffix])


def show(page: Page, drawn: Json) -> bool:
    """Has the scene drawn; whether it was, and not given up for a newer one."""
    return bool(page.evaluate("(scene) => view.show(scene)", drawn))


def spot(page: Page, point: tuple[float, float, float]) -> tuple[float, float]:
    """Where a point of the aeroplane's frame is on the paper."""
    x, y = page.evaluate("(point) => view.project(point)", list(point))
    return float(x), float(y)


def call(page: Page, words: str) -> object:
    """Calls the view and waits until that is drawn."""
    return page.evaluate(f"async () => {{ return await view.{words}; }}")


def pixels(page: Page) -> Array:
    """The paper as it looks at rest, (height, width, 3)."""
    from PIL import Image

    page.evaluate(REST)
    return np.asarray(Image.open(io.BytesIO(page.screenshot())).convert("RGB"), dtype=float)


def tap(page: Page, point: tuple[float, float, float]) -> str | None:
    """Clicks where a point is drawn; the part that was picked."""
    page.mouse.click(*spot(page, point))
    picked: str | None = page.evaluate("picked[picked.length - 1]")
    return picked
