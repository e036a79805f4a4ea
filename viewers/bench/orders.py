"""What the page can have made, and the command of ours that makes it."""

from __future__ import annotations

import itertools
import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints

from viewers.bench.messages import Message, MessageError, taken

FIGURES = {
    "weigh": "weights", "check": "findings", "compare": "changes", "balance": "balance", "flight": "flight",
    "sensitivity": "slopes",
}  # fmt: skip
"""Commands that print their results, and what the file is called that keeps them."""
IN_FULL = ("weigh", "check", "compare")
"""Those of them that leave something out of their text unless asked for all."""
CHARTED = ("balance", "sensitivity")
"""Those of them that draw a chart as well."""
MAY_FAIL = ("check", "study", "solve")
"""Commands that say by exit code 1 that a check failed, or that there is no answer: they have done what they should."""

MOST_PLOTTED = 2
"""Ranges that a plot can show at once."""
_RANGE = re.compile(r"[^=]+=[^:,]+:[^:,]+:\s*\d+\s*")

Axis = Annotated[str, StringConstraints(max_length=200, pattern=r"^[A-Za-z\"'][^\x00-\x1f\x7f=]*=[^\x00-\x1f\x7f]+$")]
"""KEY=FROM:TO:N or KEY=a,b,c: never anything that a command line would take for an option."""
Measure = Annotated[str, StringConstraints(max_length=80, pattern=r"^[A-Za-z][\w.: -]*$")]
Key = Annotated[str, StringConstraints(max_length=200, pattern=r"^[A-Za-z\"'][^\x00-\x1f\x7f=]*$")]
Code = Annotated[str, StringConstraints(max_length=200, pattern=r"^[A-Za-z][^\x00-\x1f\x7f=<>]*$")]
"""Of a finding: the names of what it is about may have commas and more in them."""
End = Annotated[str, StringConstraints(max_length=40, pattern=r"^(?:[^-\x00-\x1f\x7f]|-[\d.])[^\x00-\x1f\x7f]*$")]
"""What is typed for a quantity; of what begins with a stroke only a number."""


class TemplatesOptions(Message):
    """How templates are laid out."""

    paper: Literal["a4", "a3", "letter", "plot"] = "a4"
    seconds: float = Field(default=10.0, ge=0.1, le=600.0)
    seed: int = Field(default=0, ge=0, le=10**9)


class FiguresOptions(Message):
    """How results are written: for people, or for programs."""

    json_: bool = Field(default=False, alias="json")


class PictureOptions(Message):
    """What a picture shows."""

    view: Literal["three-quarter", "side", "front", "top", "sheet"] = "three-quarter"


class SweepOptions(Message):
    """What is varied, and what is looked at."""

    axes: list[Axis] = Field(min_length=1, max_length=4)
    measures: list[Measure] = Field(default_factory=list, max_length=20)


class SolveOptions(Message):
    """Which value is looked for, what finding it is to mend, and between which ends; without ends the command's own."""

    key: Key
    code: Code
    between: list[End] | None = Field(default=None, min_length=2, max_length=2)


class NoOptions(Message):
    """A job that leaves nothing to choose."""


@dataclass(frozen=True)
class Project:
    """Where the commands work, and on what."""

    folder: Path
    config: str
    """The config's name in the folder."""
    against: Path | None = None
    """The prototype's config."""
    no_cache: bool = False

    @property
    def stem(self) -> str:
        """What every output is named after."""
        return Path(self.config).stem


@dataclass(frozen=True)
class Order:
    """One command to run in the project's folder."""

    what: str
    words: tuple[str, ...]
    """What follows 'airframe'."""
    output: str
    """The folder that everything is written to, from the project's."""
    keeps: str | None = None
    """The name of the file that gets what the command prints; None: that is not kept."""

    @property
    def may_fail(self) -> bool:
        """Whether exit code 1 only says that a check failed."""
        return self.what in MAY_FAIL


def order(project: Project, settings: tuple[str, ...], what: str, options: dict[str, Any]) -> Order:
    """The command for a job that the page asks for, with the edits as --set lines. Raises MessageError."""
    if what not in _MAKERS:
        message = f"There is nothing called {what} to make."
        raise MessageError(message)
    common = [word for line in settings for word in ("--set", line)] + ["--no-cache"] * project.no_cache
    return _MAKERS[what](_Wish(project, common, what, options))


