"""The aeroplane as a script or a notebook holds it: loaded, changed, weighed, checked."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from pathlib import Path

from airframe.checks import whole
from airframe.checks.finding import Finding
from airframe.config import Loaded, from_dict, read
from airframe.config.settings import applied
from airframe.config.written import Written
from airframe.model import Aeroplane
from airframe.store import DiskStore, MemoryStore


class Plane(Aeroplane):
    """An aeroplane that was read from a config, and what may be asked of it beside what every aeroplane knows."""

    @classmethod
    def opened(cls, config: Path | str, settings: str | Sequence[str] = ()) -> Plane:
        """The aeroplane of a config file, shapes kept on disk as the commands keep them; one setting may stand alone.

        Raises ConfigError.
        """
        lines = [settings] if isinstance(settings, str) else settings
        return _planed(cls.loaded(read(config, lines), MemoryStore(DiskStore())))

    def __repr__(self) -> str:
        """What a notebook shows of it: its name, and that it is an aeroplane."""
        return f"<aeroplane {self.design.name}>"

    def with_settings(self, *settings: str) -> Plane:
        """Another aeroplane, the same but for these KEY=VALUE lines, as --set takes them; this one stays as it is.

        It weighs what the command would say of the file with the same lines. Raises ConfigError with all that is
        wrong with them; geometry that cannot be is found when asked for.
        """
        return _planed(type(self).loaded(_laid_over(self._read, settings), self._store))

    @property
    def mass_g(self) -> float:
        """What it weighs."""
        return float(self.statement.whole.mass)

    def findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first, remedies tried. Raises PartError. Worked out once."""
        return self._findings

    @cached_property
    def _findings(self) -> tuple[Finding, ...]:
        data = self._read.data
        return whole.run(self, lambda settings: self.changed(from_dict(data, settings)))

    @property
    def _read(self) -> Loaded:
        if self.source is None:
            message = "this aeroplane was made in memory, not read from a config: it has no keys that could be set"
            raise ValueError(message)
        return self.source


def _planed(aeroplane: Aeroplane) -> Plane:
    """The same, of which the type checker knows what it is."""
    assert isinstance(aeroplane, Plane)
    return aeroplane


def _laid_over(loaded: Loaded, settings: Sequence[str]) -> Loaded:
    """What reading the same files with more settings would give."""
    design = from_dict(loaded.data, settings, str(loaded.files[0]))
    data = applied(Written(dict(loaded.data), {}), settings)[0].data
    filed = loaded.as_filed or loaded.design
    is_of_its_log = bool(design.weighed) and filed.weighed == design.weighed
    return Loaded(design, loaded.files, data, filed if is_of_its_log else None, loaded.base)
