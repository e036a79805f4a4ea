"""Pictures of flight: what they show, where, and what of designs that lack something."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from matplotlib.text import Text

import airframe
from airframe.balance.whole import Balances, balances
from airframe.compare.whole import Version, compare
from airframe.config import ConfigError, from_dict
from airframe.drawing import PartError
from airframe.flight.modes import Mode
from airframe.flight.trim import NoTrimError, Trim
from airframe.flight.whole import Flight
from airframe.model import Aeroplane
from airframe.store import MemoryStore
from airframe.units import MM_PER_INCH, N_PER_OZF, STANDARD_GRAVITY_M_S2
from tests.designs import plain
from tests.electric import electric
from tests.space.designs import designs
from viewers import report
from viewers.cli import cli
from viewers.flight_charts import motions
from viewers.flight_charts.margins import margins
from viewers.flight_charts.whole import Charts, charts
from viewers.flight_tables import CAUTIONS
from viewers.staging import stage

CONFIGS = Path(__file__).parents[2] / "configs"
ALL = (
    "forces", "margin", "span-loading", "glide", "power", "motions", "rudder", "stick", "gust-below", "gust-side",
)  # fmt: skip
WITHOUT_POWER = tuple(name for name in ALL if name != "power")
NEED_NO_TRIM = ("glide", "power")
KEPT = MemoryStore()


@cache
def demo(name: str) -> Aeroplane:
    """Read and weighed once for all tests."""
    return airframe.load(CONFIGS / f"{name}.toml")


@cache
def drawn(name: str, old: str = "") -> Charts:
    """All charts of a demo."""
    aeroplane = demo(name)
    return charts(aeroplane, stage(aeroplane), balances(aeroplane), demo(old) if old else None)


def charted(aeroplane: Aeroplane) -> Charts:
    """All charts of any aeroplane, turned into SVG too."""
    found = charts(aeroplane, stage(aeroplane), balances(aeroplane))
    for chart in found.shown:
        ElementTree.fromstring(chart.svg)
    return found


# --- what they show ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "expected"), [("teasel-mk1", ALL), ("teasel-mk2", ALL), ("plover", WITHOUT_POWER)])
def test_every_demo_is_charted(name: str, expected: tuple[str, ...]) -> None:
    """All charts, in order; Plover states no motor data, and is told which."""
    found = drawn(name)
    assert tuple(chart.name for chart in found.shown) == expected
    assert len(found.missing) == len(ALL) - len(expected)
    assert all("kv" in words for words in found.missing)


@pytest.mark.parametrize("name", ["teasel-mk2", "plover"])
def test_charts_can_be_read(name: str) -> None:
    """No lettering below nine points; every chart is called an estimate; axes that are named have a unit or none."""
    for chart in drawn(name).shown:
        chart.figure.canvas.draw()
        texts = [text for text in chart.figure.findobj(Text) if isinstance(text, Text) and text.get_text().strip()]
        assert min(text.get_fontsize() for text in texts) >= 9.0, chart.name
        assert any("stimate" in text.get_text() for text in chart.figure.texts), chart.name
        for ax in chart.figure.axes:
            for words in (ax.get_xlabel(), ax.get_ylabel()):
                assert not words or "," in words or words == "lift coefficient", (chart.name, words)


def test_units_are_those_of_the_design() -> None:
    """Inches, ounces and miles an hour for Plover; millimetres, newton and m/s for Teasel; never the others'."""
    for name, own, foreign in (
        ("plover", {"in", "ozf", "mph", "ft"}, {"ft/s", "mm", "N", "m", "N mm", "m/s"}),
        ("teasel-mk2", {"mm", "N", "m/s", "m"}, {"in", "ozf", "ozf in", "mph", "ft", "ft/s"}),
    ):
        labels = [
            words
            for chart in drawn(name).shown
            for ax in chart.figure.axes
            for words in (ax.get_xlabel(), ax.get_ylabel())
        ]
        units = {part.strip() for words in labels for part in re.split(r"[,\n]|   +", words)}
        assert own <= units
        assert not foreign & units


