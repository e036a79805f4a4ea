"""What every table of a config has in common: frozen, strict about names, units in the value.

A field such as `track_mm` is written `track` in the file ("84 mm"): the suffix tells the code the
unit, the value tells the builder's. Suffixes: _mm, _mm3, _g, _rad, _m_s, _n, _s, _n_m, _a (ampere),
_ohm, _c (coulomb), _rad_s_v (a motor's rad/s a volt), _share (a fraction, written in percent).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated, Any, cast

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    WithJsonSchema,
)
from pydantic_core import CoreSchema, core_schema

from airframe import units
from airframe.materials import MATERIALS, Kind
from airframe.schema.docstrings import described

SUFFIXES = ("_mm", "_mm3", "_g", "_rad", "_m_s", "_n", "_s", "_n_m", "_a", "_ohm", "_c", "_rad_s_v", "_share")


def key_in_file(field: str) -> str:
    """The key a builder writes for a field: `track_mm` -> `track`."""
    for suffix in SUFFIXES:
        if field.endswith(suffix):
            return field.removesuffix(suffix)
    return field


class Table(BaseModel):
    """A table of the config file.

    Its validator is built when it is first asked for: a whole design needs one, not one for each of its tables.
    """

    model_config = ConfigDict(
        alias_generator=key_in_file,
        extra="forbid",
        frozen=True,
        validate_default=True,
        defer_build=True,
    )

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """The text under each field is its description; read only when the schema is published."""
        result = handler(core)
        properties = handler.resolve_ref_schema(result).get("properties", {})
        for name, text in described(cls).items():
            field = cls.model_fields.get(name)
            if field is not None and field.description is None:
                shown = properties[field.alias or name]
                if handler.resolve_ref_schema(shown).get("description") != text:
                    shown["description"] = text
        return result


READINGS_KEPT = 1000
"""Quantities of a kind that are read once: a config is read anew at every change of one value."""


def default(text: str, **bounds: float) -> Any:
    """The value of a key that is left out, written as a builder would; bounds as for a pydantic Field."""
    return Field(default=text, **bounds)  # type: ignore[call-overload]


class _Reading(BeforeValidator):
    """Reads a quantity before its bounds are looked at; its one argument is known, and need not be found out anew."""

    def __get_pydantic_core_schema__(self, source_type: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """A function before the number's own schema."""
        read = cast("core_schema.NoInfoValidatorFunction", self.func)
        return core_schema.no_info_before_validator_function(read, handler(source_type))


def _reader(dimension: units.Dimension) -> _Reading:
    @lru_cache(maxsize=READINGS_KEPT)
    def known(text: str) -> float:
        return units.parse(text, dimension)

    def read(value: object) -> object:
        return known(value) if isinstance(value, str) else units.parse(value, dimension)

    return _Reading(read)


def _text(dimension: units.Dimension, sign: str = "[+]?") -> WithJsonSchema:
    """How the JSON Schema tells of a quantity: a text of this pattern."""
    return WithJsonSchema(
        {
            "type": "string",
            "pattern": units.pattern(dimension, sign),
            "description": f"{dimension.with_article} with its unit ({dimension.units})",
            "examples": [dimension.example],
        }
    )


SIGNED = "[+-]?"
LARGEST_MM = 1e5
"""A hundred metres: what is larger is a slip of the pen, not a model aeroplane."""
HEAVIEST_G = 1e6
LOWEST_FIELD_MM, HIGHEST_FIELD_MM = -5e5, 6e6
"""Half a kilometre below the sea to six above it: where people live."""
MOST_A, MOST_OHM, MOST_C, MOST_N_M, MOST_RAD_S_V = 1e3, 1e3, 1e6, 1e3, 1e4
"""Far beyond any model's motor, battery and servo: what is larger is a slip of the pen."""

Length = Annotated[float, _reader(units.LENGTH), Field(gt=0, le=LARGEST_MM), _text(units.LENGTH)]
"""A size: more than nothing."""
Distance = Annotated[float, _reader(units.LENGTH), Field(ge=0, le=LARGEST_MM), _text(units.LENGTH)]
"""A size that may be nothing."""
Coordinate = Annotated[float, _reader(units.LENGTH), Field(ge=-LARGEST_MM, le=LARGEST_MM), _text(units.LENGTH, SIGNED)]
"""A station, butt line or water line: may be negative."""
Altitude = Annotated[
    float, _reader(units.LENGTH), Field(ge=LOWEST_FIELD_MM, le=HIGHEST_FIELD_MM), _text(units.LENGTH, SIGNED)
]
"""Of a flying field above sea level."""
Mass = Annotated[float, _reader(units.MASS), Field(ge=0, le=HEAVIEST_G), _text(units.MASS)]
Angle = Annotated[float, _reader(units.ANGLE), _text(units.ANGLE, SIGNED)]
ArealWeight = Annotated[float, _reader(units.AREAL_WEIGHT), Field(gt=0), _text(units.AREAL_WEIGHT)]
Density = Annotated[float, _reader(units.DENSITY), Field(gt=0), _text(units.DENSITY)]
LinearWeight = Annotated[float, _reader(units.LINEAR_WEIGHT), Field(gt=0), _text(units.LINEAR_WEIGHT)]
Volume = Annotated[float, _reader(units.VOLUME), Field(gt=0), _text(units.VOLUME)]
Share = Annotated[float, _reader(units.FRACTION), Field(ge=0, le=1), _text(units.FRACTION)]
Speed = Annotated[float, _reader(units.SPEED), Field(gt=0), _text(units.SPEED)]
Duration = Annotated[float, _reader(units.DURATION), Field(gt=0), _text(units.DURATION)]
Force = Annotated[float, _reader(units.FORCE), Field(gt=0), _text(units.FORCE)]
Torque = Annotated[float, _reader(units.TORQUE), Field(gt=0, le=MOST_N_M), _text(units.TORQUE)]
Current = Annotated[float, _reader(units.CURRENT), Field(gt=0, le=MOST_A), _text(units.CURRENT)]
Resistance = Annotated[float, _reader(units.RESISTANCE), Field(gt=0, le=MOST_OHM), _text(units.RESISTANCE)]
Charge = Annotated[float, _reader(units.CHARGE), Field(gt=0, le=MOST_C), _text(units.CHARGE)]
MotorConstant = Annotated[
    float, _reader(units.MOTOR_CONSTANT), Field(gt=0, le=MOST_RAD_S_V), _text(units.MOTOR_CONSTANT)
]


@dataclass(frozen=True)
class MaterialOf:
    """Marks a field that names a material, and says of which kind it must be."""

    kind: Kind

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """The names an editor may offer; a design's own materials are as good, so none is refused."""
        names = [name for name, material in MATERIALS.items() if material.kind == self.kind]
        return handler(core) | {"description": f"name of a material of kind {self.kind}", "examples": names}


SheetName = Annotated[str, MaterialOf("sheet")]
SolidName = Annotated[str, MaterialOf("solid")]
LineName = Annotated[str, MaterialOf("line")]
FilmName = Annotated[str, MaterialOf("film")]
