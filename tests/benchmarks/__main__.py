"""Takes every ratio and prints the table: python -m tests.benchmarks."""

from __future__ import annotations

from tests.benchmarks import balance, flight, page, pairs, start, sweep

for benchmark in (start, pairs, balance, flight, sweep, page):
    for ratio in benchmark.ratios():
        print(ratio, flush=True)