def test_the_margin_line_tells_the_margin() -> None:
    """Read off at the balance point it is the static margin, at the neutral point nothing; both in the units shown."""
    aeroplane = demo("plover")
    flight = aeroplane.flight
    line = margins(flight, balances(aeroplane), "imperial").axes[0].get_lines()[0]
    leading = aeroplane.design.wing.station_mm
    x, y = line.get_xdata()[::-1], line.get_ydata()[::-1]
    slope = (y[1] - y[0]) / (x[1] - x[0])
    for station, margin in ((aeroplane.cg_mm[0], flight.static_margin()), (flight.neutral_point_mm, 0.0)):
        read = y[0] + slope * ((station - leading) / MM_PER_INCH - x[0])
        assert read == pytest.approx(100.0 * margin, abs=1e-9)


def test_every_root_lies_in_its_frame() -> None:
    """Both roots of old and new lie within the axes, growing ones and standing ones too."""
    new = [Mode("short period", -9.0 + 3.0j), Mode("phugoid", 0.2 + 1.0j), Mode("roll", -20.0 + 0j)]
    new += [Mode("Dutch roll", -1.0 + 5.0j), Mode("spiral", 0.4 + 0j)]
    old = [Mode("short period", -30.0 + 0j), Mode("short period", -4.0 + 0j), Mode("roll and spiral", -2.0 + 9.0j)]
    fig = motions.motions(motions.Motions("new", new), motions.Motions("old", old))
    points = 0
    for ax in fig.axes:
        (left, right), (low, high) = ax.get_xlim(), ax.get_ylim()
        for line in (one for one in ax.get_lines() if one.get_marker() == "o"):
            points += 1
            assert left < line.get_xdata()[0] < right
            assert low < line.get_ydata()[0] < high
    close_up = 3
    assert points == len(new) + len(old) + close_up


def test_a_prototype_stands_beside() -> None:
    """With a prototype its name is in the root plot and beside the wing's lift, and its roots are drawn too."""
    found = {chart.name: chart.figure for chart in drawn("teasel-mk2", "teasel-mk1").shown}
    for name in ("motions", "span-loading"):
        words = " ".join(text.get_text() for text in found[name].findobj(Text) if isinstance(text, Text))
        assert "Teasel Mk 1" in words and "Teasel Mk 2" in words
    assert len(roots_in(found["motions"])) == 2 * len(roots_in(drawn("teasel-mk2").shown[ALL.index("motions")].figure))


def roots_in(figure: Any) -> list[Any]:
    """The marks of roots."""
    return [line for ax in figure.axes for line in ax.get_lines() if line.get_marker() == "o"]


def test_forces_are_told_in_the_design_s_units() -> None:
    """The weight in ounces stands in Plover's picture."""
    flight = demo("plover").flight
    words = [text.get_text() for text in drawn("plover").shown[0].figure.axes[0].texts]
    assert f"weight {flight.mass_kg * STANDARD_GRAVITY_M_S2 / N_PER_OZF:.1f} ozf" in words


# --- where they are shown ---------------------------------------------------------------------------------


def test_a_report_holds_tables_charts_and_cautions() -> None:
    """Every chart inline with its words, what changed from the prototype, and that all this clears nothing to fly."""
    new, old = demo("teasel-mk2"), demo("teasel-mk1")
    shown = drawn("teasel-mk2", "teasel-mk1").shown
    page = report.report(
        report.Subject(new, (), compare(Version(old, {}), Version(new, {}))), {}, "", [chart.svg for chart in shown]
    )
    section = page[page.index('<section class="flight">') :]
    for chart in shown:
        assert f'aria-label="{chart.words}"' in section
    for caution in CAUTIONS:
        assert caution in section
    for title in ("how slowly it flies", "left alone after a gust, at slow cruise", "what drives each change"):
        assert title in section
    names = re.findall(r'\bid="([^"]*)"', page)
    assert len(names) == len(set(names))
    assert len(section) < 1_500_000


def test_a_report_without_charts_has_its_tables(aeroplane: Aeroplane) -> None:
    """It tells what figures on power would need."""
    page = report.report(report.Subject(aeroplane, ()), {}, "")
    assert "how slowly it flies" in page
    assert "No power figures: state the motor&#39;s kv" in page