@dataclass(frozen=True)
class _Wish:
    """What is asked for."""

    project: Project
    common: list[str]
    """What every command gets."""
    what: str
    options: dict[str, Any]

    @property
    def output(self) -> str:
        return f"{self.project.stem}-bench/{self.what}"

    @property
    def config(self) -> str:
        return _safe(self.project.config)

    def ordered(self, *words: str, keeps: str | None = None) -> Order:
        return Order(self.what, words, self.output, keeps)


def _figures(wish: _Wish) -> Order:
    """A command that prints what it finds."""
    is_json, what, stem = taken(FiguresOptions, wish.options).json_, wish.what, wish.project.stem
    configs = [wish.config]
    if what == "compare":
        configs.insert(0, _prototype(wish.project))
    form = ["--json"] if is_json else ["--all"] * (what in IN_FULL)
    if what in CHARTED:
        form += ["--chart", f"{wish.output}/{stem}-{FIGURES[what]}.svg"]
    if what == "flight":
        form += ["--charts", wish.output]
    name = f"{stem}-{FIGURES[what]}.{'json' if is_json else 'txt'}"
    return wish.ordered(what, *configs, *wish.common, *form, keeps=name)


def _prototype(project: Project) -> str:
    if project.against is None:
        message = "There is no prototype on the bench to compare with: open the bench with --against."
        raise MessageError(message)
    return _safe(str(project.against))


def _templates(wish: _Wish) -> Order:
    how = taken(TemplatesOptions, wish.options)
    words = ("--paper", how.paper, "--seconds", str(how.seconds), "--seed", str(how.seed), "-o", wish.output)
    return wish.ordered("templates", wish.config, *wish.common, *words)


def _study(wish: _Wish) -> Order:
    taken(NoOptions, wish.options)
    beside = () if wish.project.against is None else ("--against", _prototype(wish.project))
    return wish.ordered("study", wish.config, *wish.common, *beside, "-o", wish.output)


def _picture(wish: _Wish) -> Order:
    view = taken(PictureOptions, wish.options).view
    return wish.ordered("picture", wish.config, *wish.common, "--view", view, "-o", _file(wish, "png"))


def _turnable(wish: _Wish) -> Order:
    taken(NoOptions, wish.options)
    return wish.ordered("picture", wish.config, *wish.common, "-o", _file(wish, "html"))


def _export(wish: _Wish) -> Order:
    taken(NoOptions, wish.options)
    return wish.ordered("export", wish.config, *wish.common, "-o", _file(wish, wish.what))


def _sweep(wish: _Wish) -> Order:
    how = taken(SweepOptions, wish.options)
    words = ["--measure", ",".join(how.measures)] * bool(how.measures)
    if len(how.axes) <= MOST_PLOTTED and all(_RANGE.fullmatch(axis) for axis in how.axes):
        words += ["--plot", _file(wish, "svg")]
    words += ["-o", _file(wish, "csv")]
    return wish.ordered("sweep", wish.config, *how.axes, *wish.common, *words)


def _solve(wish: _Wish) -> Order:
    how = taken(SolveOptions, wish.options)
    ends = () if how.between is None else ("--between", *how.between)
    words = ("--for", f"{how.code} passes", *ends, "-o", _unused(wish, f"{wish.project.stem}-found"), "--json")
    return wish.ordered("solve", wish.config, how.key, *wish.common, *words, keeps=f"{wish.project.stem}-answer.json")


_MAKERS: dict[str, Callable[[_Wish], Order]] = {
    "templates": _templates,
    "study": _study,
    **dict.fromkeys(FIGURES, _figures),
    "picture": _picture,
    "turnable": _turnable,
    **dict.fromkeys(("step", "stl", "glb"), _export),
    "sweep": _sweep,
    "solve": _solve,
}


def _file(wish: _Wish, ending: str) -> str:
    return f"{wish.output}/{wish.project.stem}.{ending}"


def _unused(wish: _Wish, stem: str) -> str:
    """The first name for a redesign that is free: its author may have gone on with those that were found before."""
    counts = ("" if count == 1 else f"-{count}" for count in itertools.count(1))
    names = (f"{wish.output}/{stem}{count}.toml" for count in counts)
    return next(name for name in names if not os.path.lexists(wish.project.folder / name))


def _safe(path: str) -> str:
    """A path that no command line takes for an option."""
    return path if not path.startswith("-") else f"./{path}"
