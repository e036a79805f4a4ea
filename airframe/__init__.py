"""A parametric model of a whole foam-board aeroplane with real mass properties.

import airframe
aeroplane = airframe.load("configs/teasel-mk2.toml", ['gear.track="240 mm"'])
aeroplane.statement.whole.mass
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from airframe.model import Aeroplane

__all__ = ["load"]


def load(config: Path | str, settings: Sequence[str] = ()) -> Aeroplane:
    """The aeroplane of a config file, with settings (KEY=VALUE) applied as --set applies them.

    It knows what the kitchen scale taught of itself and of those it is based on. Raises
    `airframe.config.ConfigError` for a file that is no design; geometry that cannot be is found when asked for.
    """
    from airframe.config import read
    from airframe.model import Aeroplane

    return Aeroplane.loaded(read(config, settings))
