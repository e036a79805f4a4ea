"""One variant of a design: the same aeroplane with --set lines applied, exactly as the commands build it."""

from __future__ import annotations

from collections.abc import Sequence

from airframe.config import Loaded, from_dict
from airframe.model import Aeroplane


def variant(base: Loaded, aeroplane: Aeroplane, settings: Sequence[str]) -> Aeroplane:
    """The design that was read with settings (KEY=VALUE) laid over it; `aeroplane` is `Aeroplane.loaded(base)`.

    It shares that one's shapes, and is taught by whom a run of its own would be: by the design as filed where
    the log still holds, else by what it is based on. Raises ConfigError.
    """
    design = from_dict(base.data, settings)
    changed = aeroplane.changed(design)
    filed = aeroplane if base.as_filed is None else aeroplane.taught_by
    assert filed is not None
    is_of_this_log = bool(design.weighed) and design.weighed == filed.design.weighed
    changed.taught_by = filed if is_of_this_log else filed.taught_by
    return changed
