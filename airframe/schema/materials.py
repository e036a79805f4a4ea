"""Materials that a design adds to the built-in table, or replaces there."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from airframe import materials
from airframe.schema.base import ArealWeight, Density, Length, LinearWeight, Share, Table


class MaterialTable(Table):
    """A material of your own: give its weight the way you measured it."""

    kind: materials.Kind
    """sheet (board of one thickness), solid, line (weighs by length) or film (weighs by area)."""
    look: materials.Look = "foam"
    """How pictures show it."""
    thickness_mm: Length | None = None
    """Sheets only."""
    areal_weight: ArealWeight | None = None
    """Sheet or film: weigh a piece of known area."""
    density: Density | None = None
    """Sheet or solid."""
    linear_weight: LinearWeight | None = None
    """Line: weigh a known length."""
    source: str
    """Where the number is from, or 'weighed'."""
    uncertainty_share: Share | None = None
    """Standard uncertainty of its weight; if not given, by its kind from [certainty]."""

    @model_validator(mode="after")
    def _weight_fits_kind(self) -> Self:
        given = {k for k in ("areal_weight", "density", "linear_weight") if getattr(self, k) is not None}
        allowed = {
            "sheet": {"areal_weight", "density"},
            "solid": {"density"},
            "line": {"linear_weight"},
            "film": {"areal_weight"},
        }[self.kind]
        if len(given) != 1 or not given <= allowed:
            raise ValueError(f"a {self.kind} needs exactly one of: {', '.join(sorted(allowed))}")
        if (self.thickness_mm is not None) != (self.kind == "sheet"):
            raise ValueError("a sheet needs its thickness, and nothing else has one")
        return self

    def material(self, name: str) -> materials.Material:
        """The material under the name that the design gives it."""
        if self.areal_weight is not None:
            weight = self.areal_weight / (self.thickness_mm or 1.0)
        elif self.density is not None:
            weight = self.density
        else:
            assert self.linear_weight is not None
            weight = self.linear_weight
        thickness = self.thickness_mm or 0.0
        return materials.Material(name, self.kind, self.look, weight, self.source, thickness, self.uncertainty_share)
