"""Cold and warm `weigh` against the bare cost of the same solids, and what `--help` costs."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measured import REPEATS, ROOT, TEASEL, Ratio, airframe


def ratios() -> list[Ratio]:
    """Best of several runs each, taken turn about so that a busy machine slows both sides."""
    cold, warm, changed, bare, help_only = [], [], [], [], []
    for _ in range(REPEATS):
        with tempfile.TemporaryDirectory() as folder:
            cache = Path(folder)
            bare.append(_bare())
            cold.append(airframe("weigh", str(TEASEL), cache=cache))
            warm.append(airframe("weigh", str(TEASEL), cache=cache))
            heavier = "equipment.camera.mass=120 g"
            changed.append(airframe("weigh", str(TEASEL), "--set", heavier, cache=cache))
            help_only.append(airframe("--help", cache=cache))
    return [
        Ratio("cold weigh", min(cold), "bare import, build, mesh, integrate", min(bare), 1.2),
        Ratio("second weigh", min(warm), "cold weigh", min(cold), 0.25),
        Ratio("weigh with one item reweighed", min(changed), "cold weigh", min(cold), 0.25),
        Ratio("--help (bar: 0.4 s)", min(help_only), "0.4 s", 0.4, 1.0),
    ]


def _bare() -> float:
    script = Path(__file__).with_name("bare.py")
    command = [sys.executable, str(script), str(TEASEL)]
    out = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    return sum(float(value) for value in out.split()[:3])
