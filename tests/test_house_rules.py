"""The house rules that tools can check: lint, format, types, import directions."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOOLS = {
    "lint": ["ruff", "check", "."],
    "format": ["ruff", "format", "--check", "."],
    "types": ["mypy"],
    "imports": ["importlinter.cli", "lint"],
}


@pytest.mark.parametrize("rule", TOOLS)
def test_house_rule(rule: str) -> None:
    """Every tool passes on the whole tree."""
    module, *arguments = TOOLS[rule]
    if rule == "imports":
        command = [sys.executable, "-c", "from importlinter.cli import lint_imports_command as main; main()"]
    else:
        command = [sys.executable, "-m", module, *arguments]
    result = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert result.returncode == 0, result.stdout + result.stderr
