"""Jobs: commands in processes of their own, watched, stopped with all they started, and told of as they are."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.waiting import until
from viewers.bench.jobs import MOST_AT_ONCE, BusyError, Jobs, NoSuchJobError
from viewers.bench.names import WrongNameError
from viewers.bench.orders import Order

TELLS = "import sys; say = lambda text: print(text, file=sys.stderr, flush=True);"
FOREVER = "import time; time.sleep(600)"
STUBBORN = f"import signal; signal.signal(signal.SIGINT, signal.SIG_IGN); {FOREVER}"


Start = Callable[..., str]


@pytest.fixture
def jobs(tmp_path: Path) -> Iterator[Jobs]:
    """Jobs whose command is Python itself: an order's words are a script."""
    made = Jobs(tmp_path, (sys.executable,))
    yield made
    made.close()


def script(text: str, what: str = "templates", keeps: str | None = None, *words: str) -> Order:
    """An order that runs a script."""
    return Order(what, ("-c", text, *words), f"plane-bench/{what}", keeps)


def told(jobs: Jobs, identity: str) -> dict[str, Any]:
    """What the list says of a job."""
    return next(job for job in jobs.listing() if job["id"] == identity)


def finished(jobs: Jobs, identity: str) -> dict[str, Any]:
    """What the list says of a job once it is over."""
    until(lambda: told(jobs, identity)["state"] != "running")
    return told(jobs, identity)


def is_alive(process: int) -> bool:
    """Whether a process is there and is more than an entry that nobody collected."""
    state = subprocess.run(
        ["ps", "-o", "stat=", "-p", str(process)], capture_output=True, text=True, check=False
    ).stdout
    return bool(state.strip()) and not state.startswith("Z")


def test_progress_is_the_last_line_told(jobs: Jobs, tmp_path: Path) -> None:
    """While it runs, a job's line is the newest line of progress, apart from messages; then it counts its files."""
    go = tmp_path / "go"
    text = f"""{TELLS}
import pathlib, time
say("progress: cutting 1 of 9"); say("note: something else"); say("progress: cutting 3 of 9")
while not pathlib.Path({str(go)!r}).exists(): time.sleep(0.02)
pathlib.Path("plane-bench/templates/plan.pdf").write_bytes(b"1234")"""
    identity = jobs.start(script(text))
    until(lambda: told(jobs, identity)["line"] == "cutting 3 of 9")
    assert (told(jobs, identity)["state"], told(jobs, identity)["error"]) == ("running", None)
    go.touch()
    job = finished(jobs, identity)
    assert (job["state"], job["line"], job["error"]) == ("done", "1 file", None)
    assert job["files"] == [
        {"name": "plan.pdf", "bytes": 4, "url": f"./api/jobs/{identity}/files/plan.pdf"},
    ]
    assert jobs.file(identity, "plan.pdf").read_bytes() == b"1234"


def test_what_is_printed_is_kept_as_a_file(jobs: Jobs) -> None:
    """What a command prints becomes a file of the job, whole; a failing one leaves none."""
    good = finished(jobs, jobs.start(script("print('Plane: 806 g')", "weigh", "weights.txt")))
    assert jobs.file(good["id"], "weights.txt").read_text() == "Plane: 806 g\n"
    bad = finished(jobs, jobs.start(script("print('half'); raise SystemExit(2)", "flight", "flight.txt")))
    assert (bad["state"], bad["files"]) == ("failed", [])


def test_only_what_the_job_wrote_is_told(jobs: Jobs, tmp_path: Path) -> None:
    """New files are told of as they were written; older and hidden ones, links and folders are not, nor served."""
    folder = tmp_path / "plane-bench" / "templates"
    folder.mkdir(parents=True)
    (folder / "old.txt").write_text("old")
    (folder / "again.txt").write_text("old")
    text = """import os, pathlib
here = pathlib.Path("plane-bench/templates")
(here / "again.txt").write_text("new")
written = (here / "again.txt").stat().st_mtime_ns
while not (here / "50 % plan #2.txt").exists() or (here / "50 % plan #2.txt").stat().st_mtime_ns <= written:
    (here / "50 % plan #2.txt").write_text("new")
(here / ".part").write_text("new")
(here / "more").mkdir()
os.symlink("/", here / "root")"""
    job = finished(jobs, jobs.start(script(text)))
    assert [file["name"] for file in job["files"]] == ["again.txt", "50 % plan #2.txt"]
    assert job["files"][1]["url"].endswith("/50%20%25%20plan%20%232.txt")
    assert jobs.file(job["id"], "50 % plan #2.txt").read_text() == "new"
    for name in ("old.txt", ".part", "root", "more", "", ".", "..", "../templates/again.txt"):
        with pytest.raises(NoSuchJobError):
            jobs.file(job["id"], name)


