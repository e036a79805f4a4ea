"""Takes every ratio and prints the table: python -m tests.benchmarks."""

from __future__ import annotations

from tests.benchmarks import balance, pairs, start

for benchmark in (start, pairs, balance):
    for ratio in benchmark.ratios():
        print(ratio, flush=True)
