"""A bench that only pretends: answers as the contract of the page says, with arithmetic of one line, at once and on demand."""

from __future__ import annotations

import copy
import json
import math
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from typing import Any
from urllib.parse import parse_qs, urlparse

Json = dict[str, Any]
TOKEN = "t0ken"
TYPES = {"html": "text/html", "css": "text/css", "js": "text/javascript"}
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'"
FIELDS = [  # group, key, label, value mm, low, high, main, prototype
    ("body", "fuselage.width", "width", 92, 46, 138, True, 60),
    ("body", "fuselage.wall", "wall", 5, 3, 10, False, 5),
    ("body", "fuselage.nose_length", "length of the nose", 100, 50, 150, True, 100),
    ("body", "fuselage.tail_height", "height at the tail post", 28, 14, 42, True, 28),
    ("body", "fuselage.rib", "depth of the braces", 12, 6, 20, True, 12),
    ("wing", "wing.panels.0.span", "span of the inner panel", 330, 165, 660, True, 330),
    ("wing", "wing.chord", "chord at the root", 220, 110, 440, True, 220),
    ("tail", "tail.span", "span of the stabiliser", 400, 200, 800, True, 400),
    ("legs", "gear.track", "track", 250, 125, 500, True, 130),
    ("legs", "gear.wire_diameter", "wire of the main legs", 3, 1.5, 6, True, 2.5),
    ("carried", "equipment.battery.station", "battery's station", 48, 30, 90, True, 48),
    ("carried", "equipment.camera.station", "camera's station", 212, 150, 280, True, 212),
    ("finish", "finish.0.coats", "coats of paint", 2, 1, 4, True, None),
]
GROUPS = {"body": "Body", "wing": "Wing", "tail": "Tail", "legs": "Legs", "carried": "Carried", "finish": "Finish"}
OUTLINE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60"><path d="M5 5h80v50h-80z" fill="none" stroke="black"/></svg>'
STUB_VIEW = """
export function createView(host, hands) {
  const told = { shows: 0, calls: [] };
  const note = (name) => (...values) => { told.calls.push([name, ...values]); };
  window.stub = { told, hands };
  const canvas = document.createElement("canvas");
  host.append(canvas);
  const view = { show: async () => { told.shows += 1; }, stats: () => told, dispose() {}, picture: () => null };
  for (const name of ["setGhost", "setGhostShown", "setHidden", "setXray", "setSection", "setExplode", "look", "select", "setBands", "setTheme"]) view[name] = note(name);
  return view;
}
"""


