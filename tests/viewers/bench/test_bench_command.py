"""The command bench as a process of its own: how it begins, what it serves, how it ends, how it is killed."""

from __future__ import annotations

import json
import os
import random
import signal
import socket
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import httpx2
import pytest

from airframe.config import load
from tests.plane import PLANE
from tests.waiting import PATIENCE_S, until
from viewers.bench.guard import LOOPBACK

BEGINNING = f"http://{LOOPBACK}:"
TEXT = PLANE.split("[[weighed]]")[0]
"""Without its weighing log, which speaks of what is filed: saving another span would make it speak of that."""
COMMAND = [sys.executable, "-m", "viewers.cli"]


class Bench:
    """A bench that runs, as the page in the browser knows it."""

    def __init__(self, *arguments: str, **environment: str) -> None:
        self.process = subprocess.Popen(
            [*COMMAND, "bench", *arguments],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, **environment},
        )
        assert self.process.stdout is not None
        self.address = self.process.stdout.readline().strip()
        if not self.address.startswith(BEGINNING):
            self.process.kill()
            pytest.fail(self.process.communicate()[1])
        own = "/".join(self.address.split("/")[:3])
        self.page = httpx2.Client(base_url=self.address, headers={"origin": own}, timeout=PATIENCE_S)

    def state(self) -> dict[str, Any]:
        """All that is shown."""
        return self.page.get("api/state").json()

    def post(self, path: str, **message: Any) -> httpx2.Response:
        """A change to what is shown now."""
        return self.page.post(path, json={"revision": self.state()["revision"], **message})

    def job(self, what: str, **options: Any) -> dict[str, Any]:
        """A job, once it is over."""
        identity = self.post("api/jobs", what=what, options=options).json()["id"]

        def job() -> dict[str, Any]:
            (one,) = [one for one in self.page.get("api/jobs").json() if one["id"] == identity]
            return one

        until(lambda: job()["state"] != "running")
        return job()

    def end(self, number: int = signal.SIGINT) -> tuple[int, str]:
        """Its exit code and what it said."""
        self.process.send_signal(number)
        _, said = self.process.communicate(timeout=PATIENCE_S)
        self.page.close()
        return self.process.returncode, said


Opens = Callable[..., Bench]


@pytest.fixture
def opens() -> Iterator[Opens]:
    """Opens benches, and kills those that the test has left."""
    opened: list[Bench] = []

    def open_bench(*arguments: object, **environment: str) -> Bench:
        words = [str(one) for one in arguments]
        opened.append(Bench(*words, *([] if "BROWSER" in environment else ["--no-open"]), **environment))
        return opened[-1]

    yield open_bench
    for bench in opened:
        bench.process.kill()
        bench.process.wait()
        bench.page.close()


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """The small plane in a project of its own."""
    path = tmp_path / "plane.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def weighed(config: Path, *settings: str) -> dict[str, Any]:
    """What `weigh --json` says of a config."""
    words = [word for line in settings for word in ("--set", line)]
    done = subprocess.run(
        [*COMMAND, "weigh", str(config), *words, "--json"], capture_output=True, text=True, check=True
    )
    return json.loads(done.stdout)


def mass_kg(state: dict[str, Any]) -> float:
    """The mass on the page."""
    return next(number["value"] for number in state["numbers"] if number["code"] == "mass")


