"""Each way to be wrong has words of its own, and all are told at once."""

from __future__ import annotations

import pytest

from airframe.config import ConfigError, from_text
from tests.plane import PLANE, said


def swapped(old: str, new: str, base: str = PLANE) -> str:
    """The only problem of the plane with one piece of its text swapped, on the swapped line."""
    assert base.count(old) == 1
    with pytest.raises(ConfigError) as caught:
        from_text(base.replace(old, new), name="c.toml")
    (problem,) = caught.value.problems
    assert problem.line is None or problem.line >= 1
    return str(problem)


WORDINGS = [
    ('"60 mm"\n', "92\n", 'c.toml:4: fuselage.width = 92: needs a unit (mm, cm, m, in, ft), e.g. "92 mm"'),
    (
        'width = "60 mm"\n',
        'width = "60 mm"\ntrak = 1\n',
        "c.toml:5: fuselage.trak = 1: no such key (keys here: material, width,",
    ),
    (
        'width = "60 mm"\n',
        'width = "60 mm"\nWidth = "9 mm"\n',
        "c.toml:5: fuselage.Width = \"9 mm\": no such key; did you mean 'width'?",
    ),
    ('name = "Plane"', "", 'c.toml: name: is missing: what the aeroplane is called in every result; e.g. name = "..."'),
    ('name = "Plane"', 'name = ""', 'c.toml:1: name = "": must not be empty'),
    ('name = "Plane"', "name = 7", 'c.toml:1: name = 7: must be text in quotes, e.g. "7"'),
    ('name = "Plane"', "name = 2031-04-12", 'name = 2031-04-12: must be text in quotes, e.g. "2031-04-12"'),
    (
        'name = "Plane"',
        'name = "Plane"\nlimits.making.wire_bend_ratio = "x"',
        'limits.making.wire_bend_ratio = "x": must be a number, without quotes',
    ),
    (
        'name = "Plane"',
        'name = "Plane"\nlimits.making.wire_bend_ratio = 0',
        "limits.making.wire_bend_ratio = 0: must be more than 0",
    ),
    ('name = "Plane"', 'name = "Plane"\nmesh_angle = "60 deg"', 'mesh_angle = "60 deg": must be at most 28.6479 deg'),
    (
        'name = "Plane"',
        'name = "Plane"\nlimits.ground.overturn = "-5 deg"',
        'limits.ground.overturn = "-5 deg": must be more than 0',
    ),
    (
        'name = "Plane"',
        'name = "Plane"\nlimits.ground.tip_back_high = "179 deg"',
        'limits.ground.tip_back_high = "179 deg": must be less than 90 deg',
    ),
    (
        'name = "Plane"',
        'name = "Plane"\nequipment.b = {kind = "battery", mass = "80 g", size = ["6 cm", "3 cm", "2 cm"], '
        'station = "5 cm", water_line = "0 mm", tray_from = "8 cm", tray_to = "8 cm"}',
        "equipment.b: tray_from must lie ahead of tray_to",
    ),
    ('width = "60 mm"\n', 'width = "60 km"\n', "km"),
    ('width = "60 mm"\n', 'width = "1e9 m"\n', 'fuselage.width = "1e9 m": must be at most 100 m'),
    ('name = "Plane"', 'name = "Plane"\nunits = "metrik"', "\"imperial\"; did you mean 'metric'?"),
    ('name = "Plane"', 'name = "Plane"\nbase_on = "x"', "base_on = \"x\": no such key; did you mean 'based_on'?"),
    ('name = "Plane"', 'name = "Plane"\nglue = 3', "c.toml:2: glue = 3: must be a table with keys such as foam_joint"),
    ('name = "Plane"', 'name = "Plane"\nequipment2 = 3', "no such key; did you mean 'equipment'?"),
    ('name = "Plane"', 'name = "Plane"\nfinish = 3', "finish = 3: must be a list, [ ... ]"),
    ('root_chord = "180 mm"\n', "", "c.toml:10: wing.root_chord: is missing: on the centre plane; e.g. root_chord ="),
    ('{ span = "300 mm" }', "{ }", "c.toml:14: wing.panels.0.span: is missing: along the panel, not its shadow"),
    ('{ span = "300 mm" }', '{ span = "-3 mm" }', 'c.toml:14: wing.panels.0.span = "-3 mm": must be more than 0'),
    ('{ span = "300 mm" }', "7", "c.toml:14: wing.panels.0 = 7: must be a table with keys such as span, tip_chord"),
    ('[wing]\n', '[wing]\ncamber = "120 %"\n', 'wing.camber = "120 %": must be at most 100 %'),
    ('[wing]\n', '[wing]\ncamber = 0.06\n', 'wing.camber = 0.06: needs a unit (%), e.g. "6 %"'),
    ('[wing]\n', "[wing]\nscores = 0\n", "wing.scores = 0: must be at least 1"),
    ('[wing]\n', "[wing]\nscores = 2.5\n", "wing.scores = 2.5: must be a whole number, without quotes"),
    ('[wing]\n', '[wing]\ncentre_ribs = "perhaps"\n', "must be true or false, without quotes"),
    ('[wing]\n', '[wing]\nrib_positions = "3 mm"\n', 'must be a list, e.g. ["84 mm"]'),
    ('[wing]\n', '[wing]\nrib_positions = ["600 mm"]\n', "wing: a rib lies beyond the half span of 450 mm: 600 mm"),
    ('[wing]\n', '[wing]\ncamber = "0.5 in"\n', 'wing.camber = "0.5 in": "in" is a unit of length; a share is needed'),
    ('[wing.spar]\n', "[wing.spar]\nwidht = 1\n", "c.toml:19: wing.spar.widht = 1: no such key; did you mean 'width'?"),
    ('"60 mm", "30 mm", "20 mm"', '"60 mm", "30 mm"', "has too few values: length (fore and aft), width, height"),
    ('"60 mm", "30 mm", "20 mm"', '"1 mm", "1 mm", "1 mm", "1 mm"', "must have 3 values, not 4"),
    ('kind = "battery"', 'kind = "batery"', "there is no such kind of item; must be \"box\", \"cylinder\""),
    ('kind = "battery"', 'kind = "batery"', "; did you mean 'battery'?"),
    ('mass = "90 g"\n', "", "equipment.battery: give mass and size, or a table of options"),
    ('mass = "40 g"\n', 'mass = "40 g"\npitch = 1\n', 'no such key in a box; kind = "propeller" has it'),
    ('mass = "40 g"\n', 'mass = "40 cm"\n', '"spare camera".mass = "40 cm": "cm" is a unit of length; a mass'),
    ('[wing.spar]\n', '[wing.spar]\nmaterial = "pruce"\n', "a solid is needed; did you mean 'spruce'?"),
    (
        '[wing.spar]\n',
        '[wing.spar]\nmaterial = "foam board 5 mm"\n',
        "this is a sheet; a material of kind solid is needed",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "says"), WORDINGS)
