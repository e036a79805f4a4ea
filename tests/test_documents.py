"""What the documents say is true: samples run, commands and files exist, nothing points to one machine."""

from __future__ import annotations

import re
import shlex
import subprocess
from pathlib import Path

import click
import pytest

from airframe.materials import MATERIALS
from viewers.cli import cli

ROOT = Path(__file__).parent.parent
DOCUMENTS = ("README.md", "DEVELOPERS.md")
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "constraints.txt",
    "airframe", "viewers", "tests", "configs",
}  # fmt: skip
"""What may lie beside one another in the root folder, dotfiles apart."""
HOSTS = {"json-schema.org", "www.w3.org", "127.0.0.1", "localhost"}
"""Hosts that a tracked file may name: those of published vocabularies, which nothing fetches, and one's own machine."""
NO_HOST = re.compile(r"\.(?:example|test)$")
"""Names that the standard of host names (RFC 2606) sets aside: the tests of the page's guard use them."""
HOST = re.compile(r"\w+://([\w.-]+)|\b((?:[a-z0-9-]+\.)+(?:org|com|net|io|dev))\b")
MACHINE_PATH = re.compile(r"(?<![\w.:/~-])(?:/(?:home|root|work|Users|tmp|mnt|srv|opt)/\w|[A-Z]:\\\w)")
IS_PATH = re.compile(r"[\w./-]+(?:\.(?:py|toml|md|txt)|/)")
"""What stands in backticks and can only mean a file or a folder of the project."""


def _tracked() -> list[Path]:
    listing = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listing.returncode != 0:
        pytest.skip("not a clone: no list of tracked files")
    return [Path(name) for name in listing.stdout.split("\0") if name]


def _lines() -> list[tuple[str, str]]:
    """Every line of every tracked text file, with the place where it stands."""
    found = []
    for path in _tracked():
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except (UnicodeDecodeError, FileNotFoundError):
            continue
        found += [(f"{path}:{number}", line) for number, line in enumerate(text.splitlines(), 1)]
    return found


def _commands(document: str) -> list[list[str]]:
    """The words of every `airframe ...` command that a document shows, without its comment."""
    text = (ROOT / document).read_text(encoding="utf-8")
    shown = re.findall(r"(?:^ {4}|`|&& |[/\\])airframe ((?:[a-z]|--)[^`\n]*)", text, re.MULTILINE)
    return [shlex.split(re.split(r"\s#|\s>", command)[0]) for command in shown]


def test_the_python_sample_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """README's sample, word for word, prints the mass, the balance point and a line for every part."""
    sample = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert sample
    monkeypatch.chdir(ROOT)
    names: dict[str, object] = {}
    exec(compile(sample[1], "README.md", "exec"), names)
    first, *rest = capsys.readouterr().out.splitlines()
    assert re.fullmatch(r"\d+ g, \d+ mm behind the leading edge", first)
    assert len(rest) >= 60
    assert all(line.endswith(("estimated", "calculated", "weighed")) for line in rest)


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_command_exists(document: str) -> None:
    """Each command that a document shows is one of ours, and so is each option it is shown with."""
    for name, *words in _commands(document):
        command = cli.commands.get(name)
        options = {o for p in (command or cli).params if isinstance(p, click.Option) for o in p.opts} | {"--help"}
        assert command is not None or name in options, f"airframe {name}"
        assert {word for word in words if word.startswith("-")} <= options, f"airframe {name} {' '.join(words)}"


def test_the_readme_shows_the_commands() -> None:
    """Every command that a builder can give is in README."""
    assert {name for name, *_ in _commands("README.md")} >= set(cli.commands)


@pytest.mark.parametrize("document", DOCUMENTS)
def test_what_is_pointed_to_exists(document: str) -> None:
    """Links lead to files; names of files in backticks are of the project, from its root or beside one just named."""
    text = (ROOT / document).read_text(encoding="utf-8")
    links = re.findall(r"\]\((?!\w+:)([^)#]+)", text)
    assert [link for link in links if not (ROOT / link).exists()] == []
    absent = []
    for line in text.splitlines():
        folder = ROOT
        for name in (one for one in re.findall(r"`([^`\s]+)`", line) if IS_PATH.fullmatch(one)):
            if (ROOT / name).exists():
                folder = (ROOT / name).parent
            elif not (folder / name).exists():
                absent.append(name)
    assert absent == []


def test_the_root_folder_holds_nothing_else() -> None:
    """Beside dotfiles there are the two documents, the licence, the build settings and four folders."""
    assert {path.parts[0] for path in _tracked() if not path.parts[0].startswith(".")} <= TOP_LEVEL


def test_no_line_points_to_one_machine() -> None:
    """No tracked file names an absolute path of somebody's machine, or a host to fetch from."""
    paths = [place for place, line in _lines() if MACHINE_PATH.search(line)]
    hosts = [
        (place, host)
        for place, line in _lines()
        for host in ("".join(found) for found in HOST.findall(line))
        if host not in HOSTS and not NO_HOST.search(host)
    ]
    assert paths == []
    assert hosts == []


def test_the_readme_lists_every_material() -> None:
    """Each built-in material is in the table of its kind, and the table names no other."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    table = re.findall(r"^\| (?:sheet|solid, wire and wood|by the metre|by area) \| (.*) \|$", text, re.MULTILINE)
    assert sorted(name for row in table for name in row.split(", ")) == sorted(MATERIALS)
