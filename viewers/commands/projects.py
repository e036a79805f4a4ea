"""Configs that a command works on, each read once: its aeroplane, and what the checks say of it when asked."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from viewers.shell import Workshop

if TYPE_CHECKING:
    from airframe.compare.whole import Version
    from airframe.config import Loaded
    from airframe.model import Aeroplane


@dataclass(frozen=True)
class Project:
    """A config that was read, and where."""

    shop: Workshop
    loaded: Loaded
    aeroplane: Aeroplane

    def checked(self) -> Version:
        """The aeroplane with what all checks say of it, ready to be compared. Raises PartError."""
        from airframe.compare.whole import Version

        return Version(self.aeroplane, self.loaded.data, self.shop.findings(self.loaded, self.aeroplane))


def project(shop: Workshop, config: Path) -> Project:
    """Raises ConfigError."""
    loaded = shop.read(config)
    return Project(shop, loaded, shop.aeroplane(loaded))
