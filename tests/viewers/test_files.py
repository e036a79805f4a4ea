"""Exports, read back by programs that know nothing of us."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest

from airframe.model import Aeroplane
from airframe.writing import WriteError
from viewers import files
from viewers.scene import Scene


def named_solids(path: Path) -> dict[str, tuple[float, tuple[float, float, float]]]:
    """Volume and centre of each named solid of a STEP file, as the kernel reads it."""
    import cadquery as cq
    from OCP.STEPCAFControl import STEPCAFControl_Reader
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDF import TDF_LabelSequence
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("read"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.ReadFile(str(path))
    reader.Transfer(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    labels = TDF_LabelSequence()
    tool.GetFreeShapes(labels)
    found = {}
    for number in range(1, labels.Length() + 1):
        name = TDataStd_Name()
        labels.Value(number).FindAttribute(TDataStd_Name.GetID_s(), name)
        shape = cq.Shape.cast(tool.GetShape_s(labels.Value(number)))
        assert len(shape.Solids()) == 1
        found[name.Get().ToExtString()] = (shape.Volume(), shape.Center().toTuple())
    return found


def test_step_gives_back_every_part(aeroplane: Aeroplane, tmp_path: Path) -> None:
    """Re-read by the kernel: the same names, the same volumes, each in its place; mirrored parts too.

    The kernel's volume is exact, the weighed mesh's is within 2e-4 of it.
    """
    path = tmp_path / "plane.step"
    path.write_bytes(files.step(aeroplane))
    read = named_solids(path)
    entries = {entry.part.name: entry for entry in aeroplane.statement.entries if entry.volume_mm3 is not None}
    assert set(read) == set(entries)
    for name, (volume, centre) in read.items():
        assert volume == pytest.approx(entries[name].volume_mm3, rel=3e-4), name
        np.testing.assert_allclose(centre, entries[name].body.centre, atol=0.02, err_msg=name)


def test_glb_has_named_nodes_in_metres(scene: Scene, aeroplane: Aeroplane) -> None:
    """Loaded again: one node a body, left wing +x, up +y, nose +z, metres, normals of unit length."""
    import trimesh

    loaded = trimesh.load(io.BytesIO(files.glb(scene)), file_type="glb")
    assert set(loaded.graph.nodes_geometry) == {body.name for body in scene.bodies}
    for body in scene.bodies:
        low, high = body.vertices.min(axis=0) / 1000.0, body.vertices.max(axis=0) / 1000.0
        bounds = loaded.geometry[body.name].bounds
        np.testing.assert_allclose(bounds[0], (-high[1], low[2], -high[0]), atol=1e-6)
        np.testing.assert_allclose(bounds[1], (-low[1], high[2], -low[0]), atol=1e-6)
    data = files.glb(scene)
    assert b'"NORMAL"' in data and b'"metallicFactor":0' in data.replace(b" ", b"")


def test_stl_is_one_mesh_of_all_bodies(scene: Scene) -> None:
    """The binary file holds every triangle once and encloses the bodies' volumes."""
    import trimesh

    data = files.stl(scene)
    count = sum(len(body.faces) for body in scene.bodies)
    assert len(data) == 84 + 50 * count
    loaded = trimesh.load(io.BytesIO(data), file_type="stl")
    whole = sum(trimesh.Trimesh(body.vertices, body.faces).volume for body in scene.bodies)
    assert loaded.volume == pytest.approx(whole, rel=1e-5)


def test_face_normals_point_by_the_right_hand() -> None:
    """A triangle counter-clockwise in the x-y plane looks up; one without area has no normal."""
    flat = np.array([[[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 0, 0], [1, 0, 0], [2, 0, 0]]], dtype=float)
    np.testing.assert_allclose(files.face_normals(flat), [[0, 0, 1], [0, 0, 0]])


def test_another_ending_is_refused(aeroplane: Aeroplane, scene: Scene, tmp_path: Path) -> None:
    """The message lists the endings that would do, and nothing is written."""
    with pytest.raises(files.ExportError, match=r"\.step, \.stp, \.stl, \.glb"):
        files.export(aeroplane, lambda: scene, tmp_path / "plane.obj")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("ending", [".stl", ".step"])
def test_a_failed_write_leaves_the_old_file(aeroplane, scene, tmp_path, monkeypatch, ending) -> None:
    """A disk that fills up while writing leaves the old content and no stray file."""
    path = tmp_path / f"plane{ending}"
    path.write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(WriteError, match="no space left"):
        files.export(aeroplane, lambda: scene, path)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]
