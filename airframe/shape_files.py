"""A measured shape as the bytes of a file: a header with the body, then the display mesh.

A body is read without its mesh. What is damaged, or not ours, is refused.
"""

from __future__ import annotations

import struct
import zlib

import numpy as np

from airframe.inertia import Body
from airframe.shapes import Record

_MAGIC = b"shape 1\n"
_HEADER = struct.Struct("<13dII")  # mass, centre, inertia, number of vertices, number of triangles
_CHECK = struct.Struct("<I")
BODY_BYTES = len(_MAGIC) + _HEADER.size + _CHECK.size
"""So many bytes at its beginning are enough for the body."""


def packed(record: Record) -> bytes:
    """The whole file."""
    made = record.body
    values = (made.mass, *made.centre.tolist(), *made.inertia.ravel().tolist())
    header = _HEADER.pack(*values, len(record.vertices), len(record.faces))
    mesh = record.vertices.astype("<f4").tobytes() + record.faces.astype("<i4").tobytes()
    return _MAGIC + header + _CHECK.pack(zlib.crc32(header)) + mesh + _CHECK.pack(zlib.crc32(mesh))


def body_in(data: bytes) -> Body:
    """The body alone, of the beginning of a file. Raises ValueError for anything else."""
    return _header(data)[0]


def _header(data: bytes) -> tuple[Body, int, int]:
    """Body, number of vertices, number of triangles. Raises ValueError for anything but a whole header of ours."""
    header = data[len(_MAGIC) : len(_MAGIC) + _HEADER.size]
    if data[: len(_MAGIC)] != _MAGIC or data[len(_MAGIC) + _HEADER.size : BODY_BYTES] != _CHECK.pack(
        zlib.crc32(header)
    ):
        raise ValueError("not a shape")
    *values, vertices, faces = _HEADER.unpack(header)
    numbers = np.array(values)
    return Body(float(numbers[0]), numbers[1:4], numbers[4:13].reshape(3, 3)), vertices, faces


def unpacked(data: bytes) -> Record:
    """Body and mesh of a whole file. Raises ValueError for one that is not."""
    found, vertices, faces = _header(data)
    mesh = data[BODY_BYTES : -_CHECK.size]
    if len(mesh) != 12 * (vertices + faces) or data[-_CHECK.size :] != _CHECK.pack(zlib.crc32(mesh)):
        raise ValueError("a damaged shape")
    corners = np.frombuffer(mesh, "<f4", 3 * vertices).reshape(-1, 3).astype(np.float32)
    triangles = np.frombuffer(mesh, "<i4", 3 * faces, 12 * vertices).reshape(-1, 3).astype(np.int32)
    return Record(found, corners, triangles)
