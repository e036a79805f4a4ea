"""The pretended bench at an address of its own: the page's real files over answers of one line."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlparse

from tests.viewers.bench.page.fake import FakeBench, Json

HERE = Path(__file__).parent
TOKEN = "t0ken"
TYPES = {"html": "text/html", "css": "text/css", "js": "text/javascript"}
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60"><path d="M5 5h80v50h-80z" fill="none"/></svg>'


def handler(bench: FakeBench) -> type[BaseHTTPRequestHandler]:
    """A request handler over one bench."""

    class Handler(BaseHTTPRequestHandler):
        def log_message(self, *_: Any) -> None:
            """Say nothing."""

        def give(self, status: int, body: bytes | Json, kind: str = "application/json") -> None:
            raw = body if isinstance(body, bytes) else json.dumps(body).encode()
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(raw)))
            self.send_header("Content-Security-Policy", POLICY)
            self.end_headers()
            self.wfile.write(raw)

        def do_GET(self) -> None:
            address = urlparse(self.path)
            path, query = address.path.removeprefix(f"/{TOKEN}/"), parse_qs(address.query)
            page = files("viewers.bench") / "page"
            if path == "":
                self.give(200, (page / "index.html").read_bytes(), "text/html; charset=utf-8")
            elif path == "three.js":
                self.give(200, b"window.THREE = {};", "text/javascript")
            elif path == "page/view.js":
                self.give(200, (HERE / "stub_view.js").read_bytes(), "text/javascript")
            elif path.startswith("page/"):
                file = page / path.removeprefix("page/")
                self.give(200, file.read_bytes(), TYPES[path.rsplit(".", 1)[1]] + "; charset=utf-8")
            elif path == "api/state":
                self.give(200, bench.state(query.get("system", [None])[0]))
            elif path == "api/findings":
                isnow = int(query["revision"][0]) == bench.revision
                self.give(
                    *(
                        (200, bench.slow(query["tried"] == ["true"]))
                        if isnow
                        else (409, {"error": "superseded", "kind": "superseded"})
                    )
                )
            elif path == "api/template":
                self.give(200, SVG.encode(), "image/svg+xml")
            elif path == "api/jobs":
                self.give(200, json.dumps(bench.jobs).encode())
            elif path.startswith("api/jobs/") and path.rsplit("/", 1)[1] in bench.written:
                self.give(200, bench.written[path.rsplit("/", 1)[1]])
            else:
                self.give(404, {"error": "nothing there"})

        def do_POST(self) -> None:
            body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
            answer = bench.post(self.path.removeprefix(f"/{TOKEN}/api/"), body)
            time.sleep(bench.work_s)
            self.give(*answer)

    return Handler


@contextmanager
def served(bench: FakeBench) -> Iterator[str]:
    """The address of a server that pretends, until the block ends."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler(bench))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}/{TOKEN}/"
    finally:
        server.shutdown()
        server.server_close()
