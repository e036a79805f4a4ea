"""Measured shapes by their drawings, under names in a store that change with whatever measures them."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from pathlib import Path

from airframe.drawing import PartError, Shape
from airframe.inertia import Body
from airframe.meshes import FINE_RAD
from airframe.shapes import Record, measure
from airframe.store import ShapeStore

_MEASURING_FILES = (
    "axes", "drawing", "inertia", "facets", "grooves", "folding", "bends", "solids", "meshes", "skins", "shapes",
    "shape_files", "measured",
)  # fmt: skip
_MEASURING_PACKAGES = ("manifold3d", "trimesh")


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
