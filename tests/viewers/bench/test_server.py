"""The addresses of the bench page: what each hands to the desk, and what comes back."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.viewers.bench.fake_desk import OWN, TOKEN, FakeDesk, client
from tests.waiting import PATIENCE_S, until
from viewers.bench.jobs import Jobs
from viewers.bench.server import MOST_WAITING

WRITES_A_PAGE = "import pathlib, sys; pathlib.Path(sys.argv[-1]).write_text('<p>done</p>')"
"""A stand-in for our commands: what follows -o is the file to write."""


@pytest.fixture
def desk(tmp_path: Path) -> FakeDesk:
    return FakeDesk(tmp_path)


@pytest.fixture
def page(desk: FakeDesk) -> Iterator[TestClient]:
    jobs = Jobs(desk.folder, (sys.executable, "-c", WRITES_A_PAGE))
    with client(desk, jobs) as one:
        yield one
    jobs.close()


def test_the_page_and_its_pieces_are_there(page: TestClient) -> None:
    """The page, its scripts, its style sheets and the 3D library come with their own types."""
    assert page.get("").headers["content-type"].startswith("text/html")
    assert page.get("page/main.js").headers["content-type"].startswith("text/javascript")
    assert page.get("page/bench.css").headers["content-type"].startswith("text/css")
    library = page.get("three.js")
    assert library.headers["content-type"].startswith("text/javascript")
    assert "THREE" in library.text


def test_the_folder_of_the_page_is_found(page: TestClient) -> None:
    """Without its last stroke the address leads to the one that has it, which relative addresses need."""
    answer = page.get(f"{OWN}/{TOKEN}")
    assert (answer.status_code, answer.headers["location"]) == (307, f"/{TOKEN}/")


def test_the_system_of_units_is_handed_on(page: TestClient) -> None:
    """The system that the page shows reaches the desk; another word is refused, none means the design's own."""
    assert page.get("api/state?system=imperial").json()["system"] == "imperial"
    assert page.get("api/state").json()["system"] == "metric"
    assert page.get("api/state?system=naval").status_code == 400


def test_every_change_reaches_the_desk(page: TestClient, desk: FakeDesk) -> None:
    """Each address calls what it is named after, with all that the message says."""
    sent = {
        "api/change": {"settings": ['gear.track="9 in"', "a.b=1"], "stroke": "s1", "words": "track 9 in"},
        "api/undo": {},
        "api/redo": {},
        "api/variants/keep": {"name": "wide"},
        "api/variants/forget": {"name": "wide"},
        "api/save": {"as": "plane-2.toml", "replace": True, "redesign": "Plane Mk 2"},
        "api/reload": {},
    }
    for number, (path, body) in enumerate(sent.items(), 7):
        answer = page.post(path, json={"revision": number, "system": "imperial", **body})
        assert (answer.status_code, answer.json()) == (200, {"revision": number + 1, "system": "imperial"}), path
    assert desk.calls == [
        ("change", ('gear.track="9 in"', "a.b=1"), "s1", "track 9 in"),
        ("undo",),
        ("redo",),
        ("keep", "wide"),
        ("forget", "wide"),
        ("save", "plane-2.toml", True, "Plane Mk 2"),
        ("reload",),
    ]


def test_a_second_tab_changes_nothing_unseen(page: TestClient, desk: FakeDesk) -> None:
    """Of two tabs that change the same revision one wins; the other is told the revision that now counts."""
    assert page.post("api/undo", json={"revision": 7}).status_code == 200
    answer = page.post("api/change", json={"revision": 7, "settings": ["a=1"]})
    assert answer.status_code == 409
    assert (answer.json()["kind"], answer.json()["revision"]) == ("revision", 8)
    assert desk.calls == [("undo",)]


def test_a_job_of_an_old_revision_is_refused(page: TestClient, desk: FakeDesk) -> None:
    """A job is made of what the page shows: one for a revision that is no longer current is refused as a change is."""
    desk.number = 9
    answer = page.post("api/jobs", json={"revision": 8, "what": "weigh", "options": {}})
    assert (answer.status_code, answer.json()["kind"]) == (409, "revision")


def test_refusals_carry_what_the_page_shows(page: TestClient, desk: FakeDesk) -> None:
    """A bad value is 422 with its key, a name that is not there 404, a file changed on disk 409 with its kind."""
    bad = page.post("api/change", json={"revision": 7, "settings": ["fuselage.width="]})
    assert (bad.status_code, bad.json()["problems"][0]["key"]) == (422, "fuselage.width")
    assert page.post("api/variants/open", json={"revision": 7, "name": "none"}).status_code == 404
    desk.is_same = False
    changed = page.post("api/save", json={"revision": 7, "as": None})
    assert (changed.status_code, changed.json()["kind"]) == (409, "changed on disk")


def test_a_fault_keeps_its_inner_life_to_itself(page: TestClient, capsys: pytest.CaptureFixture[str]) -> None:
    """An error of ours is 500 with one sentence; its trace is on the terminal; the next request is answered."""
    answer = page.post("api/change", json={"revision": 7, "settings": ["fault=1"]})
    assert answer.status_code == 500
    assert set(answer.json()) == {"error"}
    assert "secret" not in answer.text and "ZeroDivision" not in answer.text
    assert answer.headers["cache-control"] == "no-store"
    assert "inner secret" in capsys.readouterr().err
    assert page.get("api/state").status_code == 200