class FakeBench:
    """The state that the fake server serves; a test may change it under the page's feet."""

    def __init__(self) -> None:
        self.revision = 1
        self.values = {key: float(value) for _, key, _, value, *_ in FIELDS}
        self.filed = dict(self.values)
        self.undone: list[tuple[dict[str, float], str]] = []
        self.done: list[tuple[dict[str, float], str]] = []
        self.stroke: str | None = None
        self.disk = "same"
        self.variants: dict[str, dict[str, float]] = {}
        self.posts: list[tuple[str, Json]] = []
        self.others = {"kestrel.toml"}
        self.jobs: list[Json] = []
        self.pause = threading.Event()
        self.pause.set()
        """Cleared: the next change waits, so that a test can see what the page does meanwhile."""

    def text(self, key: str, system: str, value: float) -> str:
        if key == "finish.0.coats":
            return f"{value:g}"
        return f"{value / 25.4:.4g} in" if system == "imperial" else f"{value:g} mm"

    def field(self, row: tuple[Any, ...], system: str) -> Json:
        group, key, label, _, low, high, main, prototype = row
        scale, unit, step = (25.4, "in", 0.0625) if system == "imperial" else (1.0, "mm", 0.5 if high < 20 else 1)
        if key == "finish.0.coats":
            scale, unit, step = 1.0, "", 1
        return {
            "key": key, "label": label, "kind": "number", "text": self.text(key, system, self.values[key]),
            "value": self.values[key] / scale, "unit": unit, "low": low / scale, "high": high / scale, "step": step,
            "choices": [], "help": f"The {label} of the {group}.", "stated": True, "main": main,
            "filed": self.text(key, system, self.filed[key]),
            "prototype": None if prototype is None else self.text(key, system, prototype),
        }  # fmt: skip

    def groups(self, system: str) -> list[Json]:
        return [
            {"name": n, "title": t, "fields": [self.field(r, system) for r in FIELDS if r[0] == n]}
            for n, t in GROUPS.items()
        ]

    @staticmethod
    def figures(values: dict[str, float]) -> tuple[float, float, float]:
        mass = 700.0 + values["fuselage.width"] + 0.055 * values["gear.track"]
        balance = 65.4 + 0.146 * values["equipment.battery.station"]
        return mass, balance, math.degrees(math.atan2(150.0, 0.43 * values["gear.track"]))

    def numbers(self, values: dict[str, float]) -> list[Json]:
        mass, balance, overturn = self.figures(values)
        other = self.figures({**values, "fuselage.width": 60.0, "gear.track": 130.0})
        in_range = "pass" if 53.6 <= balance <= 77.2 else "caution"
        rows = [
            ("mass", "mass", mass, "g", 0, other[0], None, None),
            ("balance", "balance behind leading edge", balance, "mm", 1, other[1], in_range, "53.6 to 77.2 mm"),
            (
                "overturn",
                "overturn angle",
                overturn,
                "deg",
                1,
                other[2],
                "pass" if overturn <= 55 else "fail",
                "at most 55 deg",
            ),
        ]
        return [
            {"code": code, "label": label, "text": f"{value:.{places}f} {unit}", "value": value, "unit": unit,
             "prototype": f"{was:.{places}f} {unit}", "change": f"{value - was:+.{places}f} {unit}", "verdict": verdict, "limit": limit}
            for code, label, value, unit, places, was, verdict, limit in rows
        ]  # fmt: skip

    def edits(self) -> list[Json]:
        changed = [key for key, value in self.values.items() if value != self.filed[key]]
        return [
            {"key": key, "value": f"{self.values[key]:g} mm", "words": f"{key} {self.values[key]:g} mm"}
            for key in changed
        ]

    def state(self, system: str | None) -> Json:
        system = system or "metric"
        variants = [("as filed", self.filed), *self.variants.items()]
        part = {
            "name": "former F1", "group": "fuselage", "material": "foam board 5 mm", "mass": "4.2 g", "basis": "calculated",
            "colour": "#a8d0ea", "opacity": 1, "skin": True, "kind": "body", "shape": "d1", "place": [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1],
            "on": None, "template": True,
        }  # fmt: skip
        battery = self.values["equipment.battery.station"]
        drag = {
            "part": "battery",
            "key": "equipment.battery.station",
            "axis": [1, 0, 0],
            "value": battery,
            "unit": "mm",
            "low": 40,
            "high": 80,
        }
        return {
            "revision": self.revision, "title": "Teasel Mk 2", "file": "teasel-mk2.toml", "based_on": "teasel-mk1.toml", "system": system,
            "dirty": bool(self.edits()), "disk": self.disk, "undo": self.done[-1][1] if self.done else None,
            "redo": self.undone[-1][1] if self.undone else None, "edits": self.edits(), "groups": self.groups(system),
            "numbers": self.numbers(self.values),
            "scene": {"parts": [part, {**part, "name": "wing skin", "group": "wing", "template": False}], "drags": [drag],
                      "balance": {"point": [0, 0, 0], "text": ""}, "contacts": [], "tipping": [], "ground": [], "dimensions": [], "disc": None,
                      "low": [0, 0, 0], "high": [1, 1, 1]},
            "variants": [{"name": name, "is_current": values == self.values, "edits": 0 if name == "as filed" else 1,
                          "numbers": [n["text"] for n in self.numbers(values)]} for name, values in variants],
            "prototype": {"title": "Teasel Mk 1", "ghost": {"parts": []}},
        }  # fmt: skip

    def slow(self) -> Json:
        overturn = self.figures(self.values)[2]
        tips = overturn > 55
        finding = {
            "code": "ground.overturn", "verdict": "fail" if tips else "pass", "value": overturn, "unit": "deg", "limit": [None, 55.0],
            "message": f"the overturn angle is {overturn:.1f} deg; 55.0 deg is allowed", "source": "tan angle = height / distance",
            "remedy": "widen the track to 250 mm",
            "remedies": [{"text": "widen the track to 250 mm", "settings": ['gear.track="250 mm"']}] if tips else [],
        }  # fmt: skip
        throttle = {**finding, "code": "ground.full-throttle", "verdict": "caution", "message": "full throttle noses it over",
                    "remedies": [{"text": "open the throttle to no more than 52 %", "settings": []}]}  # fmt: skip
        band = {
            "item": "battery",
            "key": "equipment.battery.station",
            "unit": "mm",
            "now": self.values["equipment.battery.station"],
        }
        bands = [
            {**band, "case": "3-cell, camera in", "is_current": True, "free": [46, 72], "usable": [46, 70]},
            {**band, "case": "2-cell, camera in", "is_current": False, "free": [45, 73], "usable": None},
        ]
        stall = {"code": "stall", "label": "slowest level flight", "text": "6.1 m/s", "value": 6.1, "unit": "m/s", "prototype": None,
                 "change": None, "verdict": None, "limit": None}  # fmt: skip
        return {
            "revision": self.revision,
            "findings": sorted([finding, throttle], key=lambda f: f["verdict"] != "fail"),
            "numbers": [stall],
            "bands": bands,
        }

    def step(self, words: str, stroke: str | None) -> None:
        if stroke is None or stroke != self.stroke:
            self.done.append((dict(self.values), words))
        else:
            self.done[-1] = (self.done[-1][0], words)
        self.stroke = stroke
        self.undone.clear()
        self.revision += 1

    def post(self, path: str, body: Json) -> tuple[int, Json]:
        self.posts.append((path, body))
        if path == "jobs":
            made = {
                "what": body["what"],
                "command": f"airframe {body['what']} teasel-mk2.toml",
                "state": "running",
                "line": "cutting 3 of 9",
            }
            self.jobs.append({"id": str(len(self.jobs)), **made, "seconds": 1.2, "files": [], "error": None})
            return 200, {"id": self.jobs[-1]["id"]}
        if path.startswith("jobs/"):
            self.jobs[int(path.split("/")[1])].update(state="stopped", line="stopped")
            return 200, {}
        if body["revision"] != self.revision:
            return 409, {"error": "the design has changed meanwhile", "kind": "revision", "revision": self.revision}
        answer = getattr(self, f"_{path.replace('/', '_')}")(body)
        return answer or (200, self.state(body.get("system")))

    def _change(self, body: Json) -> tuple[int, Json] | None:
        self.pause.wait(10)
        new = {}
        for setting in body["settings"]:
            key, given = setting.split("=", 1)
            found = re.fullmatch(r"([\d.]+) (mm|in)", given.strip('"'))
            if not found and key != "finish.0.coats":
                problem = {
                    "key": key,
                    "given": given,
                    "message": f'{given} is no length; say it like "84 mm" or "3 in"',
                }
                return 422, {"error": problem["message"], "problems": [problem]}
            new[key] = float(found[1]) * (25.4 if found[2] == "in" else 1.0) if found else float(given)
        if new.get("gear.track", 200.0) < 140.0:
            return 422, {"error": "the leg cannot be bent so tightly", "part": "gear leg left"}
        self.step(body["words"], body["stroke"])
        self.values.update({key: round(value, 6) for key, value in new.items()})
        return None

    def _undo(self, body: Json) -> None:
        self.swap(self.done, self.undone)

    def _redo(self, body: Json) -> None:
        self.swap(self.undone, self.done)

    def swap(self, source: list[tuple[dict[str, float], str]], target: list[tuple[dict[str, float], str]]) -> None:
        values, words = source.pop()
        target.append((dict(self.values), words))
        self.values, self.stroke = values, None
        self.revision += 1

    def _reload(self, body: Json) -> None:
        self.values, self.disk = dict(self.filed), "same"
        self.done.clear()
        self.revision += 1

    def _variants_keep(self, body: Json) -> None:
        self.variants[body["name"]] = copy.copy(self.values)

    def _variants_open(self, body: Json) -> None:
        self.step(f"open {body['name']}", None)
        self.values = dict(self.variants.get(body["name"], self.filed))

    def _variants_forget(self, body: Json) -> None:
        del self.variants[body["name"]]

    def _save(self, body: Json) -> tuple[int, Json] | None:
        if body["as"] in self.others and not body["replace"]:
            return 409, {"error": f"{body['as']} is there already.", "kind": "exists"}
        if body["as"] is None and self.disk == "changed" and not body["replace"]:
            return 409, {"error": "teasel-mk2.toml was changed on the disk.", "kind": "changed on disk"}
        self.filed, self.disk = dict(self.values), "same"
        return None