# --- beginning ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["absent.toml"], "no such file"),
        (["plane.toml", "--against", "absent.toml"], "no such file"),
        (["plane.toml", "--set", "wing.panels.0.spam=1"], "spam"),
        (["plane.toml", "--set", 'wing.panels.0.span="7 kg"'], "kg"),
        (["plane.toml", "--port", "70000"], "70000"),
        (["plane.toml", "--host", "0.0.0.0"], "--host"),
    ],
)
def test_bad_input_is_told_before_anything_is_served(config: Path, words: list[str], said: str) -> None:
    """A config, a setting or an option that will not do gives one message, exit code 2, and no address."""
    done = subprocess.run(
        [*COMMAND, "bench", *words, "--no-open"],
        capture_output=True,
        text=True,
        cwd=config.parent,
        timeout=PATIENCE_S,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr and "Traceback" not in done.stderr


def test_a_port_in_use_is_told(config: Path) -> None:
    """A port that another program has gives one clear line and exit code 2."""
    with socket.socket() as taken:
        taken.bind((LOOPBACK, 0))
        taken.listen()
        words = [str(config), "--port", str(taken.getsockname()[1]), "--no-open"]
        done = subprocess.run(
            [*COMMAND, "bench", *words], capture_output=True, text=True, timeout=PATIENCE_S, check=False
        )
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("airframe: cannot serve at port ") and len(done.stderr.splitlines()) == 1


def test_it_opens_its_own_address(config: Path, opens: Opens, tmp_path: Path) -> None:
    """Unless told not to, it opens the address that it prints, token and all, in the person's browser."""
    opened = tmp_path / "opened"
    browser = tmp_path / "browser.py"
    browser.write_text(
        "import pathlib, sys\n"
        "here = pathlib.Path(__file__)\n"
        "here.with_suffix('.part').write_text(sys.argv[1])\n"
        "here.with_suffix('.part').rename(here.with_name('opened'))\n"
    )
    bench = opens(config, BROWSER=f"{sys.executable} {browser} %s")
    until(opened.exists)
    assert opened.read_text() == bench.address
    assert bench.page.get("").status_code == 200


def test_it_says_where_it_is_and_how_to_end_it(config: Path, opens: Opens) -> None:
    """The address alone is on standard output; standard error tells what it is and how to stop it."""
    first, second = opens(config), opens(config)
    assert first.address != second.address
    port = first.page.base_url.port
    code, said = first.end()
    assert code == 0
    assert "plane.toml" in said and "Ctrl-C" in said
    third = opens(config, "--port", port)
    assert third.page.base_url.port == port and third.address != first.address


# --- what is served ---------------------------------------------------------------------------------------------


def test_what_is_saved_is_what_is_shown(config: Path, opens: Opens) -> None:
    """The mass on the page is that of `weigh` with the same setting, then that of the saved file: to the last digit."""
    setting = 'wing.panels.0.span="310 mm"'
    bench = opens(config, "--set", setting)
    assert [edit["key"] for edit in bench.state()["edits"]] == ["wing.panels.0.span"]
    shown = mass_kg(bench.state())
    assert shown == weighed(config, setting)["mass_kg"] != weighed(config)["mass_kg"]
    assert bench.post("api/save", **{"as": None}).status_code == 200
    assert (mass_kg(bench.state()), bench.state()["dirty"]) == (shown, False)
    bench.end()
    assert weighed(config)["mass_kg"] == shown
    assert mass_kg(opens(config).state()) == shown


def test_a_second_tab_is_told(config: Path, opens: Opens) -> None:
    """Two tabs that change what they saw at once: one change is made, the other refused, and the file is whole."""
    bench = opens(config)
    revision = bench.state()["revision"]
    lengths = [310 + number for number in range(8)]
    answers: list[httpx2.Response] = []

    def change(length: int) -> None:
        message = {"revision": revision, "settings": [f'wing.panels.0.span="{length} mm"']}
        answers.append(bench.page.post("api/change", json=message))

    tabs = [threading.Thread(target=change, args=(length,)) for length in lengths]
    for tab in tabs:
        tab.start()
    for tab in tabs:
        tab.join(PATIENCE_S)
    assert sorted(answer.status_code for answer in answers) == [200] + [409] * (len(tabs) - 1)
    assert {answer.json()["kind"] for answer in answers if answer.status_code == 409} == {"revision"}
    assert bench.state()["revision"] == revision + 1


def test_a_job_makes_what_is_shown(config: Path, opens: Opens) -> None:
    """A job weighs the design with its unsaved edits, in a folder beside the config, and keeps what is printed."""
    setting = 'wing.panels.0.span="310 mm"'
    bench = opens(config)
    bench.post("api/change", settings=[setting])
    job = bench.job("weigh", json=True)
    assert (job["state"], [file["name"] for file in job["files"]]) == ("done", ["plane-weights.json"])
    assert bench.page.get(job["files"][0]["url"]).json() == weighed(config, setting)
    assert (config.parent / "plane-bench" / "weigh" / "plane-weights.json").exists()


@pytest.mark.slow
def test_a_job_whose_command_refuses_says_why(config: Path, opens: Opens) -> None:
    """Where the command cannot do it, the job has failed with the command's own words."""
    bench = opens(config)
    (config.parent / "plane-bench" / "turnable" / "plane.html").mkdir(parents=True)
    job = bench.job("turnable")
    assert job["state"] == "failed"
    assert "it is a folder" in job["error"] and "Traceback" not in job["error"]


def test_no_job_of_a_file_that_changed(config: Path, opens: Opens) -> None:
    """Once somebody else has changed the file on disk, jobs are refused until the page has read it again."""
    bench = opens(config)
    config.write_text(TEXT + "# a word of somebody else\n", encoding="utf-8")
    refused = bench.post("api/jobs", what="weigh", options={})
    assert (refused.status_code, refused.json()["kind"]) == (409, "changed on disk")
    assert bench.post("api/save", **{"as": None}).json()["kind"] == "changed on disk"
    assert bench.post("api/reload").status_code == 200
    assert bench.job("weigh")["state"] == "done"


def test_nothing_is_written_but_by_saving(config: Path, opens: Opens) -> None:
    """Looking and changing leave the project's folder as it was, to the byte."""
    bench = opens(config)
    bench.post("api/change", settings=['wing.panels.0.span="310 mm"'])
    bench.post("api/variants/keep", name="longer")
    bench.post("api/undo")
    digests = [part["shape"] for part in bench.state()["scene"]["parts"] if part["shape"]]
    assert bench.page.post("api/shapes", json={"digests": digests}).status_code == 200
    bench.end()
    assert list(config.parent.iterdir()) == [config]
    assert config.read_text(encoding="utf-8") == TEXT


# --- ending -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", [signal.SIGINT, pytest.param(signal.SIGTERM, marks=pytest.mark.slow)])
def test_it_ends_in_order(config: Path, opens: Opens, number: int) -> None:
    """Ctrl-C, or an ordinary request to end, gives exit code 0 and stops the jobs, though findings are on their way."""
    bench = opens(config)
    revision = bench.state()["revision"]
    waiting = threading.Thread(target=lambda: suppress_all(bench.page.get, f"api/findings?revision={revision}"))
    waiting.start()
    bench.post("api/jobs", what="study", options={})
    bench.post("api/jobs", what="templates", options={})
    jobs = {process for process, parent, _ in processes() if parent == bench.process.pid}
    assert jobs
    code, said = bench.end(number)
    waiting.join(PATIENCE_S)
    assert code == 0
    assert "Traceback" not in said
    # Each job leads a group of its own, in which is all that it has started.
    until(lambda: jobs.isdisjoint(group for _, _, group in processes()))


def processes() -> list[tuple[int, int, int]]:
    """Number, parent and group of every process on this machine that has not ended."""
    told = subprocess.run(["ps", "-eo", "pid=,ppid=,pgid=,stat="], capture_output=True, text=True, check=True).stdout
    rows = (line.split() for line in told.splitlines())
    return [(int(one), int(parent), int(group)) for one, parent, group, state in rows if not state.startswith("Z")]


def suppress_all(ask: Callable[[str], object], path: str) -> None:
    """Ask, whatever becomes of the answer."""
    with suppress(httpx2.HTTPError):
        ask(path)


def _save_and_save(bench: Bench, spans_mm: list[int], is_over: threading.Event) -> None:
    """Change the span and save, again and again; what was asked last stands last."""
    with suppress(httpx2.HTTPError, ValueError, KeyError):
        revision = bench.state()["revision"]
        while not is_over.is_set():
            spans_mm.append(spans_mm[-1] % 600 + 1)
            setting = f'wing.panels.0.span="{spans_mm[-1]} mm"'
            for path, more in (("api/change", {"settings": [setting]}), ("api/save", {"as": None})):
                revision = bench.page.post(path, json={"revision": revision, **more}).json()["revision"]


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.slow), pytest.param(2, marks=pytest.mark.slow)])
def test_killed_while_saving_the_file_is_whole(config: Path, opens: Opens, seed: int) -> None:
    """Killed at any moment of one save after another, the config is a design: of the last save or the one before."""
    bench, spans_mm, is_over = opens(config), [300], threading.Event()
    saving = threading.Thread(target=_save_and_save, args=(bench, spans_mm, is_over))
    saving.start()
    until(lambda: len(spans_mm) >= 4)
    threading.Event().wait(random.Random(seed).uniform(0.0, 0.5))
    bench.process.kill()
    bench.process.wait()
    is_over.set()
    saving.join(PATIENCE_S)
    assert load(config).wing.panels[0].span_mm in spans_mm[-2:]
    before, after = (text.replace("\r", "").splitlines() for text in (TEXT, config.read_text(encoding="utf-8")))
    assert len([line for line, old in zip(after, before, strict=True) if line != old]) == 1
