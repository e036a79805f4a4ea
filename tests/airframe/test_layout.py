"""Positions that every family shares."""

from __future__ import annotations

import itertools
from math import cos, radians, tan

import numpy as np
import pytest

from airframe.layout import Layout
from tests.designs import plain


def test_fuselage_lines_interpolate_the_station_table() -> None:
    """Between two stations a straight line runs straight."""
    design = plain()
    rows = design.fuselage.stations
    layout = Layout(design)
    for a, b in itertools.pairwise(rows):
        middle = (a.station_mm + b.station_mm) / 2
        assert layout.water_line_mm("top", middle) == pytest.approx((a.top_mm + b.top_mm) / 2)
        assert layout.water_line_mm("bottom", middle) == pytest.approx((a.bottom_mm + b.bottom_mm) / 2)


def test_wing_and_tail_rest_on_what_stands_highest() -> None:
    """On a ridge 6 mm above the chord of the top line the wing rests at the ridge; on an "over" deck, on the deck.

    Ridge at half of the chord between two ends of one height: the wing lies level, 6 mm above its ends.
    """
    heights = {0: 40, 120: 40, 220: 46, 320: 40, 600: 40}
    stations = [{"station": f"{x} mm", "top": f"{z} mm", "bottom": "-40 mm"} for x, z in heights.items()]
    deck = {"name": "rear deck", "face": "top", "fit": "over", "from_station": "400 mm", "to_station": "600 mm"}
    layout = Layout(plain(fuselage={"stations": stations, "decks": [deck]}))
    assert layout.wing_incidence_rad == 0.0
    assert layout.wing_place.origin[2] == pytest.approx(46.0)
    assert layout.stabiliser_place.origin[2] == pytest.approx(40.0 + 5.0)
    assert Layout(plain(fuselage={"stations": stations})).stabiliser_place.origin[2] == pytest.approx(40.0)


@pytest.mark.parametrize("incidence", [-3.0, 0.0, 4.0])
def test_a_stated_incidence_lifts_one_edge_off_a_level_top(incidence: float) -> None:
    """Leading edge up, the wing rests on its trailing edge; leading edge down, on its leading edge."""
    layout = Layout(plain(wing={"incidence": f"{incidence} deg"}))
    lift = max(200.0 * np.sin(radians(incidence)), 0.0)
    assert layout.wing_place.origin[2] == pytest.approx(40.0 + lift)


def test_mean_chord_of_a_trapezoid() -> None:
    """Against the textbook form 2/3 c (1 + t + t^2) / (1 + t) for one tapered panel (Anderson, from memory)."""
    chord, taper, span = 200.0, 0.6, 450.0
    design = plain(
        wing={
            "root_chord": f"{chord} mm",
            "station": "120 mm",
            "incidence": "0 deg",
            "panels": [{"span": f"{span} mm", "tip_chord": f"{chord * taper} mm", "sweep": "5 deg"}],
        }
    )
    mean = Layout(design).mean_chord
    assert mean.length_mm == pytest.approx(2 / 3 * chord * (1 + taper + taper**2) / (1 + taper))
    assert mean.area_mm2 == pytest.approx(span * chord * (1 + taper))
    lateral = span / 3 * (1 + 2 * taper) / (1 + taper)
    assert mean.leading_edge_mm == pytest.approx(120.0 + lateral * tan(radians(5)))


def test_dihedral_shortens_the_span_not_the_panel() -> None:
    """The shadow of a raised panel is its length times the cosine of its dihedral."""
    design = plain(
        wing={
            "root_chord": "200 mm",
            "station": "120 mm",
            "panels": [{"span": "300 mm"}, {"span": "150 mm", "dihedral": "16 deg"}],
        }
    )
    layout = Layout(design)
    assert layout.mean_chord.span_mm == pytest.approx(2 * (300 + 150 * cos(radians(16))))
    tip = layout.wing_panels[1]
    root = tip.place.origin
    end = tip.place.apply((tip.tip_offset_mm, tip.span_mm, 0.0))
    assert np.linalg.norm(end - root) == pytest.approx(150.0)


def test_neighbouring_panels_share_their_joint_plane() -> None:
    """The joint plane of two panels is one plane, seen from either frame."""
    design = plain(
        wing={
            "root_chord": "200 mm",
            "station": "120 mm",
            "panels": [{"span": "300 mm", "dihedral": "3 deg"}, {"span": "150 mm", "dihedral": "16 deg"}],
        }
    )
    inner, outer = Layout(design).wing_panels
    assert inner.place.turn(inner.tip_cut) == pytest.approx(outer.place.turn(outer.root_cut))
    assert inner.place.turn(inner.root_cut) == pytest.approx((0.0, 1.0, 0.0))


def test_thrust_angles_turn_the_propeller_the_right_way() -> None:
    """Down thrust puts the propeller below the thrust line, right thrust to the right wing."""
    layout = Layout(plain(fuselage__firewall={"down_thrust": "3 deg", "right_thrust": "2 deg"}))
    x, y, z = layout.thrust_place.apply((-100.0, 0.0, 0.0))
    assert x < 0 < y
    assert z < 0
    assert z == pytest.approx(-100 * np.sin(radians(3)))


def test_clear_width_inside_board_sides() -> None:
    """A 2 1/2 in figure fits a 3 in fuselage with 3/16 in sides: 2 5/8 in clear (common practice, no source)."""
    layout = Layout(plain(fuselage={"width": "3 in", "material": "foam board 3/16 in"}))
    clear = 2 * layout.inner_half_width_mm(100.0)
    assert clear == pytest.approx(2.625 * 25.4)
    assert clear > 2.5 * 25.4
