"""What parts are made of, what that weighs, and where each number comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from airframe import plugins

Kind = Literal["sheet", "solid", "line", "film"]
"""sheet: cut from board of one thickness; solid: any shape; line: weighs by length; film: by area."""
Look = Literal[
    "foam", "plywood", "wood", "wire", "metal", "clear", "plastic", "rubber", "glue", "paint", "filler", "tape", "cell"
]  # fmt: skip


@dataclass(frozen=True)
class Material:
    """A material with its weight per amount: g/mm^3 for sheet and solid, g/mm for line, g/mm^2 for film."""

    name: str
    kind: Kind
    look: Look
    weight: float
    source: str
    thickness_mm: float = 0.0
    """Sheets only; 0 for the rest."""
    uncertainty_share: float | None = None
    """Standard uncertainty of the weight as a share of it; None where none is stated."""
    coats: int = 1
    """Films only: how many, one over the other."""
    coat_of: str = ""
    """The film's name in one coat, where there are several."""

    @property
    def family(self) -> str:
        """What it is called however many coats there are: one weight, right or wrong, for all of these."""
        return self.coat_of or self.name

    def in_coats(self, coats: int) -> Material:
        """The film put on several times."""
        if coats == 1:
            return self
        weight = self.weight * coats
        return replace(self, name=f"{coats} coats of {self.name}", weight=weight, coats=coats, coat_of=self.name)

    @property
    def areal_weight_g_m2(self) -> float:
        """What a square metre of the sheet or film weighs."""
        return self.weight * (self.thickness_mm if self.kind == "sheet" else 1.0) * 1e6


def sheet(name: str, look: Look, thickness_mm: float, areal_weight_g_m2: float, source: str) -> Material:
    """Sheet by its areal weight: faces and glue lines are in the number, as on the kitchen scale."""
    return Material(name, "sheet", look, areal_weight_g_m2 * 1e-6 / thickness_mm, source, thickness_mm)


def board(
    name: str, look: Look, thickness_mm: float, density_kg_m3: float, source: str, share: float | None = None
) -> Material:
    """Sheet by its density; `share` is the standard uncertainty where the kind's would be wrong."""
    return Material(name, "sheet", look, density_kg_m3 * 1e-6, source, thickness_mm, share)


def solid(name: str, look: Look, density_kg_m3: float, source: str, share: float | None = None) -> Material:
    """A material of any shape, by its density; `share` as in `board`."""
    return Material(name, "solid", look, density_kg_m3 * 1e-6, source, uncertainty_share=share)


def line(name: str, look: Look, weight_g_m: float, source: str) -> Material:
    """Something that weighs by length."""
    return Material(name, "line", look, weight_g_m * 1e-3, source)


def film(name: str, look: Look, areal_weight_g_m2: float, source: str) -> Material:
    """Something that weighs by the area it covers."""
    return Material(name, "film", look, areal_weight_g_m2 * 1e-6, source)


_ESTIMATE = "estimate, no source: weigh your own"
_PAPER_FACED = "paper-faced; 0.3-0.7 kg/m^2 by brand, from memory: weigh a sheet"
_BIRCH = "maker's data sheet for 4 mm birch plywood, 660 kg/m^3 (secondary copy)"
_WOOD = "USDA Wood Handbook, specific gravity at 12 % moisture x 1.12 (secondary; factor from memory)"
_BALSA = f"{_WOOD}; 60-380 kg/m^3 (Borrega & Gibson, Mechanics of Materials, 2015, abstract): weigh your own"
_BALSA_SHARE = 0.3
"""Standard uncertainty of balsa picked unweighed: 60 to 380 is half to twice the middle; our choice."""
_HOT_GLUE = "density 0.92-0.99 g/cm^3 (makers' data sheets)"
_EPOXY = "density 1.14-1.18 g/cm^3 (maker's data sheet)"

