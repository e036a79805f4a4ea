"""The server as bytes on the wire meet it: what no well-behaved client would ever send."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.viewers.bench.fake_desk import FakeDesk, running
from tests.waiting import PATIENCE_S
from viewers.bench.guard import LARGEST_BODY_BYTES, LOOPBACK
from viewers.bench.serving import PortError, listening

BODY = b'{"revision": 7}'


class Wire:
    """A server that runs, and the means to send it bytes."""

    def __init__(self, desk: FakeDesk, where: str) -> None:
        self.desk = desk
        parts = urlsplit(where)
        self.port, self.root = parts.port or 0, parts.path
        self.host = f"{parts.hostname}:{parts.port}"

    def send(self, *pieces: bytes, is_all: bool = False) -> bytes:
        """What comes back, to its end; `is_all` says that no more will be sent. A server may hang up early."""
        with socket.create_connection((LOOPBACK, self.port), PATIENCE_S) as connection:
            received = b""
            try:
                for piece in pieces:
                    connection.sendall(piece)
                if is_all:
                    connection.shutdown(socket.SHUT_WR)
                while more := connection.recv(65536):
                    received += more
            except ConnectionError:
                pass
            return received

    def head(self, line: str, *headers: str) -> bytes:
        """The head of a request; `ROOT` in its line is where the page is."""
        lines = [line.replace("ROOT", self.root), *headers, "Connection: close", "", ""]
        return "\r\n".join(lines).encode()

    def change(self, *headers: str) -> bytes:
        """The head of a change that the page itself might send."""
        own = (f"Host: {self.host}", f"Origin: http://{self.host}", "Content-Type: application/json")
        return self.head("POST ROOTapi/undo HTTP/1.1", *own, *headers)

    def status(self, answer: bytes) -> int:
        """The status of an answer; 0 where there is none."""
        return int(answer.split(b" ", 2)[1]) if answer else 0


@pytest.fixture(scope="module")
def wire(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Wire]:
    desk = FakeDesk(tmp_path_factory.mktemp("project"))
    with running(desk) as address:
        yield Wire(desk, address)


def test_only_this_machine_is_listened_to(wire: Wire) -> None:
    """The socket is bound to the loopback address alone, and a port that is taken is told of as such."""
    with listening(0) as listener:
        assert listener.getsockname()[0] == LOOPBACK == "127.0.0.1"
    with pytest.raises(PortError, match="--port"), listening(wire.port):
        pass


def test_a_good_change_passes(wire: Wire) -> None:
    """Bytes such as the page sends make the change."""
    before = wire.desk.number
    body = b'{"revision": %d}' % before
    assert wire.status(wire.send(wire.change(f"Content-Length: {len(body)}"), body)) == 200
    assert wire.desk.number == before + 1


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "",
        "/api/state",
        "//ROOT",
        "ROOT../ROOTapi/state",
        "ROOTpage/../api/state",
        "ROOTpage/..",
        "ROOT.",
        "ROOT..",
        "ROOTapi//state",
        "ROOTpage/%2e%2e/%2e%2e/server.py",
        "ROOTpage/..%2f..%2fserver.py",
        "ROOTpage/....//server.py",
        "ROOTpage/main.js%00",
        "ROOTpage\\..\\server.py",
        "ROOTapi/state/",
        "ROOTapi/state/..",
        "ROOTapi/jobs/../state",
        "/etc/passwd",
        "*",
        "x",
    ],
)
def test_no_path_plays_a_trick(wire: Wire, path: str) -> None:
    """A path with dots, doubled strokes or other signs leads nowhere, even back to where something is."""
    answer = wire.send(wire.head(f"GET {path} HTTP/1.1", f"Host: {wire.host}"))
    assert wire.status(answer) in (400, 404)
    assert b"revision" not in answer and b"import" not in answer


def test_a_whole_address_is_judged_by_its_host(wire: Wire) -> None:
    """A request line that names another host, as one to a proxy does, is not served by what it names."""
    line = f"GET http://elsewhere.example{wire.root}api/state HTTP/1.1"
    assert b"revision" not in wire.send(wire.head(line, "Host: elsewhere.example"))
    assert b"revision" not in wire.send(wire.head(line, f"Host: {wire.host}"))


@pytest.mark.parametrize("headers", [(), ("Host: {own}", "Host: {own}"), ("Host: {own}", "Host: elsewhere.example")])
def test_exactly_one_host_is_needed(wire: Wire, headers: tuple[str, ...]) -> None:
    """A request without a host, or with two, is refused."""
    own = [header.format(own=wire.host) for header in headers]
    assert wire.status(wire.send(wire.head("GET ROOTapi/state HTTP/1.1", *own))) in (400, 403)


@pytest.mark.parametrize("header", ["Origin: http://{own}", "Content-Type: application/json", "Sec-Fetch-Site: none"])
def test_what_is_judged_is_sent_once(wire: Wire, header: str) -> None:
    """A header that decides is refused when it comes twice: no other one can be hidden behind the first."""
    before = wire.desk.number
    twice = [header.format(own=wire.host)] * (2 if header.startswith("Sec") else 1)
    assert wire.status(wire.send(wire.change(*twice, f"Content-Length: {len(BODY)}"), BODY)) == 400
    assert wire.desk.number == before


def test_an_endless_body_is_cut_off(wire: Wire) -> None:
    """A body in chunks that never says its length is refused at the limit, not read to its end."""
    before = wire.desk.number
    chunk = b"4000\r\n" + b" " * 0x4000 + b"\r\n"
    enough = LARGEST_BODY_BYTES // 0x4000 + 2
    answer = wire.send(wire.change("Transfer-Encoding: chunked"), *[chunk] * enough)
    assert wire.status(answer) in (0, 413)
    assert wire.desk.number == before


def test_two_lengths_are_no_length(wire: Wire) -> None:
    """Both a length and chunks, or two lengths, could hide a second request in the first: neither does anything."""
    before = wire.desk.number
    hidden = wire.change(f"Content-Length: {len(BODY)}") + b'{"revision": %d}' % before
    both = wire.change("Content-Length: 5", "Transfer-Encoding: chunked")
    assert wire.send(both, b"0\r\n\r\n" + hidden).count(b"HTTP/1.1 200") == 0
    two = wire.change("Content-Length: 2", f"Content-Length: {len(hidden)}")
    assert wire.send(two, b"{}" + hidden).count(b"HTTP/1.1 200") == 0
    assert wire.desk.number == before


@pytest.mark.parametrize(
    "junk", [b"\x16\x03\x01\x02\x00\x01", b"\0" * 100, b"GET / HTTP/9.9\r\n\r\n", b"x" * 100_000, b"\r\n" * 9]
)
def test_junk_is_survived(wire: Wire, junk: bytes) -> None:
    """Bytes that are no request get no answer but a refusal, and the next request is served."""
    assert wire.status(wire.send(junk, is_all=True)) in (0, 400, 403)
    assert wire.status(wire.send(wire.head("GET ROOTapi/state HTTP/1.1", f"Host: {wire.host}"))) == 200


def test_a_page_that_goes_away_is_survived(wire: Wire) -> None:
    """A page that hangs up in the middle of a message changes nothing and disturbs nobody."""
    before = wire.desk.number
    for _ in range(20):
        with socket.create_connection((LOOPBACK, wire.port), PATIENCE_S) as connection:
            connection.sendall(wire.change("Content-Length: 50000") + b'{"revision": ')
    assert wire.status(wire.send(wire.head("GET ROOTapi/state HTTP/1.1", f"Host: {wire.host}"))) == 200
    assert wire.desk.number == before


def test_the_project_is_left_alone(wire: Wire) -> None:
    """None of this has left a file in the project's folder."""
    assert list(Path(wire.desk.folder).iterdir()) == []
