"""The addresses of the bench page: each takes a message, asks the desk in a thread of its own, and gives JSON back."""

from __future__ import annotations

from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from anyio import CapacityLimiter, to_thread
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from viewers.bench import messages, pages
from viewers.bench.answers import answer, handlers, is_tried_of, revision_of, system_of
from viewers.bench.desk import Desk
from viewers.bench.jobs import Jobs
from viewers.bench.names import inside, plain
from viewers.bench.orders import Project, order
from viewers.bench.refusals import Conflict, StaleRevision

MOST_WAITING = 6
"""Requests that may wait for slow results at once: they hold a thread each, and never those of the quick ones."""
SHOWN_TYPES = {
    ".html": "text/html",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".pdf": "application/pdf",
    ".json": "application/json",
    ".csv": "text/csv",
    ".txt": "text/plain",
    ".toml": "text/plain",
}
"""Files of jobs that a browser shows; others are only downloaded."""
SANDBOX = (
    "sandbox allow-scripts; default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; "
    "img-src data: blob:; font-src data:; frame-ancestors 'none'"
)
"""For files that may hold scripts: they run as a page of nowhere, which may ask this server nothing."""
WITHOUT_SCRIPTS = "frame-ancestors 'none'"
"""For other files: a browser's own PDF viewer does not run under the page's policy."""

Endpoint = Callable[[Request], Awaitable[Response]]


