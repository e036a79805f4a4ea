"""Speed, as ratios of two timings taken in one run: nothing here can fail on a slow machine."""
