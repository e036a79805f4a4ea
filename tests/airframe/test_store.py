"""The shape cache: what it keeps, what it ignores, and that nothing about it can fail."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from airframe import measured
from airframe.drawing import Block, Panel, PartError, Rod, Shape, Wire, bead, rectangle, score
from airframe.measured import Shapes, key
from airframe.shape_files import packed
from airframe.shapes import Record, measure
from airframe.store import DiskStore, MemoryStore, ShapeStore
from tests.waiting import PATIENCE_S

SHAPES: list[Shape] = [Block((3.0, 4.0, 5.0)), Rod(20.0, 3.0, 1.0), bead([(0, 0, 0), (9, 0, 0)])]
ANGLE = 0.05


def same(a: Record, b: Record) -> bool:
    """Whether two records hold the same numbers to the last bit."""
    pairs = [
        (a.body.centre, b.body.centre),
        (a.body.inertia, b.body.inertia),
        (a.vertices, b.vertices),
        (a.faces, b.faces),
    ]
    return a.body.mass == b.body.mass and all(np.array_equal(x, y) and x.dtype == y.dtype for x, y in pairs)


@pytest.fixture
def disk(tmp_path: Path) -> DiskStore:
    """An empty store."""
    return DiskStore(tmp_path / "cache" / "shapes")


@pytest.mark.parametrize("kind", ["memory", "disk"])
def test_store_gives_back_what_was_put(kind: str, disk: DiskStore) -> None:
    """Body and display mesh come back bit for bit; an unknown key gives nothing."""
    store: ShapeStore = MemoryStore() if kind == "memory" else disk
    for shape in SHAPES:
        name, record = key(shape, ANGLE), measure(shape)
        assert store.get(name) is None
        assert store.body(name) is None
        store.put(name, record)
        stored, body = store.get(name), store.body(name)
        assert stored is not None and same(stored, record)
        assert body is not None and same(Record(body, record.vertices, record.faces), record)


def test_equal_shapes_are_built_once(disk: DiskStore) -> None:
    """Two parts of one drawing: one built, none loaded; in the next run none built, one loaded."""
    panel = Panel(rectangle(0, 0, 30, 20), 3.0)
    first = Shapes(disk)
    bodies = [first.body(Panel(rectangle(0, 0, 30, 20), 3.0), name) for name in ("left rib", "right rib")]
    assert (first.built, first.loaded) == (1, 0)
    assert bodies[0] is bodies[1]
    assert first.record(panel, "left rib").body is bodies[0]
    second = Shapes(disk)
    assert second.body(panel, "left rib").mass == bodies[0].mass
    assert len(second.record(panel, "left rib").faces) == 12
    assert (second.built, second.loaded) == (0, 1)


def test_key_follows_the_drawing_the_fineness_and_the_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """Anything that could change the numbers changes the name under which they are kept."""
    panel = Panel(rectangle(0, 0, 30, 20), 3.0)
    others = [Panel(rectangle(0, 0, 30, 20.000001), 3.0), Panel(rectangle(0, 0, 30, 20), 3.1), Block((30.0, 20.0, 3.0))]
    names = {key(panel, ANGLE), key(panel, 0.06), *(key(other, ANGLE) for other in others)}
    assert len(names) == 5
    assert key(Panel(rectangle(0, 0, 30, 20), 3.0), ANGLE) == key(panel, ANGLE)
    before = key(panel, ANGLE)
    monkeypatch.setattr(measured, "_version", "another")
    assert key(panel, ANGLE) != before


def test_version_covers_every_file_that_measures() -> None:
    """Whatever airframe.shapes imports, near or far, is part of the version, or holds no arithmetic of shapes."""
    code = "import sys, airframe.shapes; print(*sorted(m[9:] for m in sys.modules if m.startswith('airframe.')))"
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    words_and_weights_only = {"materials", "plugins", "ruler", "units"}
    imported = {name.partition(".")[0] for name in result.stdout.split()}
    assert imported - words_and_weights_only <= set(measured._MEASURING_FILES)


def test_damaged_files_count_as_missing_and_are_rebuilt(disk: DiskStore) -> None:
    """Cut short anywhere, or with any byte changed, an entry never gives wrong numbers."""
    shape = SHAPES[0]
    name, record = key(shape, ANGLE), measure(shape)
    disk.put(name, record)
    path = disk.folder / name
    whole = path.read_bytes()
    damaged = [whole[:n] for n in (0, 1, 7, 60, 115, 130, len(whole) - 1)] + [whole + b"x", b"\0" * len(whole)]
    damaged += [whole[:i] + bytes([whole[i] ^ 0x10]) + whole[i + 1 :] for i in range(0, len(whole), 5)]
    for data in damaged:
        path.write_bytes(data)
        assert disk.get(name) is None
        body = disk.body(name)
        assert body is None or same(Record(body, record.vertices, record.faces), record)
    shapes = Shapes(disk)
    shapes.record(shape, "block")
    assert shapes.built == 1
    assert path.read_bytes() == whole


def test_folder_in_the_way_of_an_entry_is_no_harm(disk: DiskStore) -> None:
    """A folder where a file should be reads as missing, and cannot be replaced."""
    name = key(SHAPES[0], ANGLE)
    (disk.folder / name).mkdir(parents=True)
    assert disk.body(name) is None
    disk.put(name, measure(SHAPES[0]))
    assert [path.name for path in disk.folder.iterdir()] == [name]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES])
@pytest.mark.parametrize("call", ["write_bytes", "replace", "mkdir", "iterdir"])
def test_full_disk_or_read_only_folder_means_no_cache(
    disk: DiskStore, monkeypatch: pytest.MonkeyPatch, number: int, call: str
) -> None:
    """Whatever the system refuses, the shape is weighed and nothing half-written stays."""

    def refuse(*args: Any, **kwargs: Any) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, call, refuse)
    shapes = Shapes(disk)
    assert shapes.body(SHAPES[0], "block").mass == pytest.approx(60.0)
    monkeypatch.undo()
    assert not list(disk.folder.glob("*.tmp"))


def test_half_written_file_is_removed_when_interrupted(disk: DiskStore, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C between writing and renaming leaves the folder clean."""

    def interrupt(*args: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        disk.put("k", measure(SHAPES[0]))
    assert list(disk.folder.iterdir()) == []


def test_folder_that_is_a_file_means_no_cache(tmp_path: Path) -> None:
    """A cache folder that cannot exist is as good as none."""
    (tmp_path / "file").write_text("in the way")
    shapes = Shapes(DiskStore(tmp_path / "file" / "shapes"))
    assert shapes.body(SHAPES[0], "block").mass == pytest.approx(60.0)
    assert shapes.built == 1


def test_folder_stays_within_its_limit_and_keeps_what_was_used_last(tmp_path: Path) -> None:
    """The longest unused go first, down to the stated share of the limit."""
    record = measure(SHAPES[0])
    size = len(packed(record))
    disk = DiskStore(tmp_path, limit_bytes=10 * size)
    for i in range(10):
        disk.put(f"old {i}", record)
        os.utime(tmp_path / f"old {i}", (1e9 + i, 1e9 + i))
    assert disk.body("old 0") is not None  # using it makes it the youngest
    disk.put("new", record)
    left = {path.name for path in tmp_path.iterdir()}
    assert {"old 0", "new"} <= left
    assert "old 1" not in left
    assert sum(path.stat().st_size for path in tmp_path.iterdir()) <= 8 * size


def test_leavings_of_a_dead_process_are_swept(tmp_path: Path) -> None:
    """A temporary file of yesterday goes, one of this minute stays: its writer may be alive."""
    for name, age in (("dead.tmp", 86400.0), ("alive.tmp", 1.0)):
        (tmp_path / name).write_bytes(b"half")
        os.utime(tmp_path / name, (time.time() - age,) * 2)
    DiskStore(tmp_path).put("k", measure(SHAPES[0]))
    assert {path.name for path in tmp_path.iterdir()} == {"k", "alive.tmp"}


WRITER = """
import sys
from pathlib import Path
from airframe.shapes import measure
from airframe.drawing import Rod
from airframe.store import DiskStore
disk = DiskStore(Path(sys.argv[1]), limit_bytes=60_000)
record = measure(Rod(20.0, 3.0))
for i in range(300):
    disk.put(f"k{i % 12}", record)
    read = disk.get(f"k{(i * 7) % 12}")
    assert read is None or read.body.mass == record.body.mass
"""


def test_processes_that_write_at_once_do_not_disturb_each_other(tmp_path: Path) -> None:
    """Three writers share a folder that is always overfull: no error, no half file, only whole entries."""
    command = [sys.executable, "-c", WRITER, str(tmp_path)]
    writers = [subprocess.Popen(command, stderr=subprocess.PIPE, text=True) for _ in range(3)]
    for writer in writers:
        _, errors = writer.communicate(timeout=PATIENCE_S)
        assert writer.returncode == 0, errors
    assert not list(tmp_path.glob("*.tmp"))
    disk = DiskStore(tmp_path)
    kept = list(tmp_path.iterdir())
    assert kept
    assert all(disk.get(path.name) is not None for path in kept)


def test_error_names_the_part_that_asked() -> None:
    """A drawing does not know whose it is; the one who asks does."""
    shapes = Shapes(MemoryStore())
    for ask in (shapes.body, shapes.record):
        with pytest.raises(PartError, match="tail skid: the wire doubles back") as caught:
            ask(Wire(((0, 0, 0), (9, 0, 0), (0, 0, 0)), 1.0, 1.0), "tail skid")
        assert caught.value.part == "tail skid"
    assert shapes.built == 0


def test_default_folder_is_the_user_s_cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Named after the tool, in the place that the system keeps for caches, unless the person names another."""
    monkeypatch.delenv("AIRFRAME_CACHE")
    assert DiskStore().folder.parts[-2:] == ("airframe", "shapes")
    monkeypatch.setenv("AIRFRAME_CACHE", str(tmp_path))
    assert DiskStore().folder == tmp_path


WARM = """
import sys
from pathlib import Path
from airframe.drawing import Panel, rectangle, score
from airframe.measured import Shapes
from airframe.store import DiskStore
panels = [Panel(rectangle(0, 0, 300 + i, 80), 5.0, scores=(score((40, 0), (40, 80), 0.3),)) for i in range(80)]
shapes = Shapes(DiskStore(Path(sys.argv[1])))
for panel in panels:
    shapes.body(panel, "panel")
heavy = [m for m in ("cadquery", "OCP", "trimesh", "shapely", "scipy", "vtkmodules") if m in sys.modules]
print(shapes.built, shapes.loaded, heavy or "light")
"""


def test_unchanged_shapes_are_read_without_any_heavy_library(tmp_path: Path) -> None:
    """Eighty bodies from disk: none built, no CAD kernel and no mesh library imported."""
    record = measure(SHAPES[0])
    disk = DiskStore(tmp_path)
    for i in range(80):
        panel = Panel(rectangle(0, 0, 300 + i, 80), 5.0, scores=(score((40, 0), (40, 80), 0.3),))
        disk.put(key(panel, ANGLE), record)
    result = subprocess.run([sys.executable, "-c", WARM, str(tmp_path)], capture_output=True, text=True, check=True)
    built, loaded, heavy = result.stdout.split()
    assert (built, loaded, heavy) == ("0", "80", "light")


def test_a_full_memory_forgets_the_longest_unused() -> None:
    """Two are kept; what was asked for last stays, and what is kept behind is found again."""
    records = {name: measure(Block((size, 1.0, 1.0))) for name, size in (("a", 1.0), ("b", 2.0), ("c", 3.0))}
    alone, behind = MemoryStore(limit=2), MemoryStore()
    backed = MemoryStore(behind, limit=2)
    for store in (alone, backed):
        store.put("a", records["a"])
        store.put("b", records["b"])
        assert store.get("a") is records["a"]
        store.put("c", records["c"])
        assert store.get("a") is records["a"]
        assert store.get("c") is records["c"]
    assert alone.get("b") is None
    assert backed.get("b") is records["b"]