def test_wordings(old: str, new: str, says: str) -> None:
    """Each kind of mistake has words of its own, and none of the validating library's."""
    message = swapped(old, new)
    assert says in message
    for foreign in ("Input should", "pydantic", "Value error", "_mm", "Field required", "validation error"):
        assert foreign not in message


def test_limits_are_told_in_the_unit_that_was_typed() -> None:
    """100 m are 328.084 ft; what no single key says wrong is told in the design's own unit: 450 mm are 17.72 in."""
    assert 'fuselage.width = "1e9 ft": must be at most 328.084 ft' in swapped('width = "60 mm"\n', 'width = "1e9 ft"\n')
    with pytest.raises(ConfigError, match=r"beyond the half span of 17\.72 in: 30 in"):
        from_text(PLANE, ['units="imperial"', 'wing.rib_positions=["30 in"]'])


def test_all_problems_at_once_in_the_order_of_the_file() -> None:
    """Mistakes of every stage, in different tables, are told in one go, line by line."""
    lines = said(
        '\n[stock]\nsheet_lenth = "250 mm"\n[materials.mine]\nkind = "sheat"\nsource = "x"\n'
        '[glue]\nfoam_joint = "sprcue"\n',
        "wing.panels.0.span=3",
        "wing.panels.9.span=3 mm",
        "nonsense",
    )
    starts = [
        "c.toml:51: stock.sheet_lenth = \"250 mm\": no such key; did you mean 'sheet_length'?",
        'c.toml:53: materials.mine.kind = "sheat": must be "sheet"',
        'c.toml:56: glue.foam_joint = "sprcue": there is no such material; a line is needed (hot glue bead',
        "--set wing.panels.9.span=3 mm: wing.panels is a list and has rows 0 to 1; there is no 9",
        '--set nonsense: must be KEY=VALUE, e.g. gear.track="240 mm"',
        "--set wing.panels.0.span=3: needs a unit (mm, cm, m, in, ft)",
    ]
    for start in starts:
        assert sum(line.startswith(start.split(" (keys")[0].split(" (hot")[0]) for line in lines) == 1, lines
    numbers = [int(line.split(":")[1]) for line in lines if line.startswith("c.toml:")]
    assert numbers == sorted(numbers)


def test_own_materials_count() -> None:
    """A material of the design's own may be named, must fit in kind, and may replace a built-in one."""
    own = '\n[materials.card]\nkind = "sheet"\nthickness = "1 mm"\nareal_weight = "700 g/m^2"\nsource = "weighed"\n'
    design = from_text(PLANE + own, ["wing.material=card"])
    assert design.material("card").areal_weight_g_m2 == pytest.approx(700)
    assert "this is a sheet; a material of kind solid is needed" in said(own, "wing.spar.material=card")[0]
    replaced = own.replace("card", '"hot glue bead"')
    assert "glue" in said(replaced)[0]
    assert "this is a sheet; a material of kind line is needed" in said(replaced)[0]
