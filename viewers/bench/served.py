"""The shapes that the page draws: short names for them, how far they reach, and their meshes packed for the browser."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from airframe.axes import Array, Place
from airframe.drawing import Bead, Film, Part, Shape
from airframe.kept import Kept
from airframe.model import Aeroplane
from viewers.bench.refusals import NotFound

SHAPES_KEPT = 1500
"""Shapes whose names and parts are remembered: those of some forty widths of one body."""
PACKED_KEPT = 600
"""Packed meshes kept; a page asks for each once, a second tab once more."""
DIGEST_LETTERS = 24


class Served:
    """What of the shapes is kept from one change to the next. May be asked from several threads."""

    def __init__(self) -> None:
        self._digests: Kept[Shape, str] = Kept(SHAPES_KEPT)
        self._parts: Kept[str, Part] = Kept(SHAPES_KEPT)
        self._boxes: Kept[tuple[str, Place], Array] = Kept(SHAPES_KEPT)
        self._packed: Kept[str, bytes] = Kept(PACKED_KEPT)

    def digest(self, part: Part) -> str:
        """The short name of the part's shape: equal shapes have equal names. It may be asked for from now on."""
        known = self._digests.get_or_make(part.shape, lambda: _digest(part.shape))
        self._parts.put(known, part)
        return known

    def box(self, aeroplane: Aeroplane, part: Part, digest: str) -> Array:
        """Lowest and highest station, butt line and water line (6,) of a part in its place."""
        return self._boxes.get_or_make((digest, part.place), lambda: _box(points(aeroplane, part)))

    def packed(self, aeroplane: Aeroplane, digests: Sequence[str]) -> bytes:
        """The shapes one after another, each in its own frame, mm, little-endian.

        Each is three uint32 (corners, triangles, edges), then float32 corners, uint32 triangles, and float32 ends of
        the edges to be inked. Raises NotFound for a name that was never given, or long ago.
        """
        return b"".join(self._one(aeroplane, digest) for digest in digests)

    def _one(self, aeroplane: Aeroplane, digest: str) -> bytes:
        return self._packed.get_or_make(digest, lambda: packed(aeroplane, self._part(digest)))

    def _part(self, digest: str) -> Part:
        part = self._parts.get(digest)
        if part is None:
            message = f"there is no shape {digest[:DIGEST_LETTERS]}; load the page anew"
            raise NotFound(message)
        return part


def _digest(shape: Shape) -> str:
    return hashlib.sha256(repr(shape).encode()).hexdigest()[:DIGEST_LETTERS]


def _box(corners: Array) -> Array:
    return np.concatenate([corners.min(axis=0), corners.max(axis=0)])


def points(aeroplane: Aeroplane, part: Part) -> Array:
    """The corners (n, 3) of a part's mesh, or of its line, in its place."""
    if isinstance(part.shape, Bead):
        return part.place.apply(np.concatenate([np.array(path) for path in part.shape.paths]))
    if isinstance(part.shape, Film):
        from viewers.coats import surface

        return part.place.apply(surface(part.shape)[0])
    return part.place.apply(aeroplane.record(part).vertices)


def packed(aeroplane: Aeroplane, part: Part) -> bytes:
    """One shape: bodies have a surface and edges, coats a surface, lines edges only."""
    from viewers.edges import inked

    nothing = np.zeros((0, 3))
    if isinstance(part.shape, Bead):
        runs = [np.array(path) for path in part.shape.paths]
        pieces = [np.stack([run[:-1], run[1:]], axis=1) for run in runs if len(run) > 1]
        return _bytes(nothing, nothing, np.concatenate(pieces) if pieces else np.zeros((0, 2, 3)))
    if isinstance(part.shape, Film):
        from viewers.coats import surface

        corners, faces = surface(part.shape)
        return _bytes(corners, faces, np.zeros((0, 2, 3)))
    record = aeroplane.record(part)
    faces = np.asarray(record.faces, dtype=np.int64)
    return _bytes(record.vertices, faces, inked(np.asarray(record.vertices, dtype=np.float64), faces))


def _bytes(corners: NDArray[Any], faces: NDArray[Any], edges: Array) -> bytes:
    head = struct.pack("<3I", len(corners), len(faces), len(edges))
    body = (
        np.ascontiguousarray(corners, "<f4"),
        np.ascontiguousarray(faces, "<u4"),
        np.ascontiguousarray(edges, "<f4"),
    )
    return head + b"".join(one.tobytes() for one in body)
