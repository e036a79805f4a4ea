"""Many variants of one design at once: what is asked of them, how they are made, and the engines that make them.

The package can be called as its one function, so that `airframe.sweep(...)` works whether it was imported or not.
"""

from __future__ import annotations

import sys
from types import ModuleType
from typing import Any


class _Callable(ModuleType):
    def __call__(self, *arguments: Any, **named: Any) -> Any:
        """See `airframe.sweep.whole.sweep`."""
        from airframe.sweep.whole import sweep

        return sweep(*arguments, **named)


sys.modules[__name__].__class__ = _Callable
