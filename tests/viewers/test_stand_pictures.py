"""Pictures of how an aeroplane stands and of what a redesign changed."""

from __future__ import annotations

from math import degrees

import numpy as np
import pytest

from airframe.checks import ground
from airframe.model import Aeroplane
from tests.designs import plain
from tests.fittings import MOTOR, PROPELLER, gear_data
from tests.viewers.test_stills import pixels, share_near
from viewers import compare_picture, palette, stand_marks
from viewers.compare_picture import fronts, ghost
from viewers.posture import posture
from viewers.scene import Scene
from viewers.stand_picture import stand
from viewers.studio import PictureError
from viewers.views import Margins, framed

SMALL = (900, 640)
ITEMS = {"motor": MOTOR, "propeller": PROPELLER}


def wider() -> Aeroplane:
    """The viewers' aeroplane with its wheels further apart."""
    return Aeroplane(plain(gear=gear_data() | {"track": "320 mm"}, equipment=ITEMS))


def gearless() -> Aeroplane:
    """An aeroplane that lands on its belly."""
    return Aeroplane(plain(equipment=ITEMS))


def test_the_angle_is_true_along_the_tipping_line(aeroplane: Aeroplane) -> None:
    """Seen along the line it tips about, the line is a point, and the drawn angle is the overturn angle itself."""
    stands = posture(aeroplane)
    assert stands is not None
    (start, end), line = stands.worst
    first, last = (stands.along.project(stands.standing.stance.points[k]) for k in (start, end))
    np.testing.assert_allclose(first, last, atol=1e-6)
    across, up = np.abs(stands.along.project(stands.cg) - stands.along.project(stands.foot(line)))
    assert degrees(np.arctan2(up, across)) == pytest.approx(degrees(line.overturn_rad), abs=1e-6)


def test_the_ground_is_level_on_the_paper(aeroplane: Aeroplane) -> None:
    """From ahead, as it stands, all three contact points lie at one height, and the track is true."""
    stands = posture(aeroplane)
    assert stands is not None
    flat = stands.front.project(stands.standing.stance.points)
    np.testing.assert_allclose(flat[:, 1], flat[0, 1], atol=1e-6)
    assert abs(flat[0, 0] - flat[1, 0]) == pytest.approx(stands.standing.track_mm)


def test_stand_shows_views_and_findings(aeroplane: Aeroplane) -> None:
    """Every quarter of the sheet but the list's shows foam; the list has the verdicts' colours."""
    image = pixels(stand(aeroplane, ground.findings(aeroplane), SMALL))
    assert image.shape == (640, 900, 3)
    foam = palette.LOOKS["foam"].colour
    for view in (image[:280, :560], image[300:560, :450], image[300:560, 450:]):
        assert share_near(view, foam) > 0.005
    listed = image[:280, 580:]
    assert share_near(listed, foam) == 0.0
    assert share_near(listed, palette.PAPER_SHADE, 12) > 0.3
    assert share_near(image, palette.DIMENSION) > 1e-4


def test_stand_without_findings_has_no_list(aeroplane: Aeroplane) -> None:
    """The views alone: the room beside the side view is paper."""
    image = pixels(stand(aeroplane, (), SMALL))
    assert share_near(image[20:270, 600:880], palette.PAPER, 12) > 0.99


@pytest.mark.parametrize("third", ["nose wheel", "skid"])
def test_stand_on_other_gears(third: str) -> None:
    """A nose wheel and a tail skid have their sheet too."""
    image = pixels(stand(Aeroplane(plain(gear=gear_data(third), equipment=ITEMS)), (), SMALL))
    assert share_near(image, palette.LOOKS["foam"].colour) > 0.01
    assert share_near(image, palette.DIMENSION) > 1e-4


def test_no_gear_no_sheet() -> None:
    """An aeroplane that stands on nothing is refused with its name."""
    with pytest.raises(PictureError, match="Plain stands on no landing gear"):
        stand(gearless())