class Site:
    """The desk and the jobs, as addresses."""

    def __init__(self, desk: Desk, jobs: Jobs, against: Path | None = None, no_cache: bool = False) -> None:
        self._desk = desk
        self._jobs = jobs
        self._against = against
        self._no_cache = no_cache
        self._waiting: CapacityLimiter | None = None

    def application(self, ready: Callable[[], None] = lambda: None) -> Starlette:
        """The application without its guard; `ready` is called once, before the first answer."""

        @asynccontextmanager
        async def lifespan(_: Starlette) -> AsyncIterator[None]:
            ready()
            yield
            # What is being worked out for a page that is gone would hold up the end.
            self._desk.close()

        application = Starlette(routes=self._routes(), exception_handlers=handlers(), lifespan=lifespan)
        application.router.redirect_slashes = False
        return application

    def _routes(self) -> list[Route]:
        gets: dict[str, Endpoint] = {
            "/": pages.index,
            "/page/{name}": pages.piece,
            "/three.js": pages.drawing_library,
            "/api/state": self.state,
            "/api/findings": self.findings,
            "/api/template": self.template,
            "/api/jobs": self.jobs,
            "/api/jobs/{identity}/files/{name}": self.job_file,
        }
        posts: dict[str, Endpoint] = {
            "/api/change": self.change,
            "/api/undo": self.undo,
            "/api/redo": self.redo,
            "/api/reload": self.reload,
            "/api/variants/keep": self.keep,
            "/api/variants/open": self.open_variant,
            "/api/variants/forget": self.forget,
            "/api/save": self.save,
            "/api/shapes": self.shapes,
            "/api/jobs": self.start_job,
            "/api/jobs/{identity}/stop": self.stop_job,
        }
        return [
            *(Route(path, endpoint, methods=["GET"]) for path, endpoint in gets.items()),
            *(Route(path, endpoint, methods=["POST"]) for path, endpoint in posts.items()),
        ]

    # --- reading ------------------------------------------------------------------------------------------

    async def state(self, request: Request) -> Response:
        """Everything there is to show."""
        system = system_of(request)
        return await answer(lambda: self._desk.state(system))

    async def findings(self, request: Request) -> Response:
        """The slow results of a revision, as soon as they are there."""
        revision, system, is_tried = revision_of(request), system_of(request), is_tried_of(request)
        self._waiting = self._waiting or CapacityLimiter(MOST_WAITING)
        return await answer(lambda: self._desk.slow(revision, system, is_tried), self._waiting)

    async def shapes(self, request: Request) -> Response:
        """Meshes, packed."""
        wanted = messages.read(messages.ShapesWanted, await request.body())
        packed = await to_thread.run_sync(self._desk.shapes, wanted.digests)
        return Response(packed, media_type="application/octet-stream")

    async def template(self, request: Request) -> Response:
        """The cutting outline of a part."""
        part, system = request.query_params.get("part", ""), system_of(request)
        svg = await to_thread.run_sync(self._desk.template_svg, part, system)
        return Response(svg, media_type="image/svg+xml", headers={"content-security-policy": SANDBOX})

    # --- changing -----------------------------------------------------------------------------------------

    async def change(self, request: Request) -> Response:
        """Lay settings over the design."""
        sent = messages.read(messages.Change, await request.body())
        return await answer(
            lambda: self._desk.change(sent.revision, sent.settings, sent.stroke, sent.words, sent.system)
        )

    async def undo(self, request: Request) -> Response:
        """Take the last step back."""
        sent = messages.read(messages.Revised, await request.body())
        return await answer(lambda: self._desk.undo(sent.revision, sent.system))

    async def redo(self, request: Request) -> Response:
        """Take the last undone step again."""
        sent = messages.read(messages.Revised, await request.body())
        return await answer(lambda: self._desk.redo(sent.revision, sent.system))

    async def reload(self, request: Request) -> Response:
        """Read the file again."""
        sent = messages.read(messages.Revised, await request.body())
        return await answer(lambda: self._desk.reload(sent.revision, sent.system))

    async def keep(self, request: Request) -> Response:
        """Keep the edits under a name."""
        sent = messages.read(messages.Named, await request.body())
        return await answer(lambda: self._desk.keep(sent.revision, sent.name, sent.system))

    async def open_variant(self, request: Request) -> Response:
        """Put a kept variant on the desk."""
        sent = messages.read(messages.Named, await request.body())
        return await answer(lambda: self._desk.open_variant(sent.revision, sent.name, sent.system))

    async def forget(self, request: Request) -> Response:
        """Drop a kept variant."""
        sent = messages.read(messages.Named, await request.body())
        return await answer(lambda: self._desk.forget(sent.revision, sent.name, sent.system))

    async def save(self, request: Request) -> Response:
        """Write the edits into the file, or into another one beside it."""
        sent = messages.read(messages.Save, await request.body())

        def saved() -> Any:
            if sent.name is not None:
                inside(self._desk.folder, plain(sent.name, ".toml"))
            return self._desk.save(sent.revision, sent.name, sent.replace, sent.system, sent.redesign)

        return await answer(saved)

    # --- jobs ---------------------------------------------------------------------------------------------

    async def jobs(self, request: Request) -> Response:
        """Every job."""
        return await answer(self._jobs.listing)

    async def start_job(self, request: Request) -> Response:
        """Have something made of the design as the page shows it."""
        sent = messages.read(messages.JobWanted, await request.body())
        return await answer(lambda: {"id": self._started(sent)})

    async def stop_job(self, request: Request) -> Response:
        """Stop a job."""
        messages.read(messages.Nothing, await request.body())
        identity = request.path_params["identity"]

        def stopped() -> dict[str, Any]:
            self._jobs.stop(identity)
            return {}

        return await answer(stopped)

    async def job_file(self, request: Request) -> Response:
        """A file that a job wrote."""
        path = self._jobs.file(request.path_params["identity"], request.path_params["name"])
        kind = SHOWN_TYPES.get(path.suffix.lower())
        policy = SANDBOX if path.suffix.lower() in (".html", ".svg") else WITHOUT_SCRIPTS
        return FileResponse(
            path,
            media_type=kind or "application/octet-stream",
            filename=path.name,
            content_disposition_type="inline" if kind else "attachment",
            headers={"content-security-policy": policy},
        )

    def _started(self, sent: messages.JobWanted) -> str:
        desk = self._desk
        before, settings, file = desk.revision, desk.settings, desk.file
        if not sent.revision == before == desk.revision:
            raise StaleRevision(desk.revision)
        if not desk.is_as_on_disk:
            # A job is a command that reads the file: it would make something else than what is shown.
            message = "the file on disk is no longer the one that was read: reload it, or save under another name"
            raise Conflict(message, "changed on disk")
        project = Project(desk.folder, file.name, self._against, self._no_cache)
        return self._jobs.start(order(project, settings, sent.what, sent.options))
