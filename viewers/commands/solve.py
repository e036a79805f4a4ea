"""The command solve: which value of a key keeps a limit, or which of several are the best."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from viewers.shell import FAILING, Refusal, Ticker, Workshop, bold, reads_config, workshop

if TYPE_CHECKING:
    from airframe.solve.keys import Key, Range
    from airframe.solve.trials import Trials

_KEY = re.compile(r"(?P<name>.+?)(?:=(?P<low>[^=\":]+):(?P<high>[^=\":]+))?")


@click.command(short_help="Find the value that keeps a limit, or the best of several.")
@reads_config
@click.argument("keys", nargs=-1, required=True, metavar="KEY[=FROM:TO]...")
@click.option("--for", "wanted", multiple=True, metavar="CONDITION", help="What the answer must keep.")
@click.option("--between", nargs=2, metavar="FROM TO", help="Where to look for it, e.g. '200 mm' '300 mm'.")
@click.option("--minimise", metavar="CODE", help="What is to be the least.")
@click.option("--maximise", metavar="CODE", help="What is to be the most.")
@click.option("--subject-to", "kept", multiple=True, metavar="CONDITION", help="What must be kept meanwhile.")
@click.option("-o", "output", type=click.Path(path_type=Path), help="Write the answer as a redesign of CONFIG.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object in SI units.")
def solve(
    config: Path,
    settings: tuple[str, ...],
    no_cache: bool,
    keys: tuple[str, ...],
    wanted: tuple[str, ...],
    between: tuple[str, str] | None,
    minimise: str | None,
    maximise: str | None,
    kept: tuple[str, ...],
    output: Path | None,
    as_json: bool,
) -> None:
    """Find the value of KEY that keeps a condition, nearest to what it is now.

    \b
      airframe solve kestrel.toml gear.track --for "ground.overturn <= 55 deg"
      airframe solve kestrel.toml equipment.battery.station --for "balance.range passes" -o redesign.toml
      airframe solve kestrel.toml gear.track gear.height=140mm:180mm --minimise mass \\
          --subject-to "ground.overturn <= 50 deg" --subject-to "propeller.ground passes"

    A condition is CODE <= VALUE, CODE >= VALUE, CODE = VALUE, or CODE passes; codes are those of 'sweep'. The answer is
    rounded to the safe side and built to be sure. Exit code 1: there is no answer, and the words say why.
    """
    from airframe.solve import redesign

    _check(keys, wanted, between, minimise, maximise, kept)
    if output is not None:
        redesign.check_free(output)
    with Ticker(not as_json) as tell:
        here = workshop(settings, no_cache, tell)
        trials = _trials(here, config, [*wanted, *kept], minimise or maximise, "--for" if wanted else "--subject-to")
        found = [_key(trials, text, between) for text in keys]
        run = _one if wanted else _several
        answer, told = run(trials, found, as_json, bool(maximise))
        written = _write(here, trials, answer, output, settings) if output is not None else ""
    click.echo(told)
    if written:
        click.echo(written, err=as_json)
    if answer is None:
        sys.exit(FAILING)


def _check(
    keys: Sequence[str],
    wanted: Sequence[str],
    between: tuple[str, str] | None,
    minimise: str | None,
    maximise: str | None,
    kept: Sequence[str],
) -> None:
    """What does not go together is said before anything is read."""
    goals = [one for one in (minimise, maximise) if one is not None]
    message = ""
    if len(goals) + bool(wanted) != 1:
        message = "say what to solve for: either --for CONDITION, or --minimise CODE, or --maximise CODE"
    elif wanted and len(keys) > 1:
        message = f"--for has one key to solve for, not {len(keys)}; several go with --minimise or --maximise"
    elif wanted and kept:
        message = "--subject-to goes with --minimise or --maximise; --for may be given several times"
    elif between is not None and len(keys) > 1:
        message = "--between is for one key; write KEY=FROM:TO for each of several"
    if message:
        raise Refusal(message)


def _trials(
    here: Workshop, config: Path, texts: Sequence[str], goal: str | None, option: str
) -> Trials:  # fmt: skip
    from airframe.config import ConfigError, Problem
    from airframe.model import Aeroplane
    from airframe.solve.conditions import conditions
    from airframe.solve.trials import Trials
    from airframe.sweep.measures import MeasureError, measure

    loaded = here.read(config)
    # Each variant would tell of every part that it weighs, and nobody would see how many have been tried.
    aeroplane = Aeroplane.loaded(loaded, here.store)
    asked = conditions(option, texts, aeroplane)
    try:
        aim = None if goal is None else measure(goal, aeroplane)
    except MeasureError as error:
        raise ConfigError([Problem("solve", None, "", None, str(error))]) from None
    if aim is not None and aim.is_verdict:
        message = f"{aim.code}: a verdict is no number that could be the least or the most"
        raise Refusal(message)
    return Trials(loaded, aeroplane, asked, aim, here.tell)


def _key(trials: Trials, text: str, between: tuple[str, str] | None) -> tuple[Key, Range]:
    """A key with the range that it is looked for in."""
    from airframe.solve import keys

    match = _KEY.fullmatch(text)
    assert match is not None
    key = keys.key(trials.base, match["name"])
    ends = (match["low"].strip(), match["high"].strip()) if match["low"] else between
    return key, keys.looked_for(trials.base, key, ends)


Answered = tuple[tuple[str, ...] | None, str]
"""The --set lines of the answer, none where nothing need change; None where there is no answer. And the words."""


def _one(trials: Trials, keys: Sequence[tuple[Key, Range]], as_json: bool, _is_most: bool) -> Answered:
    from airframe.solve.answers import solve as solved
    from airframe.solve.forms import answer_json
    from viewers.solve_tables import answer_lines

    found = solved(trials, *keys[0])
    told = json.dumps(answer_json(found, trials)) if as_json else _lines(trials, answer_lines(found, trials))
    if found.choice is None:
        return (() if found.holds_now else None), told
    return (found.choice.setting,), told


def _several(trials: Trials, keys: Sequence[tuple[Key, Range]], as_json: bool, is_most: bool) -> Answered:
    from airframe.solve.forms import best_json
    from airframe.solve.optimum import optimum
    from viewers.solve_tables import best_lines

    found = optimum(trials, [key for key, _ in keys], [ends for _, ends in keys], is_most)
    told = json.dumps(best_json(found, trials)) if as_json else _lines(trials, best_lines(found, trials))
    return (found.settings if found.is_kept else None), told


def _lines(trials: Trials, lines: Sequence[str]) -> str:
    return "\n".join([bold(trials.base.design.name), *lines])


def _write(
    here: Workshop, trials: Trials, answer: tuple[str, ...] | None, output: Path, settings: Sequence[str]
) -> str:
    """Write the redesign, once it is known to keep the conditions as a file of its own; what was done, in words."""
    from airframe.solve import redesign
    from airframe.writing import write_new

    if not answer:
        return f"Nothing is written to {output}: there is {'no answer' if answer is None else 'nothing to change'}."
    words = f"{trials.base.design.name}, changed for: {'; '.join(one.text for one in trials.conditions)}."
    text = redesign.text(trials.base, output, [*settings, *answer], words)
    tried = trials.judged(here.aeroplane(redesign.loaded(output, text)))
    write_new(output, text.encode())
    if not trials.keeps(tried):
        return (
            f"Wrote {output}. Built from that file alone it does not keep every condition: what was learned by "
            "weighing the old one is not all taken over."
        )
    return f"Wrote {output}."
