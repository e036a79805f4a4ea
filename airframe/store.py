"""Shapes already measured, kept so that an unchanged aeroplane is weighed without the CAD kernel.

One small file a shape, named by the hash of the drawing, the mesh angle, and the code that measures it.
A file is a header with the body, then the display mesh: a body is read without its mesh. A file that
is damaged or not ours counts as missing; a folder that cannot be used means no cache, never an error.
"""

from __future__ import annotations

import hashlib
import os
import struct
import time
import zlib
from contextlib import suppress
from pathlib import Path
from typing import Protocol
from uuid import uuid4

import numpy as np

from airframe.drawing import PartError, Shape
from airframe.inertia import Body
from airframe.kept import Kept
from airframe.meshes import FINE_RAD
from airframe.shapes import Record, measure

RECORDS_KEPT = 3000
"""Shapes that a process remembers: those of some sixty variants, some tens of megabytes."""
LIMIT_BYTES = 200_000_000
KEEP_SHARE = 0.8
"""When the folder has outgrown its limit it is cut back to this share of it."""
STALE_S = 3600.0
"""A temporary file older than this was left by a process that is gone."""
TOUCH_S = 3600.0
"""How long a used file may look unused; saves a write at every reading."""

_MAGIC = b"shape 1\n"
_HEADER = struct.Struct("<13dII")  # mass, centre, inertia, number of vertices, number of triangles
_CHECK = struct.Struct("<I")
_BODY_BYTES = len(_MAGIC) + _HEADER.size + _CHECK.size
_MEASURING_FILES = (
    "axes", "drawing", "inertia", "facets", "grooves", "folding", "bends", "solids", "meshes", "skins", "shapes",
    "store",
)  # fmt: skip
_MEASURING_PACKAGES = ("manifold3d", "trimesh")


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
                data = file.read(_BODY_BYTES)
                used = os.fstat(file.fileno()).st_mtime
            body, _, _ = _header(data)
            self._touch(path, used)
            return body
        return None

    def get(self, key: str) -> Record | None:
        """The shape's body and display mesh."""
        path = self.folder / key
        with suppress(OSError, ValueError):
            record = _unpacked(path.read_bytes())
            self._touch(path, path.stat().st_mtime)
            return record
        return None

    def put(self, key: str, record: Record) -> None:
        """Keep it: written beside its place, then moved there in one step."""
        data = _packed(record)
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


def _packed(record: Record) -> bytes:
    body = record.body
    values = (body.mass, *body.centre.tolist(), *body.inertia.ravel().tolist())
    header = _HEADER.pack(*values, len(record.vertices), len(record.faces))
    mesh = record.vertices.astype("<f4").tobytes() + record.faces.astype("<i4").tobytes()
    return _MAGIC + header + _CHECK.pack(zlib.crc32(header)) + mesh + _CHECK.pack(zlib.crc32(mesh))


def _header(data: bytes) -> tuple[Body, int, int]:
    """Body, number of vertices, number of triangles. Raises ValueError for anything but a whole header of ours."""
    header = data[len(_MAGIC) : len(_MAGIC) + _HEADER.size]
    if data[: len(_MAGIC)] != _MAGIC or data[len(_MAGIC) + _HEADER.size : _BODY_BYTES] != _CHECK.pack(
        zlib.crc32(header)
    ):
        raise ValueError("not a shape")
    *values, vertices, faces = _HEADER.unpack(header)
    numbers = np.array(values)
    return Body(float(numbers[0]), numbers[1:4], numbers[4:13].reshape(3, 3)), vertices, faces


def _unpacked(data: bytes) -> Record:
    body, vertices, faces = _header(data)
    mesh = data[_BODY_BYTES : -_CHECK.size]
    if len(mesh) != 12 * (vertices + faces) or data[-_CHECK.size :] != _CHECK.pack(zlib.crc32(mesh)):
        raise ValueError("a damaged shape")
    corners = np.frombuffer(mesh, "<f4", 3 * vertices).reshape(-1, 3).astype(np.float32)
    triangles = np.frombuffer(mesh, "<i4", 3 * faces, 12 * vertices).reshape(-1, 3).astype(np.int32)
    return Record(body, corners, triangles)


# --- by drawing instead of by key ---------------------------------------------------------------------


class Shapes:
    """Measured shapes by their drawings: each is looked up once, and built only where the store has none."""

    def __init__(self, store: ShapeStore, angle_rad: float = FINE_RAD) -> None:
        self._store = store
        self._angle_rad = angle_rad
        self._records: dict[Shape, Record] = {}
        self._bodies: dict[Shape, Body] = {}
        self.built = 0
        """How many shapes were built."""
        self.loaded = 0
        """How many shapes came from the store."""

    def body(self, shape: Shape, part: str) -> Body:
        """Mass properties at unit weight per amount, own frame. Raises PartError, named by the part that asks."""
        if shape not in self._bodies:
            name = key(shape, self._angle_rad)
            stored = self._store.body(name)
            if stored is None:
                self._build(shape, part, name)
            else:
                self.loaded += 1
                self._bodies[shape] = stored
        return self._bodies[shape]

    def record(self, shape: Shape, part: str) -> Record:
        """Body and display mesh, own frame. Raises PartError, named by the part that asks."""
        if shape not in self._records:
            name = key(shape, self._angle_rad)
            stored = self._store.get(name)
            if stored is None:
                self._build(shape, part, name)
            else:
                self.loaded += shape not in self._bodies
                self._records[shape] = stored
                self._bodies.setdefault(shape, stored.body)
        return self._records[shape]

    def _build(self, shape: Shape, part: str, name: str) -> None:
        try:
            record = measure(shape, self._angle_rad)
        except ValueError as error:
            raise PartError(part, str(error)) from error
        self.built += 1
        self._records[shape] = record
        self._bodies[shape] = record.body
        self._store.put(name, record)


def key(shape: Shape, angle_rad: float) -> str:
    """The name of a shape in a store: what is drawn, how finely it is meshed, and by which code."""
    text = f"{version()}|{angle_rad!r}|{shape!r}"
    return hashlib.sha256(text.encode()).hexdigest()


_version = ""


def version() -> str:
    """Changes with every change of the code or of a library that measures shapes."""
    global _version
    if not _version:
        from importlib.metadata import PackageNotFoundError
        from importlib.metadata import version as installed

        digest = hashlib.sha256()
        here = Path(__file__).parent
        for name in _MEASURING_FILES:
            digest.update((here / f"{name}.py").read_bytes())
        for package in _MEASURING_PACKAGES:
            with suppress(PackageNotFoundError):
                digest.update(installed(package).encode())
        _version = digest.hexdigest()
    return _version
