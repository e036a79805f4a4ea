"""The command templates on nonsense and on Ctrl-C: one clear message, exit 2, and nothing written."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from viewers.cli import cli

CONFIG = Path(__file__).parents[3] / "configs" / "teasel-mk2.toml"


@pytest.fixture
def cut(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """Runs the command into a folder that is not there yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))

    def invoke(*options: str) -> Result:
        return CliRunner().invoke(cli, ["templates", str(CONFIG), "-o", str(tmp_path / "cut"), *options])

    return invoke


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--seconds", "nan"), "--seconds: nan is not a number of seconds"),
        (("--seconds", "0"), "not in the range"),
        (("--seed", "-1"), "not in the range"),
        (("--paper", "a5"), "'a4', 'a3', 'letter', 'plot'"),
        (("--set", "stock.small_sheet_width=50 mm"), "inside its margin the largest sheet has"),
        (("--set", "stock.wire_length=50 mm"), "state a longer wire_length or stick_length in [stock]"),
        (("--set", 'stock.sheets=[{material="no such board", length="9 mm", width="9 mm"}]'), "no such material"),
    ],
)
def test_nonsense_is_refused(cut, tmp_path: Path, options: tuple[str, ...], told: str) -> None:
    """One message that names what is wrong, exit 2, and no folder."""
    result = cut(*options)
    assert result.exit_code == 2 and told in result.stderr, result.output
    assert "Traceback" not in result.output and not (tmp_path / "cut").exists()


def test_ctrl_c_while_nesting_leaves_nothing(cut, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped in the middle of the search: exit 130, and no folder."""

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("airframe.cutting.nesting._hits", stopped)
    result = cut("--seconds", "1")
    assert result.exit_code == 130 and result.stderr.strip().endswith("stopped")
    assert not (tmp_path / "cut").exists()


def test_an_output_that_is_a_file_is_refused(cut, tmp_path: Path) -> None:
    """The file stays what it was."""
    (tmp_path / "cut").write_text("mine")
    result = cut("--seconds", "0.1")
    assert result.exit_code == 2 and "cannot make the folder" in result.stderr
    assert (tmp_path / "cut").read_text() == "mine"
