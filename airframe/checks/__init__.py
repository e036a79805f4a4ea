"""Checks: what a builder asks of the design before cutting, answered as findings."""
