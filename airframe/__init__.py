"""A parametric model of a whole foam-board aeroplane with real mass properties.

import airframe
plane = airframe.load("configs/teasel-mk2.toml")
wider = plane.with_settings('fuselage.width="96 mm"')
wider.mass_g, wider.cg_mm, wider.findings()
table = airframe.sweep(plane, {"gear.track": ["220 mm", "240 mm"]}, measures=["mass", "ground.overturn"])

`airframe.plugins` adds parts, checks and materials of your own; `viewers.picture` draws.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from airframe.notebook import Plane

__all__ = ["load", "plugins", "sweep"]


def load(config: Path | str, settings: str | Sequence[str] = ()) -> Plane:
    """The aeroplane of a config file, with settings (KEY=VALUE) applied as --set applies them.

    It knows what the kitchen scale taught of itself and of those it is based on. Raises
    `airframe.config.ConfigError` for a file that is no design; geometry that cannot be is found when asked for.
    """
    from airframe.notebook import Plane

    return Plane.opened(config, settings)


def __getattr__(name: str) -> Any:
    """The parts of this package that are functions or tools of their own, imported when first asked for."""
    if name in ("plugins", "sweep"):
        return import_module(f"airframe.{name}")
    message = f"module 'airframe' has no attribute {name!r}"
    raise AttributeError(message)