def test_the_command_writes_charts(tmp_path: Path) -> None:
    """One SVG file a chart; with --json the word of it goes to standard error and the object stays alone."""
    folder = tmp_path / "charts"
    result = CliRunner().invoke(cli, ["flight", str(CONFIGS / "plover.toml"), "--json", "--charts", str(folder)])
    assert result.exit_code == 0, result.output
    assert json.loads(result.stdout)["name"] == "Plover"
    assert f"wrote {len(WITHOUT_POWER)} charts" in result.stderr and "kv" in result.stderr
    assert {path.name for path in folder.iterdir()} == {f"{name}.svg" for name in WITHOUT_POWER}
    for path in folder.iterdir():
        assert ElementTree.parse(path).getroot().tag == "{http://www.w3.org/2000/svg}svg"


def test_charts_of_another_time_go(tmp_path: Path) -> None:
    """What cannot be drawn now is not left there from before; files that are not ours stay."""
    for name in ("power.svg", "forces.svg", "notes.svg"):
        (tmp_path / name).write_text("old")
    result = CliRunner().invoke(cli, ["flight", str(CONFIGS / "plover.toml"), "--charts", str(tmp_path)])
    assert result.exit_code == 0, result.output
    assert not (tmp_path / "power.svg").exists()
    assert (tmp_path / "forces.svg").read_text() != "old"
    assert (tmp_path / "notes.svg").read_text() == "old"


# --- designs that lack something --------------------------------------------------------------------------


def test_a_bare_design_is_charted() -> None:
    """Without gear, motor, propeller and battery all but the power chart are drawn."""
    found = charted(Aeroplane(plain(), KEPT))
    assert tuple(chart.name for chart in found.shown) == WITHOUT_POWER


def test_a_design_with_all_electrical_data_is_charted() -> None:
    """The starter with a measured thrust has every chart."""
    found = charted(Aeroplane(from_dict(electric()), KEPT))
    assert tuple(chart.name for chart in found.shown) == ALL


class Untrimmable(Flight):
    """One that nothing holds level."""

    def trimmed(self, speed_m_s: float) -> Trim:
        """Never."""
        raise NoTrimError("nothing holds it")


def test_without_level_flight_the_rest_is_charted() -> None:
    """Glide and power need no trim; each other chart is named with the reason."""
    aeroplane = Aeroplane(from_dict(electric()), KEPT)
    scene, found = stage(aeroplane), balances(aeroplane)
    aeroplane.__dict__["flight"] = Untrimmable(aeroplane.layout, aeroplane.statement.whole)
    drawn_without = charts(aeroplane, scene, found)
    assert tuple(chart.name for chart in drawn_without.shown) == NEED_NO_TRIM
    assert len(drawn_without.missing) == len(ALL) - len(NEED_NO_TRIM)
    assert all("nothing holds it" in words for words in drawn_without.missing)


def test_a_prototype_that_does_not_fly_level_is_left_out() -> None:
    """The new one's charts are drawn all the same."""
    old = Aeroplane(from_dict(electric()), KEPT)
    old.__dict__["flight"] = Untrimmable(old.layout, old.statement.whole)
    new = Aeroplane(plain(), KEPT)
    found = charts(new, stage(new), balances(new), old)
    assert tuple(chart.name for chart in found.shown) == WITHOUT_POWER


def test_many_cases_leave_room() -> None:
    """Eight rows at most, and the words say how many there are."""
    aeroplane = demo("teasel-mk2")
    few = balances(aeroplane)
    many = Balances(**{**vars(few), "answers": few.answers * 4})
    fig = margins(aeroplane.flight, many, "metric")
    assert len(fig.axes[1].get_yticks()) == 8
    assert any("8 of 16 cases" in text.get_text() for text in fig.texts)


@pytest.mark.slow
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(designs())
def test_any_design_that_is_drawn_is_charted(data: dict[str, Any]) -> None:
    """Whatever can be weighed and staged has its charts; only missing motor data leaves one out."""
    try:
        aeroplane = Aeroplane(from_dict(data), KEPT)
        stage(aeroplane)
        balances(aeroplane)
    except (ConfigError, PartError):
        return
    found = charted(aeroplane)
    assert len(found.shown) + len(found.missing) == len(ALL)
    assert {"glide"} <= {chart.name for chart in found.shown}
