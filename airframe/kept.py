"""The results last used, kept so that they need not be worked out again."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class Kept(Generic[Key, Value]):
    """At most `limit` values by their keys, the longest unused dropped first. Several threads may share it."""

    def __init__(self, limit: int) -> None:
        self._limit = limit
        self._values: OrderedDict[Key, Value] = OrderedDict()
        self._lock = Lock()

    def __len__(self) -> int:
        return len(self._values)

    def get(self, key: Key) -> Value | None:
        """What is kept under a key, which is a use of it; None where there is nothing."""
        with self._lock:
            if key not in self._values:
                return None
            self._values.move_to_end(key)
            return self._values[key]

    def put(self, key: Key, value: Value) -> None:
        """Keep a value, in place of another under its key."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            if len(self._values) > self._limit:
                self._values.popitem(last=False)

    def get_or_make(self, key: Key, make: Callable[[], Value]) -> Value:
        """What is kept under a key, or what `make` gives, which is kept then.

        Threads that ask at once for what is not there may each make it; all are given the first that was ready.
        """
        known = self.get(key)
        if known is not None:
            return known
        made = make()
        with self._lock:
            first = self._values.setdefault(key, made)
            if len(self._values) > self._limit:
                self._values.popitem(last=False)
        return first