@pytest.mark.parametrize("text", ["", "x", "-1", "1.5", "٣", "9" * 100])
def test_a_revision_is_a_number(page: TestClient, text: str) -> None:
    """Asking for the findings of no revision is refused, not waited for."""
    assert page.get("api/findings", params={"revision": text}).status_code == 400


def test_those_who_wait_hold_up_nobody(page: TestClient, desk: FakeDesk) -> None:
    """While more requests wait for findings than may at once, changes are answered; then all get theirs."""
    waiters = MOST_WAITING + 4
    with ThreadPoolExecutor(waiters) as pool:
        waiting = [pool.submit(page.get, "api/findings?revision=7") for _ in range(waiters)]
        for _ in range(20):
            assert page.get("api/state").status_code == 200
        assert not any(one.done() for one in waiting)
        desk.is_slow_done.set()
        answers = [one.result(PATIENCE_S) for one in waiting]
    assert [answer.json()["revision"] for answer in answers] == [7] * waiters
    assert page.get("api/findings?revision=6").json()["kind"] == "superseded"


def test_shapes_and_templates_come_as_they_are(page: TestClient) -> None:
    """Packed shapes are bytes in the order asked for; a template is a drawing that may run nothing."""
    packed = page.post("api/shapes", json={"digests": ["a1", "b2"]})
    assert (packed.content, packed.headers["content-type"]) == (b"a1+b2", "application/octet-stream")
    assert page.post("api/shapes", json={"digests": ["../x"]}).status_code == 400
    drawing = page.get("api/template", params={"part": "rib 1"})
    assert drawing.headers["content-type"] == "image/svg+xml"
    assert "sandbox" in drawing.headers["content-security-policy"]


# --- jobs -----------------------------------------------------------------------------------------------------


def _finished(page: TestClient) -> dict:
    """The only job's entry, once it is over."""

    def job() -> dict:
        (one,) = page.get("api/jobs").json()
        return one

    until(lambda: job()["state"] != "running")
    return job()


def test_what_a_job_wrote_is_shown_in_a_sandbox(page: TestClient, desk: FakeDesk) -> None:
    """A page that a job wrote is served as a page of nowhere; other addresses of the job have nothing."""
    started = page.post("api/jobs", json={"revision": 7, "what": "turnable", "options": {}})
    assert started.json() == {"id": "1"}
    job = _finished(page)
    assert (job["state"], job["command"]) == (
        "done",
        "airframe picture plane.toml --set 'gear.track=\"240 mm\"' -o plane-bench/turnable/plane.html",
    )
    (file,) = job["files"]
    assert file["bytes"] == len("<p>done</p>")
    shown = page.get(file["url"].removeprefix("./"))
    assert (shown.text, shown.headers["content-type"].split(";")[0]) == ("<p>done</p>", "text/html")
    policy = shown.headers["content-security-policy"]
    assert policy.startswith("sandbox allow-scripts;") and "allow-same-origin" not in policy
    (desk.folder / "plane-bench" / "turnable" / "later.txt").write_text("not the job's")
    for name in ("later.txt", "other.html"):
        assert page.get(f"api/jobs/1/files/{name}").status_code == 404
    assert page.get("api/jobs/2/files/plane.html").status_code == 404


def test_a_file_that_became_a_link_is_not_followed(page: TestClient, desk: FakeDesk) -> None:
    """A job's file that was replaced by a link to somewhere else is no longer served."""
    page.post("api/jobs", json={"revision": 7, "what": "turnable", "options": {}})
    (file,) = _finished(page)["files"]
    path = desk.folder / "plane-bench" / "turnable" / file["name"]
    path.unlink()
    path.symlink_to(desk.folder.parent)
    assert page.get(file["url"].removeprefix("./")).status_code == 404


def test_no_job_of_what_is_not_shown(page: TestClient, desk: FakeDesk) -> None:
    """Where the file on disk is no longer what the page shows, a job is refused: it would make something else."""
    desk.is_same = False
    answer = page.post("api/jobs", json={"revision": 7, "what": "weigh", "options": {}})
    assert (answer.status_code, answer.json()["kind"]) == (409, "changed on disk")
    assert page.get("api/jobs").json() == []


def test_a_job_writes_through_no_link(page: TestClient, desk: FakeDesk, tmp_path_factory) -> None:
    """Where the folder for outputs is a link to another place, nothing is made."""
    outside = tmp_path_factory.mktemp("outside")
    (desk.folder / "plane-bench").symlink_to(outside)
    assert page.post("api/jobs", json={"revision": 7, "what": "weigh", "options": {}}).status_code == 422
    assert list(outside.iterdir()) == []


def test_stopping_a_job_that_is_not_there(page: TestClient) -> None:
    """Stopping what is not there is 404; a stop is a POST with nothing in it."""
    assert page.post("api/jobs/1/stop", json={}).status_code == 404
    assert page.post("api/jobs/1/stop", json={"all": True}).status_code == 400
