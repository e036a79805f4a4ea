"""What the page can have made becomes one of our commands, and nothing that the page says becomes an option."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click
import pytest

from viewers.bench.messages import MessageError
from viewers.bench.orders import Project, order
from viewers.cli import cli

PROJECT = Project(Path("project"), "plane.toml", Path("old.toml"))
EDITS = ('gear.track="240 mm"', "--no-cache=1")
OPTIONS: dict[str, dict[str, Any]] = {
    "templates": {"paper": "letter", "seconds": 2, "seed": 5},
    "picture": {"view": "side"},
    "weigh": {"json": True},
    "sweep": {"axes": ["gear.track=200 mm:300 mm:11"], "measures": ["mass", "ground.overturn"]},
    "solve": {"key": "gear.track", "code": "fit.overlap: camera, floor 2", "between": ["-20 mm", "8 1/2 in"]},
}
FILES = ("picture", "turnable", "step", "stl", "glb")
EVERY = (
    "templates",
    "study",
    "weigh",
    "check",
    "compare",
    "balance",
    "flight",
    "sweep",
    "sensitivity",
    "solve",
    *FILES,
)


@pytest.mark.parametrize("what", EVERY)
def test_every_order_is_a_command_of_ours(what: str) -> None:
    """The words are a command that the command line takes as meant: the config, every edit, nothing else set."""
    made = order(PROJECT, EDITS, what, OPTIONS.get(what, {}))
    name, *words = made.words
    context = cli.commands[name].make_context(name, list(words))
    assert context.params.get("config", context.params.get("new")) == Path("plane.toml")
    assert context.params["settings"] == EDITS
    assert context.params["no_cache"] is False
    assert made.output == f"plane-bench/{what}"


@pytest.mark.parametrize("what", EVERY)
def test_every_order_writes_into_its_folder_only(what: str) -> None:
    """Whatever path a command gets to write to lies in the folder of its kind."""
    made = order(PROJECT, (), what, OPTIONS.get(what, {}))
    context = cli.commands[made.words[0]].make_context(made.words[0], list(made.words[1:]))
    written = [
        context.params[key] for key in ("output", "chart", "charts", "picture") if context.params.get(key) is not None
    ]
    assert bool(written) or made.keeps is not None
    for path in written:
        assert Path(made.output) in (path, *path.parents)


def test_options_of_ours_are_kept(what: str = "templates") -> None:
    """The paper, the time and the seed that were asked for reach the command."""
    words = order(PROJECT, (), what, OPTIONS[what]).words
    params = cli.commands[what].make_context(what, list(words[1:])).params
    assert (params["paper"], params["seconds"], params["seed"]) == ("letter", 2.0, 5)


def test_the_prototype_comes_first() -> None:
    """A comparison sets the design beside its prototype, whose file no edit changes; without one there is none."""
    words = order(PROJECT, EDITS, "compare", {}).words
    params = cli.commands["compare"].make_context("compare", list(words[1:])).params
    assert (params["old"], params["new"]) == (Path("old.toml"), Path("plane.toml"))
    with pytest.raises(MessageError, match="--against"):
        order(Project(Path("project"), "plane.toml"), (), "compare", {})


def test_a_sweep_is_plotted_where_a_plot_can_show_it() -> None:
    """One or two ranges have a plot beside their table; a list of words, or more ranges, has the table alone."""
    span, track = "wing.panels.0.span=280 mm:320 mm:3", "gear.track=8 in:9 in:2"
    use = "equipment.battery.use=2-cell,3-cell"
    for axes, is_plotted in (
        ([span], True),
        ([span, track], True),
        ([use], False),
        ([span, use], False),
        ([span] * 3, False),
    ):
        words = order(PROJECT, (), "sweep", {"axes": axes, "measures": ["mass", "fit.room: camera"]}).words
        params = cli.commands["sweep"].make_context("sweep", list(words[1:])).params
        assert (params["picture"] is not None) == is_plotted
        assert list(params["keys"]) == axes


def test_a_value_is_looked_for_that_mends_a_finding() -> None:
    """The key, the finding that is to pass and the ends reach the command, an end below nothing too."""
    words = order(PROJECT, (), "solve", OPTIONS["solve"]).words
    params = cli.commands["solve"].make_context("solve", list(words[1:])).params
    assert (params["keys"], params["wanted"]) == (("gear.track",), ("fit.overlap: camera, floor 2 passes",))
    assert (params["between"], params["as_json"]) == (("-20 mm", "8 1/2 in"), True)
    assert params["output"] == Path("plane-bench/solve/plane-found.toml")


def test_no_cache_is_handed_on() -> None:
    """A bench that keeps no shapes has its commands keep none."""
    made = order(Project(Path("project"), "plane.toml", no_cache=True), (), "weigh", {})
    assert "--no-cache" in made.words


@pytest.mark.parametrize(
    ("what", "options"),
    [
        ("sweep", {"axes": ["--help=1"]}),
        ("sweep", {"axes": ["-o=x"]}),
        ("sweep", {"axes": [" -o=x"]}),
        ("sweep", {"axes": ["gear.track"]}),
        ("sweep", {"axes": ["gear.track=1\n-o=x"]}),
        ("sweep", {"axes": ["a=1"] * 9}),
        ("sweep", {"axes": []}),
        ("sweep", {"axes": ["a=1"], "measures": ["--workers"]}),
        ("sweep", {"axes": ["a=1"], "measures": ["mass\0"]}),
        ("sweep", {"axes": ["a=1"], "output": "/elsewhere"}),
        ("solve", {"key": "--help", "code": "mass"}),
        ("solve", {"key": "gear.track=1 mm:2 mm", "code": "mass"}),
        ("solve", {"key": "gear.track"}),
        ("solve", {"key": "gear.track", "code": "--json"}),
        ("solve", {"key": "gear.track", "code": "mass <= 1 g; x"}),
        ("solve", {"key": "gear.track", "code": "mass", "between": ["1 mm"]}),
        ("solve", {"key": "gear.track", "code": "mass", "between": ["--json", "1 mm"]}),
        ("solve", {"key": "gear.track", "code": "mass", "between": ["1 mm", ""]}),
        ("solve", {"key": "gear.track", "code": "mass", "output": "/elsewhere"}),
        ("templates", {"paper": "--help"}),
        ("templates", {"seconds": float("nan")}),
        ("templates", {"seconds": 1e9}),
        ("templates", {"seed": -1}),
        ("templates", {"seed": "1"}),
        ("picture", {"view": "-o"}),
        ("weigh", {"output": "x"}),
        ("step", {"output": "x"}),
        ("new", {}),
        ("bench", {}),
        ("../x", {}),
        ("", {}),
    ],
)
def test_what_is_no_option_of_ours_is_refused(what: str, options: dict[str, Any]) -> None:
    """Nothing that begins like an option, runs over its line, or is not known to the kind of job gets through."""
    with pytest.raises(MessageError):
        order(PROJECT, (), what, options)


def test_a_config_named_like_an_option_is_still_a_config() -> None:
    """A file whose name begins with a stroke is not taken for an option."""
    made = order(Project(Path("project"), "-o.toml"), (), "weigh", {})
    params = click.Command.make_context(cli.commands["weigh"], "weigh", list(made.words[1:])).params
    assert params["config"] == Path("./-o.toml")
