"""Pictures, judged by their pixels' colours, not by a hash."""

from __future__ import annotations

import ctypes
import io

import numpy as np
import pytest

from viewers import palette, studio
from viewers.scene import Scene
from viewers.stills import picture
from viewers.studio import PictureError, check_graphics
from viewers.titles import BORDER

SMALL = (640, 480)


def pixels(png: bytes) -> np.ndarray:
    """Rows x columns x (red, green, blue) as whole numbers."""
    from PIL import Image

    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"), dtype=int)


def share_near(image: np.ndarray, colour: str, within: int = 40) -> float:
    """Share of the pixels that are nearly this colour."""
    return float(np.mean(np.abs(image - palette.rgb(colour)).max(axis=2) < within))


@pytest.mark.parametrize("name", ["three-quarter", "side", "front", "top"])
def test_view_shows_foam_on_paper_with_marks(scene: Scene, name) -> None:
    """Every view holds paper, a good share of foam, the balance point's colour and the contacts' colour."""
    image = pixels(picture(scene, name, SMALL))
    assert image.shape == (480, 640, 3)
    assert share_near(image, palette.PAPER) > 0.4
    assert share_near(image, palette.LOOKS["foam"].colour) > 0.01
    assert share_near(image, palette.BALANCE) > 3e-4
    assert share_near(image, palette.CONTACT) > 1e-4
    assert share_near(image, palette.DIMENSION) > 4e-5


def test_model_stays_inside_the_border(scene: Scene) -> None:
    """Outside the ruled line there is only paper and the four centring marks."""
    image = pixels(picture(scene, "side", SMALL))
    edge = int(BORDER * 0.4) - 2
    assert share_near(image[:, :edge], palette.PAPER, 30) > 0.97
    assert share_near(image[:, :edge], palette.LOOKS["foam"].colour) == 0.0


def test_sheet_holds_four_views(scene: Scene) -> None:
    """Each quarter of the sheet above the foot shows foam."""
    image = pixels(picture(scene, "sheet", (1000, 707)))
    for rows in (slice(0, 340), slice(340, 600)):
        for columns in (slice(0, 480), slice(520, 1000)):
            assert share_near(image[rows, columns], palette.LOOKS["foam"].colour) > 0.005


def test_same_scene_gives_the_same_picture(scene: Scene) -> None:
    """A picture carries no date and nothing by chance: made twice, it is the same to the byte."""
    assert picture(scene, "front", SMALL) == picture(scene, "front", SMALL)


@pytest.mark.parametrize("size", [(10, 800), (1600, 90000)])
def test_senseless_size_is_refused(scene: Scene, size) -> None:
    """The message says what size would do."""
    with pytest.raises(PictureError, match="320 to 6000 pixels"):
        picture(scene, "side", size)


def test_missing_graphics_library_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without EGL the message names the packages, instead of a crash in the window."""

    def lacking(name: str) -> None:
        raise OSError(f"{name}: cannot open shared object file")

    monkeypatch.setattr(ctypes, "CDLL", lacking)
    monkeypatch.setattr(studio.sys, "platform", "linux")
    for variable in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(variable, raising=False)
    with pytest.raises(PictureError, match="libgl1 and libegl1"):
        check_graphics()


def test_looks_are_told_apart() -> None:
    """Any two materials differ clearly in colour, and all of them from the paper."""
    colours = [np.array(palette.rgb(c)) for c in (*(t.colour for t in palette.LOOKS.values()), palette.PAPER)]
    for i, first in enumerate(colours):
        for second in colours[:i]:
            assert np.linalg.norm(first - second) > 40.0