def test_fronts_stand_on_one_line(aeroplane: Aeroplane) -> None:
    """Old and new share scale and ground: the lowest tyre pixels of both halves are at one height."""
    image = pixels(fronts(aeroplane, wider(), (1200, 600)))
    rubber = np.abs(image - palette.rgb(palette.LOOKS["rubber"].colour)).max(axis=2) < 40
    field = rubber[:490]
    lowest = [int(np.nonzero(half.any(axis=1))[0].max()) for half in (field[:, :600], field[:, 600:])]
    assert lowest[0] == pytest.approx(lowest[1], abs=2)


def test_fronts_colour_the_verdict(aeroplane: Aeroplane) -> None:
    """The overturn lines of one that tips are red, of one that stands green."""
    image = pixels(fronts(aeroplane, wider(), (1200, 600)))[:490]
    for plane, half in ((aeroplane, image[:, :600]), (wider(), image[:, 600:])):
        stands = posture(plane)
        assert stands is not None
        red, green = (share_near(half, colour, 20) for colour in (stand_marks.FAILS, stand_marks.PASSES))
        assert (green > red) is stands.is_overturn_kept


def test_fronts_without_gear(aeroplane: Aeroplane) -> None:
    """An aeroplane without gear is shown from ahead with its balance point."""
    image = pixels(fronts(gearless(), aeroplane, (1200, 600)))
    assert share_near(image[:490, :600], palette.BALANCE) > 1e-4


def test_the_ghost_shows_where_the_old_one_was(aeroplane: Aeroplane) -> None:
    """A wing that sat higher leaves its tint on the paper; an aeroplane beside itself has none but in its legend."""
    raised = Aeroplane(plain(gear=gear_data(), equipment=ITEMS, wing={"water_line": "80 mm"}))
    still = pixels(ghost(aeroplane, aeroplane, SMALL))[40:500]
    moved = pixels(ghost(raised, aeroplane, SMALL))[40:500]
    paper, ink = (np.array(palette.rgb(colour)) for colour in (palette.PAPER, compare_picture.GHOST))
    red, green, blue = (paper + (ink - paper) * compare_picture.GHOST_ON_PAPER).round().astype(int)
    tint = f"#{red:02x}{green:02x}{blue:02x}"
    assert share_near(moved, tint, 24) > 10.0 * share_near(still, tint, 24)
    assert share_near(moved, palette.LOOKS["foam"].colour) > 0.01


def test_a_ghost_is_all_one_tint() -> None:
    """Faces are pale, paler over the model; edges are strong anywhere; where nothing was, there is nothing."""
    from PIL import Image

    shot = Image.new("RGBA", (4, 1))
    for x, pixel in enumerate([(168, 208, 234, 255), (168, 208, 234, 255), (0, 0, 0, 255), (0, 0, 0, 0)]):
        shot.putpixel((x, 0), pixel)
    model = Image.new("RGBA", (4, 1), (0, 0, 0, 0))
    model.putpixel((1, 0), (10, 20, 30, 255))
    made = np.asarray(compare_picture.pale(shot, model), dtype=int)[0]
    assert (made[:, :3] == palette.rgb(compare_picture.GHOST)).all()
    wanted = (compare_picture.GHOST_ON_PAPER, compare_picture.GHOST_ON_MODEL, compare_picture.GHOST_EDGE, 0.0)
    np.testing.assert_allclose(made[:, 3] / 255.0, wanted, atol=0.5 / 255.0)


def test_a_wing_is_broken_only_where_it_goes_on(scene: Scene, aeroplane: Aeroplane) -> None:
    """The cut at a frame's edge runs through the wing there, and there is none beyond its tip."""
    stands = posture(aeroplane)
    assert stands is not None
    frame = framed(stands.front, scene.points(), (0, 0, 400, 300), Margins(0, 0, 0, 0))
    middle = frame.centre[0]
    assert len(stand_marks._cut(frame, scene, middle + 300.0))
    assert not len(stand_marks._cut(frame, scene, middle + 460.0))


def test_pictures_do_not_change_by_chance(aeroplane: Aeroplane) -> None:
    """Made twice, a picture is the same to the byte."""
    assert fronts(aeroplane, wider(), SMALL) == fronts(aeroplane, wider(), SMALL)