_TABLE = (
    sheet("foam board 5 mm", "foam", 5.0, 440.0, _PAPER_FACED),
    sheet("foam board 3 mm", "foam", 3.0, 350.0, "paper-faced; " + _ESTIMATE),
    sheet("foam board 3/16 in", "foam", 4.7625, 430.0, _PAPER_FACED),
    board("extruded foam 6 mm", "foam", 6.0, 33.0, "XPS, 33 kg/m^3, maker's data sheet to EN 13164"),
    board("extruded foam 3 mm", "foam", 3.0, 33.0, "XPS, 33 kg/m^3, maker's data sheet to EN 13164"),
    board("birch plywood 3 mm", "plywood", 3.0, 660.0, _BIRCH),
    board("birch plywood 1.5 mm", "plywood", 1.5, 660.0, _BIRCH),
    board("birch plywood 0.8 mm", "plywood", 0.8, 660.0, _BIRCH),
    board("birch plywood 1/8 in", "plywood", 3.175, 660.0, _BIRCH),
    board("birch plywood 1/16 in", "plywood", 1.5875, 660.0, _BIRCH),
    board("birch plywood 1/32 in", "plywood", 0.79375, 660.0, _BIRCH),
    board("light plywood 3 mm", "plywood", 3.0, 450.0, "400-500 kg/m^3, trade values, from memory"),
    board("balsa sheet 3 mm", "wood", 3.0, 179.0, _BALSA, _BALSA_SHARE),
    board("clear sheet 0.5 mm", "clear", 0.5, 1380.0, "PET, 1380 kg/m^3, from memory"),
    board("plastic sheet 1 mm", "plastic", 1.0, 1040.0, "ABS, 1.04 g/cm^3, handbook, from memory"),
    solid("balsa", "wood", 179.0, _BALSA, _BALSA_SHARE),
    solid("spruce", "wood", 448.0, _WOOD),
    solid("basswood", "wood", 414.0, _WOOD),
    solid("beech", "wood", 717.0, _WOOD),
    solid("music wire", "wire", 7850.0, "carbon steel, Shigley Table A-5, from memory"),
    solid("steel", "metal", 7850.0, "carbon steel, Shigley Table A-5, from memory"),
    solid("aluminium", "metal", 2700.0, "handbook, from memory"),
    solid("brass", "metal", 8500.0, "handbook, from memory"),
    solid("nylon", "plastic", 1140.0, "handbook, from memory"),
    solid("plastic", "plastic", 1040.0, "ABS, 1.04 g/cm^3, handbook, from memory"),
    solid("foam rubber", "rubber", 150.0, _ESTIMATE),
    solid("rubber", "rubber", 950.0, "natural rubber, handbook, from memory"),
    solid("bought item", "plastic", 1000.0, "weighs what the design states; the density is not used"),
    solid("battery cells", "cell", 1900.0, "weighs what the design states; the density is not used"),
    line("hot glue bead", "glue", 3.5, f"bead of 3.7 mm^2, {_HOT_GLUE}; size of bead: {_ESTIMATE}"),
    line("hot glue hinge", "glue", 4.0, f"strip of 4.2 mm^2, {_HOT_GLUE}; size of strip: {_ESTIMATE}"),
    line("epoxy fillet", "glue", 5.2, f"fillet of 3 mm legs, 4.5 mm^2, {_EPOXY}; size of fillet: {_ESTIMATE}"),
    line("wood glue line", "glue", 3.0, _ESTIMATE),
    line("servo lead", "rubber", 14.0, "three thin conductors; " + _ESTIMATE),
    line("power lead", "rubber", 40.0, "a pair of stranded conductors; " + _ESTIMATE),
    line("rubber band", "rubber", 4.6, "band of 6 x 0.8 mm, natural rubber 0.95 g/cm^3 from memory"),
    film("acrylic paint", "paint", 70.0, "one brushed coat, dry; " + _ESTIMATE),
    film("light filler", "filler", 90.0, "0.2 mm of dried lightweight spackle, sanded; " + _ESTIMATE),
    film("packing tape", "tape", 45.0, "50 um film and adhesive; " + _ESTIMATE),
    film("reinforced tape", "tape", 150.0, "glass-fibre strapping tape; " + _ESTIMATE),
    film("contact cement", "glue", 60.0, "dry film on one face; " + _ESTIMATE),
)  # fmt: skip


class _Known(Mapping[str, Material]):
    """The table above and what plug-ins add, which are looked for when the first material is asked for."""

    def __init__(self, built_in: Iterable[Material]) -> None:
        self._built_in = {material.name: material for material in built_in}
        self._all = self._built_in
        self._stamp: object = None

    def _known(self) -> dict[str, Material]:
        if self._stamp is not plugins.stamp():
            self._all = self._built_in | {one.name: self._checked(one) for one in plugins.added("materials")}
            self._stamp = plugins.stamp()
        return self._all

    def _checked(self, plugin: plugins.Plugin) -> Material:
        if not isinstance(plugin.made, Material):
            message = f"{plugin}: {plugin.made!r} is not an airframe.materials.Material"
            raise plugins.PluginError(message)
        if plugin.name in self._built_in:
            message = f"{plugin}: a built-in material has this name; give it one of its own"
            raise plugins.PluginError(message)
        return plugin.made

    def __getitem__(self, name: str) -> Material:
        return self._known()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._known())

    def __len__(self) -> int:
        return len(self._known())


MATERIALS: Mapping[str, Material] = _Known(_TABLE)
"""The materials every design may name; a design's own [materials] table adds to them or replaces them."""
