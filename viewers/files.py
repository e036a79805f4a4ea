"""Exports for other programs: STEP for CAD, STL for one mesh, GLB for viewers; each file whole or not at all."""

from __future__ import annotations

import contextlib
import struct
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from airframe.axes import Array
from airframe.writing import write_whole
from viewers.palette import LOOKS, rgb
from viewers.scene import Body, Scene

if TYPE_CHECKING:
    from airframe.model import Aeroplane

M_PER_MM = 1e-3
GLTF_AXES = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])
"""glTF looks along +z with +y up and +x to the left hand: left wing, up, forward."""
ROUGHNESS = 0.85
ENDINGS = (".step", ".stp", ".stl", ".glb")


class ExportError(ValueError):
    """A file that cannot be exported as asked; the message says what would do."""


def check_ending(path: Path) -> None:
    """Raise ExportError unless the file's ending names a format that can be written."""
    if path.suffix.lower() not in ENDINGS:
        message = f"cannot export to '{path.name}'; the name must end in {', '.join(ENDINGS)}"
        raise ExportError(message)


def export(aeroplane: Aeroplane, scene: Callable[[], Scene], path: Path) -> None:
    """Write the aeroplane in the format that the file's ending names; `scene` is only made where meshes are needed.

    Raises ExportError for another ending, WriteError where the file cannot be written.
    """
    check_ending(path)
    ending = path.suffix.lower()
    if ending == ".stl":
        data = stl(scene())
    elif ending == ".glb":
        data = glb(scene())
    else:
        data = step(aeroplane)
    write_whole(path, data)


# --- STEP --------------------------------------------------------------------------------------------------


def step(aeroplane: Aeroplane) -> bytes:
    """One named solid for each part that has a volume, aeroplane's frame, millimetres, coloured.

    Mirrored parts are solids of their own, mirrored in truth: other kernels need not know the trick.
    """
    from OCP.IFSelect import IFSelect_ReturnStatus
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFApp import XCAFApp_Application

    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    XCAFApp_Application.GetApplication_s().InitDocument(document)
    _fill(document, aeroplane)
    writer = STEPCAFControl_Writer()
    writer.SetNameMode(True)
    writer.SetColorMode(True)
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "aeroplane.step"
        writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
        _sign(writer, aeroplane.design.name)
        with _quiet_kernel():
            status = writer.Write(str(path))
        if status != IFSelect_ReturnStatus.IFSelect_RetDone:
            message = f"the CAD kernel could not write the STEP file ({status.name}); is the disk of {folder} full?"
            raise ExportError(message)
        return path.read_bytes()


def _fill(document: Any, aeroplane: Aeroplane) -> None:
    from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    for entry in aeroplane.statement.entries:
        if entry.volume_mm3 is None:
            continue
        label = shapes.AddShape(aeroplane.solid(entry.part).wrapped, False)
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(entry.part.name, True))
        red, green, blue = (value / 255.0 for value in rgb(LOOKS[entry.part.material.look].colour))
        colour = Quantity_Color(red, green, blue, Quantity_TypeOfColor.Quantity_TOC_sRGB)
        colours.SetColor(label, colour, XCAFDoc_ColorType.XCAFDoc_ColorSurf)


def _sign(writer: Any, name: str) -> None:
    """Fill in the file's header: what it is and what wrote it, and nothing about the person or the machine."""
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.TCollection import TCollection_HAsciiString

    header = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
    plain = TCollection_HAsciiString(name.encode("ascii", "replace").decode("ascii"))
    blank = TCollection_HAsciiString("")
    header.SetName(plain)
    header.SetDescriptionValue(1, plain)
    header.SetAuthorValue(1, blank)
    header.SetOrganizationValue(1, blank)
    header.SetAuthorisation(blank)
    header.SetOriginatingSystem(TCollection_HAsciiString("airframe"))


@contextlib.contextmanager
def _quiet_kernel() -> Any:
    """The kernel reports its progress on standard output, where only results belong: it is held silent."""
    from OCP.Message import Message, Message_Gravity

    printers = list(Message.DefaultMessenger_s().Printers())
    levels = [printer.GetTraceLevel() for printer in printers]
    for printer in printers:
        printer.SetTraceLevel(Message_Gravity.Message_Fail)
    try:
        yield
    finally:
        for printer, level in zip(printers, levels, strict=True):
            printer.SetTraceLevel(level)


# --- meshes -------------------------------------------------------------------------------------------------


def stl(scene: Scene) -> bytes:
    """One mesh of all bodies as binary STL, millimetres, aeroplane's frame; round things have flats, as in pictures."""
    corners = np.concatenate([body.vertices[body.faces] for body in scene.bodies] or [np.zeros((0, 3, 3))])
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("extra", "<u2")])
    facets = np.zeros(len(corners), record)
    facets["normal"] = face_normals(corners)
    facets["corners"] = corners
    header = f"{scene.title}: one mesh, millimetres".encode("ascii", "replace")[:80].ljust(80, b" ")
    return header + struct.pack("<I", len(facets)) + facets.tobytes()


def face_normals(corners: Array) -> Array:
    """Unit normals (n, 3) of triangles (n, 3, 3); zero for one without area."""
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(across, axis=1, keepdims=True)
    normals: Array = np.divide(across, size, out=np.zeros_like(across), where=size > 0.0)
    return normals


def glb(scene: Scene) -> bytes:
    """Binary glTF 2.0: one named node a body, metres, y up and z forward as the format asks, flat normals."""
    import trimesh

    assembly = trimesh.Scene()
    for body in scene.bodies:
        assembly.add_geometry(_gltf_mesh(body), node_name=body.name, geom_name=body.name)
    data = assembly.export(file_type="glb", include_normals=True)
    return bytes(data)


def _gltf_mesh(body: Body) -> Any:
    import trimesh

    corners = body.vertices[body.faces] @ GLTF_AXES.T * M_PER_MM
    tint = body.tint
    material = trimesh.visual.material.PBRMaterial(
        name=body.material,
        baseColorFactor=[*rgb(tint.colour), round(255 * tint.opacity)],
        metallicFactor=0.0,
        roughnessFactor=ROUGHNESS,
        doubleSided=tint.opacity < 1.0,
        alphaMode="BLEND" if tint.opacity < 1.0 else "OPAQUE",
    )
    # Every face has corners of its own, so that each shows flat.
    return trimesh.Trimesh(
        corners.reshape(-1, 3),
        np.arange(3 * len(corners)).reshape(-1, 3),
        vertex_normals=np.repeat(face_normals(corners), 3, axis=0),
        visual=trimesh.visual.TextureVisuals(material=material),
        process=False,
    )
