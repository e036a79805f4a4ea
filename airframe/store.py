"""Shapes already measured, kept so that an unchanged aeroplane is weighed without meshing anything.

One small file a shape, by a name that `airframe.measured` gives. A file that is damaged or not ours counts as
missing; a folder that cannot be used means no cache, never an error.
"""

from __future__ import annotations

import os
import time
from contextlib import suppress
from pathlib import Path
from typing import Protocol
from uuid import uuid4

from airframe.inertia import Body
from airframe.kept import Kept
from airframe.shape_files import BODY_BYTES, body_in, packed, unpacked
from airframe.shapes import Record

RECORDS_KEPT = 3000
"""Shapes that a process remembers: those of some sixty variants, some tens of megabytes."""
LIMIT_BYTES = 200_000_000
KEEP_SHARE = 0.8
"""When the folder has outgrown its limit it is cut back to this share of it."""
STALE_S = 3600.0
"""A temporary file older than this was left by a process that is gone."""
TOUCH_S = 3600.0
"""How long a used file may look unused; saves a write at every reading."""


class ShapeStore(Protocol):
    """Where measured shapes are kept; a key that is not there gives None."""

    def body(self, key: str) -> Body | None:
        """The shape's body alone."""

    def get(self, key: str) -> Record | None:
        """The shape's body and display mesh."""

    def put(self, key: str, record: Record) -> None:
        """Keep it."""


class MemoryStore:
    """Keeps shapes as long as the process lives, the longest unused thrown away first.

    `behind` is a slower store, such as one on disk, that is asked for what is not here and keeps what is new.
    """

    def __init__(self, behind: ShapeStore | None = None, limit: int = RECORDS_KEPT) -> None:
        self._records: Kept[str, Record] = Kept(limit)
        self._behind = behind

    def body(self, key: str) -> Body | None:
        """The shape's body alone."""
        record = self.get(key)
        return None if record is None else record.body

    def get(self, key: str) -> Record | None:
        """The shape's body and display mesh."""
        record = self._records.get(key)
        if record is None and self._behind is not None:
            record = self._behind.get(key)
            if record is not None:
                self._records.put(key, record)
        return record

    def put(self, key: str, record: Record) -> None:
        """Keep it."""
        self._records.put(key, record)
        if self._behind is not None:
            self._behind.put(key, record)


class DiskStore:
    """Keeps shapes in a folder that several processes may share, the longest unused thrown away first."""

    def __init__(self, folder: Path | None = None, limit_bytes: int = LIMIT_BYTES) -> None:
        self._folder = folder
        self._limit_bytes = limit_bytes
        self._size_bytes: int | None = None
        """Size of the folder as far as this process knows; None until it first writes."""

    @property
    def folder(self) -> Path:
        """Where the files are; by default the folder that AIRFRAME_CACHE names, or the user's cache folder."""
        if self._folder is None:
            self._folder = _default_folder()
        return self._folder

    def body(self, key: str) -> Body | None:
        """The shape's body alone; its mesh is not read."""
        path = self.folder / key
        with suppress(OSError, ValueError):
            with path.open("rb", buffering=0) as file:
                data = file.read(BODY_BYTES)
                used = os.fstat(file.fileno()).st_mtime
            body = body_in(data)
            self._touch(path, used)
            return body
        return None

    def get(self, key: str) -> Record | None:
        """The shape's body and display mesh."""
        path = self.folder / key
        with suppress(OSError, ValueError):
            record = unpacked(path.read_bytes())
            self._touch(path, path.stat().st_mtime)
            return record
        return None

    def put(self, key: str, record: Record) -> None:
        """Keep it: written beside its place, then moved there in one step."""
        data = packed(record)
        temporary = self.folder / f"{key}.{uuid4().hex}.tmp"
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            temporary.write_bytes(data)
            temporary.replace(self.folder / key)
            self._make_room(len(data))
        except OSError:
            pass
        finally:
            with suppress(OSError):
                temporary.unlink(missing_ok=True)

    def _touch(self, path: Path, used: float) -> None:
        if time.time() - used > TOUCH_S:
            with suppress(OSError):
                os.utime(path)

    def _make_room(self, added_bytes: int) -> None:
        """Look at the whole folder at the first writing, and again whenever the limit is passed."""
        if self._size_bytes is not None:
            self._size_bytes += added_bytes
            if self._size_bytes <= self._limit_bytes:
                return
        files = []
        for path in self.folder.iterdir():
            with suppress(OSError):  # another process may have just deleted it
                state = path.stat()
                files.append((state.st_mtime, state.st_size, path))
        self._size_bytes = sum(size for _, size, _ in files)
        limit = self._limit_bytes * KEEP_SHARE if self._size_bytes > self._limit_bytes else self._limit_bytes
        for used, size, path in sorted(files):
            stale = path.suffix == ".tmp" and time.time() - used > STALE_S
            if self._size_bytes > limit or stale:
                self._size_bytes -= size
                with suppress(OSError):
                    path.unlink()


def _default_folder() -> Path:
    if named := os.environ.get("AIRFRAME_CACHE"):
        return Path(named)
    from platformdirs import user_cache_path

    return user_cache_path("airframe", appauthor=False) / "shapes"
