"""Nothing but the bench's own page gets in: every way that is known to try is tried."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.viewers.bench.fake_desk import OWN, PORT, TOKEN, FakeDesk, client
from viewers.bench.guard import HEADERS, LARGEST_BODY_BYTES, new_token

FOREIGN = "elsewhere.example"
UNDO = {"revision": 7}


@pytest.fixture
def desk(tmp_path: Path) -> FakeDesk:
    return FakeDesk(tmp_path)


@pytest.fixture
def page(desk: FakeDesk) -> Iterator[TestClient]:
    with client(desk) as one:
        yield one


def test_the_page_itself_gets_in(page: TestClient, desk: FakeDesk) -> None:
    """With token, host and origin right, reading and changing work: what follows is refused for its own reason."""
    assert page.get("api/state").json()["revision"] == 7
    assert page.post("api/undo", json=UNDO).json()["revision"] == 8
    assert desk.calls == [("undo",)]


@pytest.mark.parametrize("token", ["", "other", TOKEN[:-1], TOKEN + "x", TOKEN.upper(), "%00", "é", "\udcff"])
def test_a_wrong_token_is_nowhere(page: TestClient, desk: FakeDesk, token: str) -> None:
    """Without the token there is nothing, not even the page, and nothing happens."""
    name = token.encode("utf-8", "surrogateescape").decode("latin-1")
    for path in ("", "/", "/api/state", "/page/main.js"):
        assert page.get(f"{OWN}/{name}{path}").status_code == 404
    assert page.post(f"{OWN}/{name}/api/undo", json=UNDO).status_code == 404
    assert desk.calls == []


def test_tokens_are_long_and_never_the_same() -> None:
    """A token has 192 bits or more, and is another one each time."""
    tokens = {new_token() for _ in range(100)}
    assert len(tokens) == 100
    assert min(map(len, tokens)) >= 32  # 24 bytes in base 64


@pytest.mark.parametrize(
    "host",
    [
        f"{FOREIGN}:{PORT}",
        FOREIGN,
        "127.0.0.1",
        f"127.0.0.1:{PORT + 1}",
        f"localhost.{FOREIGN}:{PORT}",
        f"0.0.0.0:{PORT}",
        "",
    ],
)
def test_another_host_is_refused(page: TestClient, desk: FakeDesk, host: str) -> None:
    """A name that somebody else made lead to this machine opens nothing, though token and origin fit it."""
    headers = {"host": host, "origin": f"http://{host}"}
    assert page.get("api/state", headers=headers).status_code == 403
    assert page.post("api/undo", json=UNDO, headers=headers).status_code == 403
    assert desk.calls == []


def test_localhost_is_another_name_of_ours(page: TestClient) -> None:
    """A page opened as localhost works too, as long as it stays with that name."""
    there = {"host": f"localhost:{PORT}", "origin": f"http://localhost:{PORT}"}
    assert page.post("api/undo", json=UNDO, headers=there).status_code == 200
    assert page.post("api/undo", json=UNDO, headers={**there, "origin": OWN}).status_code == 403


@pytest.mark.parametrize(
    "origin", [f"http://{FOREIGN}", "null", f"https://127.0.0.1:{PORT}", f"http://127.0.0.1:{PORT + 1}", f"{OWN}/", ""]
)
def test_another_origin_is_refused(page: TestClient, desk: FakeDesk, origin: str) -> None:
    """Neither a page of another place nor one of no place reads or changes anything."""
    assert page.get("api/state", headers={"origin": origin}).status_code == 403
    assert page.post("api/undo", json=UNDO, headers={"origin": origin}).status_code == 403
    assert desk.calls == []


def test_a_change_needs_an_origin(page: TestClient, desk: FakeDesk) -> None:
    """A POST that does not say where it comes from is refused; a GET, which browsers send without, is not."""
    del page.headers["origin"]
    assert page.get("api/state").status_code == 200
    assert page.post("api/undo", json=UNDO).status_code == 403
    assert desk.calls == []


@pytest.mark.parametrize("site", ["cross-site", "same-site", "CROSS-SITE", "x"])
def test_a_request_from_another_site_is_refused(page: TestClient, site: str) -> None:
    """Where the browser itself says that another page asks, even reading and following a link are refused."""
    assert page.get("", headers={"sec-fetch-site": site}).status_code == 403
    assert page.get("api/state", headers={"sec-fetch-site": "same-origin"}).status_code == 200


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "application/jsonp", ""]
)
def test_what_forms_can_send_is_refused(page: TestClient, desk: FakeDesk, kind: str) -> None:
    """Only JSON under its own name is a change: any page may send the other kinds without asking."""
    answer = page.post("api/undo", content=json.dumps(UNDO), headers={"content-type": kind})
    assert answer.status_code == 415
    assert desk.calls == []


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])
def test_other_methods_are_refused(page: TestClient, method: str) -> None:
    """Nothing but GET, HEAD and POST is answered, and nobody is told that other origins may ask."""
    headers = {"access-control-request-method": "POST", "access-control-request-headers": "content-type"}
    answer = page.request(method, "api/undo", headers=headers)
    assert answer.status_code == 405
    assert not [name for name in answer.headers if name.startswith("access-control")]


def test_reading_changes_nothing(page: TestClient, desk: FakeDesk) -> None:
    """No address of a change answers a GET, and those that answer leave the desk as it was."""
    for path in (
        "change",
        "undo",
        "redo",
        "reload",
        "save",
        "variants/keep",
        "variants/open",
        "variants/forget",
        "shapes",
    ):
        assert page.get(f"api/{path}").status_code == 405
    for path in ("api/state", "api/jobs", "api/template?part=rib"):
        assert page.get(path).status_code == 200
    assert (desk.calls, desk.number) == ([], 7)


@pytest.mark.parametrize("is_announced", [True, False])
def test_an_oversize_body_is_refused(page: TestClient, desk: FakeDesk, is_announced: bool) -> None:
    """A body over the limit is refused by its announced length, and without one by counting."""
    body = json.dumps({"revision": 7, "settings": ["a=1"], "words": "x"}).encode()
    body += b" " * (LARGEST_BODY_BYTES + 1 - len(body))
    pieces = (body[i : i + 5000] for i in range(0, len(body), 5000))
    sent = page.post(
        "api/change", content=body if is_announced else pieces, headers={"content-type": "application/json"}
    )
    assert ("content-length" in sent.request.headers) == is_announced
    assert sent.status_code == 413
    assert desk.calls == []
    fits = page.post("api/change", content=body[:-1], headers={"content-type": "application/json"})
    assert fits.status_code == 200


@pytest.mark.parametrize("length", ["-1", "1e3", "9" * 5000, "٣", "0x10"])
def test_a_senseless_length_is_refused(page: TestClient, length: str) -> None:
    """An announced length that is no number, or an endless one, is refused before anything is read."""
    headers = {"content-type": "application/json", "content-length": length.encode()}
    assert page.post("api/undo", content=b"{}", headers=headers).status_code in (400, 413)


def test_a_lying_length_is_counted(page: TestClient) -> None:
    """A body that is longer than it says is still counted."""
    headers = {"content-type": "application/json", "content-length": "10"}
    answer = page.post("api/undo", content=b" " * (LARGEST_BODY_BYTES + 1), headers=headers)
    assert answer.status_code == 413


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[]",
        b"7",
        b"null",
        b"\xff\xfe",
        b"{}",
        b'{"revision": "7"}',
        b'{"revision": 7.5}',
        b'{"revision": -1}',
        b'{"revision": 1e400}',
        b'{"revision": true}',
        b'{"revision": 7, "system": "naval"}',
        b'{"revision": 7, "more": 1}',
        b'{"revision": 99999999999999999999999}',
        b'{"revision": NaN}',
        b'{"revision": 7, "__proto__": {}}',
        b"[" * 60_000,
        b'{"revision":' * 5000,
        b'{"revision": ' + b"9" * 60_000 + b"}",
    ],
)
def test_malformed_messages_are_refused(page: TestClient, desk: FakeDesk, body: bytes) -> None:
    """What is not JSON, too deep, of another shape or with more in it gets one sentence, and does nothing."""
    answer = page.post("api/undo", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 400
    assert len(answer.json()["error"]) <= 300
    assert desk.calls == []


@pytest.mark.parametrize(
    "settings",
    [[], ["x"], ["a=\0"], ["a=1\x1b[2J"], ["a=" + "1" * 5000], ["a=1"] * 500, "a=1", [1], [["a=1"]], [{"a": 1}], None],
)
def test_settings_are_bounded(page: TestClient, desk: FakeDesk, settings: object) -> None:
    """Settings are a list, neither empty nor endless, of texts without control signs."""
    assert page.post("api/change", json={"revision": 7, "settings": settings}).status_code == 400
    assert desk.calls == []


def test_a_lone_surrogate_is_refused(page: TestClient, desk: FakeDesk) -> None:
    """Half a character, which no file could hold, does not get as far as the desk."""
    body = b'{"revision": 7, "settings": ["name=\\ud800"]}'
    answer = page.post("api/change", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 400
    assert desk.calls == []


@pytest.mark.parametrize(
    "name",
    [
        "..%2F..%2Fserver.py",
        "%2e%2e%2fserver.py",
        "..%5Cserver.py",
        "server.py",
        "%00",
        "main.js%00.css",
        "",
        "/etc/passwd",
        "%2Fetc%2Fpasswd",
        "main.js/",
        "a%2F..%2Fmain.js",
        "__pycache__",
        "C:%5Cwindows",
        "main.js:stream",
        "x" * 5000,
    ],
)
def test_no_path_leads_out_of_the_page(page: TestClient, name: str) -> None:
    """Only style sheets and scripts of the page's own folder are there, whatever is written for a name."""
    for path in (f"/{TOKEN}/page/{name}", f"/{TOKEN}/api/jobs/1/files/{name}"):
        answer = page.get(OWN + path)
        assert answer.status_code == 404, path
        assert set(answer.json()) == {"error"}


