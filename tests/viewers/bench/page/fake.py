"""A bench that only pretends: it answers as the contract of the page says, with arithmetic of one line."""

from __future__ import annotations

import copy
import json
import math
import re
import threading
from pathlib import Path
from typing import Any

from tests.waiting import PATIENCE_S

Json = dict[str, Any]
DATA: Json = json.loads((Path(__file__).parent / "fake.json").read_text("utf-8"))
"""What never changes of the answers."""
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


def figure(
    code: str, label: str, value: float, was: float, unit: str, verdict: str | None = None, limit: str | None = None
) -> Json:
    """One number as the contract has it."""
    places = 0 if unit == "g" else 1
    texts = {"text": f"{value:.{places}f} {unit}", "prototype": f"{was:.{places}f} {unit}"}
    change = f"{value - was:+.{places}f} {unit}"
    return {
        "code": code,
        "label": label,
        "value": value,
        "unit": unit,
        **texts,
        "change": change,
        "verdict": verdict,
        "limit": limit,
    }


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
        self.written: dict[str, Json] = {}
        """What stands in the files of jobs that the page reads, by name."""
        self.work_s = 0.15
        """What an answer to a message takes, as a real one does: a test that does not wait for it always fails."""
        self.pause = threading.Event()
        self.pause.set()
        """Cleared: the next change waits, so that a test can see what the page does meanwhile."""
        self.trial = threading.Event()
        self.trial.set()
        """Cleared: the remedies are not tried yet."""
        self.remarks: list[str] = []
        self.unsaid = ""
        """The key of a dimension that the file does not state and that nothing was typed for."""

    def text(self, key: str, system: str, value: float) -> str:
        """A length in the system of the page."""
        if key == "finish.0.coats":
            return f"{value:g}"
        return f"{value / 25.4:.4g} in" if system == "imperial" else f"{value:g} mm"

    def field(self, row: tuple[Any, ...], system: str) -> Json:
        """One dimension as the contract has it."""
        group, key, label, _, low, high, main, prototype = row
        scale, unit, step = (25.4, "in", 0.0625) if system == "imperial" else (1.0, "mm", 0.5 if high < 20 else 1)
        if key == "finish.0.coats":
            scale, unit, step = 1.0, "", 1
        is_unsaid = key == self.unsaid and self.values[key] == self.filed[key]
        return {
            "optional": key == self.unsaid,
            "key": key, "label": label, "kind": "number",
            "text": "" if is_unsaid else self.text(key, system, self.values[key]),
            "value": self.values[key] / scale, "unit": unit, "low": low / scale, "high": high / scale, "step": step,
            "choices": [], "help": f"The {label} of the {group}.", "stated": True, "main": main,
            "filed": None if key == self.unsaid else self.text(key, system, self.filed[key]),
            "prototype": None if prototype is None else self.text(key, system, prototype),
        }  # fmt: skip

    def groups(self, system: str) -> list[Json]:
        """The dimensions, by group."""
        return [
            {"name": n, "title": t, "fields": [self.field(r, system) for r in FIELDS if r[0] == n]}
            for n, t in GROUPS.items()
        ]

    @staticmethod
    def figures(values: dict[str, float]) -> tuple[float, float, float]:
        """Mass in g, balance in mm, overturn angle in deg: sums of one line each."""
        mass = 700.0 + values["fuselage.width"] + 0.055 * values["gear.track"]
        balance = 65.4 + 0.146 * values["equipment.battery.station"]
        return mass, balance, math.degrees(math.atan2(150.0, 0.43 * values["gear.track"]))

    def numbers(self, values: dict[str, float]) -> list[Json]:
        """The quick numbers, beside those of the prototype."""
        mass, balance, overturn = self.figures(values)
        was = self.figures({**values, "fuselage.width": 60.0, "gear.track": 130.0})
        in_range = "pass" if 53.6 <= balance <= 77.2 else "caution"
        stands = "pass" if overturn <= 55 else "fail"
        return [
            figure("mass", "mass", mass, was[0], "g"),
            figure("balance", "balance behind leading edge", balance, was[1], "mm", in_range, "53.6 to 77.2 mm"),
            figure("overturn", "overturn angle", overturn, was[2], "deg", stands, "at most 55 deg"),
        ]

    def edits(self) -> list[Json]:
        """What differs from the file."""
        changed = [key for key, value in self.values.items() if value != self.filed[key]]
        return [
            {"key": key, "value": f"{self.values[key]:g} mm", "words": f"{key} {self.values[key]:g} mm"}
            for key in changed
        ]

    def state(self, system: str | None) -> Json:
        """All that the page shows."""
        system = system or "metric"
        variants = [("as filed", self.filed), *self.variants.items()]
        parts = [DATA["part"], {**DATA["part"], "name": "wing skin", "group": "wing", "template": False}]
        drag = {**DATA["drag"], "value": self.values[DATA["drag"]["key"]]}
        return {
            **DATA["state"],
            "revision": self.revision,
            "system": system,
            "dirty": bool(self.edits()),
            "disk": self.disk,
            "undo": self.done[-1][1] if self.done else None,
            "redo": self.undone[-1][1] if self.undone else None,
            "edits": self.edits(),
            "remarks": self.remarks if self.edits() else [],
            "redesign": {"name": "Teasel Mk 3", "file": "teasel-mk3.toml"},
            "groups": self.groups(system),
            "numbers": self.numbers(self.values),
            "scene": {**DATA["scene"], "parts": parts, "drags": [drag]},
            "variants": [self.variant(name, values) for name, values in variants],
        }

    def variant(self, name: str, values: dict[str, float]) -> Json:
        """A kept variant as it is listed."""
        numbers = [number["text"] for number in self.numbers(values)]
        count = sum(values[key] != self.filed[key] for key in values)
        return {"name": name, "is_current": values == self.values, "edits": count, "numbers": numbers}

    def slow(self, is_tried: bool) -> Json:
        """What comes later: it tips over beyond 55 deg, and full throttle always noses it over."""
        if is_tried:
            self.trial.wait(PATIENCE_S)
        overturn = self.figures(self.values)[2]
        message = f"the overturn angle is {overturn:.1f} deg; 55.0 deg is allowed"
        finding = {**DATA["finding"], "value": overturn, "message": message, "verdict": "pass"}
        if overturn > 55:
            remedies = [DATA["overturn remedy"]] if is_tried else []
            finding.update(verdict="fail", remedies=remedies, on_trial=0 if is_tried else 1)
        findings = sorted([finding, DATA["throttle"]], key=lambda each: each["verdict"] != "fail")
        bands = [{**band, "now": self.values[band["key"]]} for band in DATA["bands"]]
        return {
            "revision": self.revision,
            "is_tried": is_tried,
            "findings": findings,
            "numbers": [DATA["stall"]],
            "bands": bands,
        }

    def step(self, words: str, stroke: str | None) -> None:
        """A step that can be undone; one of the same stroke joins the last."""
        if stroke is None or stroke != self.stroke:
            self.done.append((dict(self.values), words))
        else:
            self.done[-1] = (self.done[-1][0], words)
        self.stroke = stroke
        self.undone.clear()
        self.revision += 1

    def post(self, path: str, body: Json) -> tuple[int, Json]:
        """The status and the answer to a message."""
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
        self.pause.wait(PATIENCE_S)
        new = {}
        for setting in body["settings"]:
            key, given = setting.split("=", 1)
            if given == '"none"':
                new[key] = self.filed[key]
                continue
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
            return 422, {"error": "gear leg left: the leg cannot be bent so tightly", "part": "gear leg left"}
        self.step(body["words"], body["stroke"])
        self.values.update({key: round(value, 6) for key, value in new.items()})
        return None

    def _undo(self, body: Json) -> None:
        self.swap(self.done, self.undone)

    def _redo(self, body: Json) -> None:
        self.swap(self.undone, self.done)

    def swap(self, source: list[tuple[dict[str, float], str]], target: list[tuple[dict[str, float], str]]) -> None:
        """Undo and redo: the newest step goes from one pile to the other."""
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