@pytest.mark.parametrize(("what", "state"), [("check", "done"), ("study", "done"), ("weigh", "failed")])
def test_a_failing_check_is_a_result(jobs: Jobs, what: str, state: str) -> None:
    """Exit code 1 of check and study says that a check fails: the job is done; of another command it is a fault."""
    job = finished(
        jobs, jobs.start(script(f"{TELLS} print('found'); say('note'); raise SystemExit(1)", what, "out.txt"))
    )
    assert job["state"] == state
    assert [file["name"] for file in job["files"]] == (["out.txt"] if state == "done" else [])


def test_a_refusal_is_told_in_its_own_words(jobs: Jobs) -> None:
    """Where a command refuses, the job says why in the command's words, line by line, without its progress."""
    messages = "say('progress: reading'); say('airframe: 2 problems'); say('  gear.track: too wide')"
    text = f"{TELLS} {messages}; raise SystemExit(2)"
    job = finished(jobs, jobs.start(script(text)))
    assert (job["state"], job["error"]) == ("failed", "2 problems\n  gear.track: too wide")


def test_a_fault_shows_no_trace(jobs: Jobs, capsys: pytest.CaptureFixture[str]) -> None:
    """A fault is told in one sentence, even of a check, whose code is 1 then too; its trace is on the terminal."""
    job = finished(jobs, jobs.start(script("1 / 0", "check", "out.txt")))
    assert job["state"] == "failed"
    assert "Traceback" not in job["error"] and "terminal" in job["error"]
    assert "ZeroDivisionError" in capsys.readouterr().err


@pytest.mark.parametrize("text", [FOREVER, STUBBORN])
@pytest.mark.skipif(sys.platform == "win32", reason="asks for process numbers as Unix has them")
def test_stopping_ends_all_it_started(jobs: Jobs, tmp_path: Path, text: str) -> None:
    """A stopped job is gone, with its children and theirs, also those that do not listen."""
    numbers = tmp_path / "numbers"
    child = f"import os, subprocess, sys; subprocess.Popen([sys.executable, '-c', {text!r}]); {text}"
    parent = f"""import os, pathlib, subprocess, sys, time
child = subprocess.Popen([sys.executable, "-c", {child!r}])
grandchild = ""
while not grandchild:
    found = subprocess.run(["ps", "-o", "pid=", "--ppid", str(child.pid)], capture_output=True, text=True)
    grandchild = found.stdout.strip()
pathlib.Path({str(numbers)!r} + ".part").write_text(f"{{os.getpid()}} {{child.pid}} {{grandchild}}")
os.rename({str(numbers)!r} + ".part", {str(numbers)!r})
{text}"""
    identity = jobs.start(script(parent))
    until(numbers.exists)
    family = [int(number) for number in numbers.read_text().split()]
    assert len(family) == 3 and all(map(is_alive, family))
    jobs.stop(identity)
    assert told(jobs, identity)["state"] == "stopped"
    until(lambda: not any(map(is_alive, family)))
    jobs.stop(identity)
    assert told(jobs, identity)["line"] == "stopped"


