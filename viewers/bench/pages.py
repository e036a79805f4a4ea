"""The page's own files, as they lie beside this module, and the 3D library that it draws with."""

from __future__ import annotations

from pathlib import Path

from anyio import to_thread
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, Response

PAGE = Path(__file__).parent / "page"
PAGE_TYPES = {".css": "text/css", ".js": "text/javascript"}


async def index(request: Request) -> Response:
    """The page."""
    return FileResponse(PAGE / "index.html", media_type="text/html")


async def piece(request: Request) -> Response:
    """A style sheet or a script of the page."""
    name = request.path_params["name"]
    if name not in {path.name for path in PAGE.iterdir()} or Path(name).suffix not in PAGE_TYPES:
        raise HTTPException(404)
    return FileResponse(PAGE / name, media_type=PAGE_TYPES[Path(name).suffix])


async def drawing_library(request: Request) -> Response:
    """The 3D library, a script that defines THREE."""
    from viewers.turnable import library

    return Response(await to_thread.run_sync(library), media_type="text/javascript")
