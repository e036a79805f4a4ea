"""The studio: an aeroplane's bodies and lines in front of an off-screen camera."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Sequence
from functools import cached_property
from types import TracebackType
from typing import TYPE_CHECKING, Any

import numpy as np

from airframe.axes import Array
from viewers.edges import inked
from viewers.palette import DISC, INK, LOOKS, Tint
from viewers.scene import Body, Scene
from viewers.views import Frame

if TYPE_CHECKING:
    from PIL import Image

LINE_WIDTHS = {"glue": 1.2, "rubber": 2.6}
"""Pixels on a sheet 1200 high; 1.6 for every other look."""
EDGE_WIDTH = 0.9
AMBIENT, DIFFUSE = 0.62, 0.5
LAMPS = (((-0.5, 1.0, 0.8), 0.62), ((0.1, -0.1, 1.0), 0.34))
"""Where the lamps stand, as the reader sees it (right, up, towards), and how bright they are."""


class PictureError(RuntimeError):
    """A picture that cannot be made on this machine; the message says what is missing."""


class Studio:
    """Renders frames of one scene; a context manager, since it holds a window."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene

    def __enter__(self) -> Studio:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if "_plotter" in self.__dict__:
            self._plotter.close()

    @cached_property
    def points(self) -> Array:
        """Every point that must fit into a picture."""
        return self.scene.points()

    def shot(self, frame: Frame, fine: int, weight: float) -> Image.Image:
        """The frame on a transparent ground, `fine` times as large; lines are `weight` times their usual width."""
        from PIL import Image

        plotter = self._plotter
        for actor, width in self._lines:
            actor.prop.line_width = width * weight * fine
        view = frame.view
        depth = self.points @ view.toward
        reach = float(depth.max() - depth.min()) + 10.0
        middle = np.array([view.right, view.up, view.toward]).T @ (*frame.centre, float(depth.mean()))
        camera = plotter.camera
        camera.focal_point = middle
        camera.position = middle + view.toward * 2.0 * reach
        camera.up = view.up
        camera.parallel_scale = frame.height / 2.0 / frame.scale
        camera.clipping_range = (0.5 * reach, 4.0 * reach)
        plotter.window_size = (frame.width * fine, frame.height * fine)
        pixels = plotter.screenshot(transparent_background=True, return_img=True)
        return Image.fromarray(np.ascontiguousarray(pixels), "RGBA")

    @cached_property
    def _plotter(self) -> Any:
        check_graphics()
        import pyvista

        plotter = pyvista.Plotter(off_screen=True, lighting="none")
        for position, strength in LAMPS:
            plotter.add_light(pyvista.Light(position=position, light_type="camera light", intensity=strength))
        plotter.enable_parallel_projection()
        self._add_bodies(plotter)
        self._lines = [*self._add_edges(plotter), *self._add_lines(plotter)]
        self._add_disc(plotter)
        return plotter

    def _add_bodies(self, plotter: Any) -> None:
        # Faces stand back a hair, and coats half a hair, so that what is drawn on them is not half swallowed.
        for bodies, back in ((self.scene.bodies, 1.0), (self.scene.coats, -1.0)):
            for look in self.scene.legend:
                alike = [body for body in bodies if body.look == look]
                if alike:
                    _add_surface(plotter, alike, LOOKS[look], back)

    def _add_edges(self, plotter: Any) -> list[tuple[Any, float]]:
        edges = np.concatenate(
            [inked(body.vertices, body.faces) for body in self.scene.bodies] or [np.zeros((0, 2, 3))]
        )
        return [(_add_segments(plotter, edges, INK, 0.85), EDGE_WIDTH)] if len(edges) else []

    def _add_lines(self, plotter: Any) -> list[tuple[Any, float]]:
        actors = []
        for look in self.scene.legend:
            paths = [path for line in self.scene.lines if line.look == look for path in line.paths if len(path) > 1]
            if paths:
                segments = np.concatenate([np.stack([path[:-1], path[1:]], axis=1) for path in paths])
                actors.append((_add_segments(plotter, segments, LOOKS[look].colour), LINE_WIDTHS.get(look, 1.6)))
        return actors

    def _add_disc(self, plotter: Any) -> None:
        import pyvista

        if self.scene.disc is None:
            return
        rim = self.scene.disc.rim()
        mesh = pyvista.PolyData(rim[:-1], faces=[len(rim) - 1, *range(len(rim) - 1)])
        plotter.add_mesh(mesh, color=DISC, opacity=0.10, lighting=False)
        dashes = np.stack([rim[:-1], rim[1:]], axis=1)[np.arange(len(rim) - 1) % 4 != 3]
        self._lines.append((_add_segments(plotter, dashes, DISC), 1.2))


def _add_surface(plotter: Any, bodies: Sequence[Body], tint: Tint, back: float) -> None:
    """Bodies of one colour; where faces coincide, those with the greater `back` are taken for the further ones."""
    import pyvista

    starts = np.cumsum([0, *(len(body.vertices) for body in bodies)])
    faces = np.vstack([body.faces + start for body, start in zip(bodies, starts, strict=False)])
    mesh = pyvista.PolyData.from_regular_faces(np.vstack([body.vertices for body in bodies]), faces)
    actor = plotter.add_mesh(
        mesh, color=tint.colour, opacity=tint.opacity, ambient=AMBIENT, diffuse=DIFFUSE, lighting=True
    )
    actor.mapper.SetResolveCoincidentTopologyToPolygonOffset()
    actor.mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(back, back)


def _add_segments(plotter: Any, segments: Array, colour: str, opacity: float = 1.0) -> Any:
    import pyvista

    count = len(segments)
    cells = np.column_stack([np.full(count, 2), np.arange(0, 2 * count, 2), np.arange(1, 2 * count, 2)])
    mesh = pyvista.PolyData(segments.reshape(-1, 3), lines=cells.reshape(-1))
    return plotter.add_mesh(mesh, color=colour, opacity=opacity, lighting=False)


def check_graphics() -> None:
    """Make sure that a picture can be drawn without a screen.

    On Linux without a display the window must be an EGL one, and a missing libEGL would end the
    process without a word: so it is tried first. Raises PictureError naming the packages.
    """
    if not sys.platform.startswith("linux") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        return
    try:
        ctypes.CDLL("libEGL.so.1")
    except OSError as error:
        message = (
            "pictures need the graphics library EGL, which this machine lacks; "
            "on Debian or Ubuntu install the packages libgl1 and libegl1"
        )
        raise PictureError(message) from error
    os.environ.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")