def test_a_command_that_is_stopped_may_tidy_up(jobs: Jobs, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopping begins as Ctrl-C does, so that a command removes what is half written."""
    monkeypatch.setattr("viewers.bench.jobs.GRACE_S", 60.0)
    text = f"""{TELLS}
import pathlib, signal, time
signal.signal(signal.SIGINT, signal.default_int_handler)
half = pathlib.Path("plane-bench/templates/half.txt")
try:
    half.write_text("half"); say("progress: writing"); time.sleep(600)
finally:
    half.unlink()"""
    identity = jobs.start(script(text))
    until(lambda: told(jobs, identity)["line"] == "writing")
    jobs.stop(identity)
    assert told(jobs, identity)["files"] == []
    assert not (tmp_path / "plane-bench" / "templates" / "half.txt").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="asks for process numbers as Unix has them")
def test_what_a_finished_job_left_running_is_ended(jobs: Jobs, tmp_path: Path) -> None:
    """A command that ends while a child of its own runs on is over at once, and the child is ended."""
    numbers = tmp_path / "number"
    text = f"""import pathlib, subprocess, sys
child = subprocess.Popen([sys.executable, "-c", {FOREVER!r}])
pathlib.Path({str(numbers)!r}).write_text(str(child.pid))"""
    assert finished(jobs, jobs.start(script(text)))["state"] == "done"
    until(lambda: not is_alive(int(numbers.read_text())))


@pytest.mark.skipif(sys.platform == "win32", reason="kills as Unix does")
def test_a_job_killed_by_another_is_told_of(jobs: Jobs, tmp_path: Path) -> None:
    """Where something else ends the command without a word, the job has failed and says so."""
    identity = jobs.start(script(f"{TELLS} import os; say(f'progress: {{os.getpid()}}'); {FOREVER}"))
    until(lambda: told(jobs, identity)["line"].isdecimal())
    os.kill(int(told(jobs, identity)["line"]), signal.SIGKILL)
    job = finished(jobs, identity)
    assert (job["state"], job["error"]) == ("failed", "it was ended from outside")


def test_few_at_once_and_one_of_a_kind(jobs: Jobs) -> None:
    """A second job of a running kind is refused, and one more than may run; a free place is taken again."""
    first = jobs.start(script(FOREVER, "templates"))
    with pytest.raises(BusyError, match="templates"):
        jobs.start(script(FOREVER, "templates"))
    jobs.start(script(FOREVER, "study"))
    with pytest.raises(BusyError, match=str(MOST_AT_ONCE)):
        jobs.start(script(FOREVER, "weigh"))
    jobs.stop(first)
    assert told(jobs, jobs.start(script(FOREVER, "weigh")))["state"] == "running"


def test_of_each_kind_the_newest_is_told(jobs: Jobs) -> None:
    """What is made anew replaces what was made before, in the folder and in the list, however often."""
    for text in ("one", "two", "three"):
        job = finished(jobs, jobs.start(script(f"print({text!r})", "weigh", "out.txt")))
    assert jobs.listing() == [job]
    assert jobs.file(job["id"], "out.txt").read_text() == "three\n"
    with pytest.raises(NoSuchJobError):
        jobs.file("1", "out.txt")


def test_nothing_starts_where_a_link_leads_out(jobs: Jobs, tmp_path: Path, tmp_path_factory) -> None:
    """A folder for outputs that is a link to another place is refused."""
    (tmp_path / "plane-bench").mkdir()
    (tmp_path / "plane-bench" / "templates").symlink_to(tmp_path_factory.mktemp("outside"))
    with pytest.raises(WrongNameError):
        jobs.start(script("pass"))
    assert jobs.listing() == []


def test_closing_ends_everything(jobs: Jobs) -> None:
    """Once the bench is closed no job runs, and none starts."""
    identities = [jobs.start(script(FOREVER, what)) for what in ("templates", "study")]
    jobs.close()
    assert [told(jobs, identity)["state"] for identity in identities] == ["stopped", "stopped"]
    with pytest.raises(BusyError):
        jobs.start(script("pass"))


def test_our_own_command_line_is_run(tmp_path: Path) -> None:
    """Without another command, jobs are commands of airframe; a file of that name in the project is not run instead."""
    (tmp_path / "viewers").mkdir()
    (tmp_path / "viewers" / "cli.py").write_text("print('not ours')")
    jobs = Jobs(tmp_path)
    job = finished(jobs, jobs.start(Order("weigh", ("--version",), "plane-bench/weigh", "version.txt")))
    assert jobs.file(job["id"], "version.txt").read_text().startswith("airframe ")
    assert job["command"] == "airframe --version"
