"""A page of somebody else in the same browser, which even knows the token, tries what a web page can try."""

from __future__ import annotations

import shutil
import sys
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from tests.viewers.bench.fake_desk import FakeDesk, running
from tests.waiting import PATIENCE_S, until
from viewers.bench.guard import LOOPBACK
from viewers.bench.jobs import Jobs

playwright = pytest.importorskip("playwright.sync_api")
CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here")

HOSTILE = """<!doctype html><title>hostile</title><p>some other page
<form id="form" method="post" enctype="text/plain" target="frame">
<input name='{"revision":7,"x":"' value='"}'></form><iframe name="frame"></iframe>"""
BODY = '{"revision": 7}'
JSON = "{'content-type': 'application/json'}"
ASKS = {
    "reading": "fetch(root + 'api/state').then(answer => answer.text())",
    "reading blindly": "fetch(root + 'api/state', {mode: 'no-cors'}).then(answer => answer.text())",
    "changing": f"fetch(root + 'api/undo', {{method: 'POST', headers: {JSON}, body: '{BODY}'}})"
    ".then(answer => answer.text())",
    "changing as a form would": "fetch(root + 'api/undo', {method: 'POST', mode: 'no-cors', body: '{}'})"
    ".then(answer => answer.text())",
    "a socket": "new Promise((good, bad) => { const s = new WebSocket(root.replace('http', 'ws') + 'api/state');"
    " s.onopen = () => good('open'); s.onerror = () => bad('closed'); })",
}
LOADS = {
    "a script": "Object.assign(document.createElement('script'), {src: root + 'three.js'})",
    "a module": "Object.assign(document.createElement('script'), {type: 'module', src: root + 'page/main.js'})",
    "a style sheet": "Object.assign(document.createElement('link'),"
    " {rel: 'stylesheet', href: root + 'page/bench.css'})",
    "a picture": "Object.assign(document.createElement('img'), {src: root + 'api/template?part=rib'})",
}
WRITES_A_PAGE = "import pathlib, sys; pathlib.Path(sys.argv[-1]).write_text('<p id=done>made</p>')"


@pytest.fixture(scope="module")
def browser() -> Iterator[playwright.Browser]:
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def elsewhere() -> Iterator[int]:
    """The port of another server on this machine, whose every page is hostile."""

    class Answer(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            """Hand out the page."""
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.end_headers()
            self.wfile.write(HOSTILE.encode())

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    with ThreadingHTTPServer((LOOPBACK, 0), Answer) as other:
        threading.Thread(target=other.serve_forever, daemon=True).start()
        yield other.server_port
        other.shutdown()


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> FakeDesk:
    return FakeDesk(tmp_path_factory.mktemp("project"))


@pytest.fixture(scope="module")
def root(desk: FakeDesk) -> Iterator[str]:
    jobs = Jobs(desk.folder, (sys.executable, "-c", WRITES_A_PAGE))
    with running(desk, jobs) as address:
        yield address


@pytest.fixture(params=[LOOPBACK, "localhost"])
def page(request: pytest.FixtureRequest, browser: playwright.Browser, elsewhere: int) -> Iterator[playwright.Page]:
    """A hostile page: of the same host by another port, and of another host."""
    opened = browser.new_page()
    opened.set_default_timeout(1000.0 * PATIENCE_S)
    opened.goto(f"http://{request.param}:{elsewhere}/")
    yield opened
    opened.close()


@pytest.mark.parametrize("what", ASKS)
def test_no_other_page_reads_or_changes(page: playwright.Page, root: str, desk: FakeDesk, what: str) -> None:
    """Whatever a script of another page sends, it learns nothing and nothing is changed."""
    said = page.evaluate(f"root => {ASKS[what]}.catch(() => 'nothing')", root)
    assert said in ("nothing", "")
    assert (desk.calls, desk.number) == ([], 7)


@pytest.mark.parametrize("what", LOADS)
def test_no_other_page_loads_a_piece(page: playwright.Page, root: str, what: str) -> None:
    """Neither scripts nor style sheets nor pictures of the bench are loaded into another page."""
    said = page.evaluate(
        f"""root => new Promise(done => {{ const piece = {LOADS[what]};
        piece.onload = () => done('loaded'); piece.onerror = () => done('refused'); document.head.append(piece); }})""",
        root,
    )
    assert said == "refused"


def test_no_form_of_another_page_changes(page: playwright.Page, root: str, desk: FakeDesk) -> None:
    """A form whose text looks like JSON, sent to the bench from another page, is refused."""
    with page.expect_response(lambda answer: answer.url == f"{root}api/undo") as answered:
        page.evaluate("root => { form.action = root + 'api/undo'; form.submit(); }", root)
    assert answered.value.status in (403, 415)
    assert desk.calls == []


def test_no_other_page_frames_it(page: playwright.Page, root: str) -> None:
    """The bench does not show in a frame of another page, where its buttons could be laid under other ones."""
    with page.expect_response(lambda answer: answer.url == root) as answered:
        page.evaluate("root => { document.querySelector('iframe').src = root; }", root)
    assert answered.value.status == 403


def test_no_other_page_leads_into_it(page: playwright.Page, root: str) -> None:
    """A link on another page does not open the bench, even with the token in it."""
    with page.expect_navigation() as led:
        page.evaluate("root => { location.href = root; }", root)
    assert led.value.status == 403


def test_a_page_that_a_job_wrote_can_do_nothing(browser: playwright.Browser, root: str, desk: FakeDesk) -> None:
    """A job's page shows and may run scripts, but as a page of nowhere: it reaches nothing of the bench."""
    page = browser.new_page()
    page.set_default_timeout(1000.0 * PATIENCE_S)
    page.goto(root)
    started = page.evaluate(
        f"""root => fetch(root + 'api/jobs', {{method: 'POST', headers: {JSON},
        body: JSON.stringify({{revision: 7, what: 'turnable', options: {{}}}})}}).then(answer => answer.json())""",
        root,
    )
    path = Path(desk.folder) / "plane-bench" / "turnable" / "plane.html"
    ask = "root => fetch(root + 'api/jobs').then(answer => answer.text())"
    until(lambda: path.exists() and "running" not in page.evaluate(ask, root))
    page.goto(f"{root}api/jobs/{started['id']}/files/plane.html")
    assert page.locator("#done").text_content() == "made"
    assert page.evaluate("origin") == "null"
    for what in ASKS.values():
        assert page.evaluate(f"root => {what}.catch(() => 'nothing')", root) in ("nothing", "")
    assert desk.calls == []
    page.close()
