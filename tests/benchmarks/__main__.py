"""Takes every ratio and prints the table: python -m tests.benchmarks."""

from __future__ import annotations

from tests.benchmarks import start

for benchmark in (start,):
    for ratio in benchmark.ratios():
        print(ratio, flush=True)
