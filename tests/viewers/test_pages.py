"""The turnable model and the report: whole in one file, and safe with any name."""

from __future__ import annotations

import base64
import json
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from airframe.model import Aeroplane
from viewers import report, turnable, weight_tables
from viewers.scene import Scene

CHROMIUM = shutil.which("chromium")


def without_library(page: str) -> str:
    """The page less the 3D library, whose licence and error texts may hold addresses."""
    return page.replace(turnable.library(), "")


def model_in(page: str) -> dict:
    """The model's data as the page's own script reads it."""
    found = re.search(r'<script type="application/json" id="model">(.*?)</script>', page, re.DOTALL)
    assert found is not None
    return json.loads(found[1])


def test_page_asks_for_nothing(scene: Scene) -> None:
    """No address of any kind stands in the page, and its policy forbids every request."""
    page = without_library(turnable.page(scene))
    assert "://" not in page
    assert not re.search(r"\b(src|href)\s*=", page)
    assert "default-src 'none'" in page


def test_page_holds_the_meshes_exactly(scene: Scene) -> None:
    """Decoded again, corners and faces are those of the scene in single precision."""
    parts = model_in(turnable.page(scene))["parts"]
    for part, body in zip(parts, scene.bodies, strict=False):
        corners = np.frombuffer(base64.b64decode(part["positions"]), "<f4").reshape(-1, 3)
        faces = np.frombuffer(base64.b64decode(part["index"]), "<u4").reshape(-1, 3)
        np.testing.assert_array_equal(corners, body.vertices.astype("<f4"))
        np.testing.assert_array_equal(faces, body.faces)


def test_page_knows_what_goes_with_what(scene: Scene) -> None:
    """The fin's paint goes and moves with the fin; "see through" takes foam and paint, not the battery."""
    parts = {part["name"]: part for part in model_in(turnable.page(scene))["parts"]}
    paint = parts["acrylic paint, fin"]
    assert paint["coats"] == parts["fin"]["group"] == "tail"
    assert paint["centre"] == parts["fin"]["centre"]
    assert paint["skin"] and parts["fin"]["skin"] and not parts["battery"]["skin"]
    assert "coats" not in parts["fin"]


def test_page_lists_every_part_for_keyboard_and_reader(scene: Scene) -> None:
    """Each part is a button that can take the focus; the canvas and the check boxes are named."""
    page = turnable.page(scene)
    assert page.count('<button type="button" data-part=') == len(scene.bodies) + len(scene.lines) + len(scene.coats)
    assert re.search(r'<canvas[^>]*tabindex="0"[^>]*aria-label="[^"]+"', page)
    assert all("aria-label" in tag for tag in re.findall(r"<input [^>]*data-group[^>]*>", page))


def test_a_hostile_name_stays_text(scene: Scene) -> None:
    """A name with markup neither ends the script nor becomes an element."""
    nasty = '</script><img src=x onerror="alert(1)">'
    body = replace(scene.bodies[0], name=nasty)
    page = without_library(turnable.page(replace(scene, title=nasty, bodies=(body, *scene.bodies[1:]))))
    assert "<img" not in page
    assert model_in(page)["parts"][0]["name"] == nasty


def test_type_is_large_enough() -> None:
    """No lettering in the pages' style sheets is smaller than 14 px."""
    for name in ("turnable.css", "report.css"):
        style = (Path(turnable.__file__).parent / name).read_text("utf-8").split("@media print")[0]
        sizes = [float(size) for size in re.findall(r"font(?:-size)?:[^;]*?(\d+(?:\.\d+)?)px", style)]
        assert sizes and min(sizes) >= 14


def test_a_changed_library_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """If the installed package carries something else, the message says what to install."""
    import zipfile

    folder = tmp_path / "resources" / "templates"
    folder.mkdir(parents=True)
    with zipfile.ZipFile(folder / "viewer.zip", "w") as archive:
        archive.writestr("viewer.html.template", "<html>something else</html>")
    monkeypatch.setattr(turnable, "files", lambda _: tmp_path)
    turnable.library.cache_clear()
    try:
        with pytest.raises(turnable.PageError, match="trimesh"):
            turnable.library()
    finally:
        turnable.library.cache_clear()


@pytest.fixture(scope="module")
def page(aeroplane: Aeroplane, scene: Scene) -> str:
    """A report with pictures of a single pixel."""
    dot = base64.b64decode(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
    )
    return report.report(report.Subject(aeroplane, ()), {"sheet": dot, "three-quarter": dot}, turnable.page(scene))


def test_report_asks_for_nothing(page: str) -> None:
    """Every picture is inline and nothing else is fetched."""
    from html import escape

    own = page.replace(escape(turnable.library()), "").replace(escape(turnable.library(), quote=True), "")
    assert all(source.startswith("data:image/png;base64,") for source in re.findall(r'<img src="([^"]*)"', own))
    assert not re.search(r"<(?:script|link)[^>]*\b(?:src|href)=", own)


def test_report_says_what_matters(page: str, aeroplane: Aeroplane) -> None:
    """Headline figures, every part, sources of the materials used, and the caution; never a promise."""
    for item in weight_tables.headlines(aeroplane):
        assert f">{item.value}<" in page
    for part in aeroplane.parts:
        assert f">{part.name}<".replace("'", "&#39;") in page
    assert "propeller cuts" in page and "experience" in page and "local rules" in page
    assert "safe to fly" not in page


def test_bars_are_in_proportion(page: str, aeroplane: Aeroplane) -> None:
    """The heaviest group's bar is full, each other one in proportion."""
    bars = [float(share) for share in re.findall(r"--share: ([\d.]+)", page)]
    masses = np.array([body.mass for body in aeroplane.statement.groups.values()])
    np.testing.assert_allclose(bars, masses / masses.max(), atol=1e-4)


@pytest.mark.slow
@pytest.mark.skipif(CHROMIUM is None, reason="no browser here")
def test_page_draws_in_a_browser(scene: Scene, tmp_path: Path) -> None:
    """Opened from the disk with the network off, the page shows the foam's colour."""
    from PIL import Image

    (tmp_path / "model.html").write_text(turnable.page(scene), encoding="utf-8")
    shot = tmp_path / "shot.png"
    flags = (
        "--headless --no-sandbox --disable-gpu --enable-unsafe-swiftshader --disable-quic --no-first-run "
        "--disable-background-networking --disable-component-update --disable-sync --virtual-time-budget=5000"
    )
    command = [str(CHROMIUM), *flags.split(), f"--user-data-dir={tmp_path / 'profile'}", f"--screenshot={shot}"]
    subprocess.run([*command, (tmp_path / "model.html").as_uri()], check=True, capture_output=True, timeout=600)
    image = np.asarray(Image.open(shot).convert("RGB"), dtype=int)
    bluish = (image[:, :, 2] > image[:, :, 0] + 30) & (image[:, :, 2] > 150)
    assert bluish.mean() > 0.01
