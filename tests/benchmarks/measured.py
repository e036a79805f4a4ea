"""How the benchmarks time whole processes, and how they word what they found."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
TEASEL = ROOT / "configs" / "teasel-mk2.toml"
REPEATS = 3
COMPILED = tempfile.TemporaryDirectory(prefix="airframe-compiled-")
"""Where the timed processes keep compiled modules, as an installed program has them beside its own; thrown away."""


@dataclass(frozen=True)
class Ratio:
    """One line of the table: what was measured, against what, and the bar that was set for it."""

    name: str
    seconds: float
    against: str
    against_seconds: float
    bar: float | None

    @property
    def value(self) -> float:
        """The ratio itself."""
        return self.seconds / self.against_seconds

    def __str__(self) -> str:
        verdict = "" if self.bar is None else f"bar {self.bar:.2f}  {'met' if self.value <= self.bar else 'MISSED'}"
        return (
            f"{self.name:<46} {self.seconds:7.3f} s / {self.against:<34} {self.against_seconds:7.3f} s"
            f" = {self.value:5.2f}  {verdict}"
        )


def airframe(*arguments: str, cache: Path) -> float:
    """Seconds of one whole `airframe` process with its shape cache in a folder of ours."""
    return process([sys.executable, "-c", "from viewers.cli import main; main()", *arguments], cache)


def process(command: list[str], cache: Path) -> float:
    """Seconds of one whole process, which must succeed."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment |= {"AIRFRAME_CACHE": str(cache), "PYTHONPYCACHEPREFIX": COMPILED.name}
    start = time.perf_counter()
    subprocess.run(command, cwd=ROOT, env=environment, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start