@pytest.mark.parametrize(
    "name",
    [
        "../out.toml",
        "a/b.toml",
        "a\\b.toml",
        "/out.toml",
        "C:out.toml",
        ".hidden.toml",
        "-o.toml",
        "out.txt",
        "out",
        "con.toml",
        "NUL.toml",
        "a\0.toml",
        "a\n.toml",
        "..toml",
        ".",
        "..",
        "x" * 200 + ".toml",
        "out.toml ",
        "out.toml.",
    ],
)
def test_save_as_takes_plain_names_only(page: TestClient, desk: FakeDesk, name: str) -> None:
    """No name with a folder, a drive, a hidden file's point or another ending is written to."""
    assert page.post("api/save", json={"revision": 7, "as": name}).status_code in (400, 422)
    assert desk.calls == []


def test_save_as_follows_no_link_out(
    page: TestClient, desk: FakeDesk, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """A link that lies in the project's folder is not written through, even to replace."""
    outside = tmp_path_factory.mktemp("outside") / "theirs.toml"
    outside.write_text("theirs")
    (desk.folder / "link.toml").symlink_to(outside)
    assert page.post("api/save", json={"revision": 7, "as": "link.toml", "replace": True}).status_code == 422
    assert page.post("api/save", json={"revision": 7, "as": "ours (2).toml", "replace": True}).status_code == 200
    assert desk.calls == [("save", "ours (2).toml", True, None)]


def test_every_answer_is_fenced(page: TestClient) -> None:
    """Good answers and refusals alike carry the headers that keep other pages away, and none that lets them in."""
    answers = [
        page.get(""),
        page.get("api/state"),
        page.get("api/nothing"),
        page.get(f"{OWN}/wrong/"),
        page.post("api/undo", content=b"{"),
        page.get("api/state", headers={"host": FOREIGN}),
    ]
    for answer in answers:
        for name, value in HEADERS.items():
            assert answer.headers[name] == value
        assert not [name for name in answer.headers if name.startswith("access-control")]


def test_the_policy_forbids_what_is_not_ours(page: TestClient) -> None:
    """The page can load nothing from anywhere else, run no script of its own text, and stand in no frame."""
    policy = dict(part.split(" ", 1) for part in page.get("").headers["content-security-policy"].split("; "))
    assert policy["default-src"] == policy["frame-ancestors"] == policy["form-action"] == policy["base-uri"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"


def test_a_socket_is_closed(page: TestClient) -> None:
    """There is no web socket here, so nobody talks past the checks through one."""
    from starlette.websockets import WebSocketDisconnect

    with pytest.raises(WebSocketDisconnect), page.websocket_connect(f"/{TOKEN}/api/state"):
        pass