def handler(bench: FakeBench) -> type[BaseHTTPRequestHandler]:
    """A request handler over one bench."""

    class Handler(BaseHTTPRequestHandler):
        def log_message(self, *_: Any) -> None:
            """Say nothing."""

        def give(self, status: int, body: bytes | Json, kind: str = "application/json") -> None:
            raw = body if isinstance(body, bytes) else json.dumps(body).encode()
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(raw)))
            self.send_header("Content-Security-Policy", POLICY)
            self.end_headers()
            self.wfile.write(raw)

        def do_GET(self) -> None:
            address = urlparse(self.path)
            path, query = address.path.removeprefix(f"/{TOKEN}/"), parse_qs(address.query)
            page = files("viewers.bench") / "page"
            if path == "":
                self.give(200, (page / "index.html").read_bytes(), "text/html; charset=utf-8")
            elif path == "three.js":
                self.give(200, b"window.THREE = {};", "text/javascript")
            elif path == "page/view.js":
                self.give(200, STUB_VIEW.encode(), "text/javascript")
            elif path.startswith("page/"):
                file = page / path.removeprefix("page/")
                self.give(200, file.read_bytes(), TYPES[path.rsplit(".", 1)[1]] + "; charset=utf-8")
            elif path == "api/state":
                self.give(200, bench.state(query.get("system", [None])[0]))
            elif path == "api/findings":
                isnow = int(query["revision"][0]) == bench.revision
                self.give(*((200, bench.slow()) if isnow else (409, {"error": "superseded", "kind": "superseded"})))
            elif path == "api/template":
                self.give(200, OUTLINE.encode(), "image/svg+xml")
            elif path == "api/jobs":
                self.give(200, json.dumps(bench.jobs).encode())
            else:
                self.give(404, {"error": "nothing there"})

        def do_POST(self) -> None:
            body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
            self.give(*bench.post(self.path.removeprefix(f"/{TOKEN}/api/"), body))

    return Handler


@contextmanager
def served(bench: FakeBench) -> Iterator[str]:
    """The address of a server that pretends, until the block ends."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler(bench))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/{TOKEN}/"
    finally:
        server.shutdown()
        server.server_close()
