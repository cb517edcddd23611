"""The answers that were asked for last, by what they depend on."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class LastAsked(Generic[T]):
    """Keeps so many answers and forgets those asked for longest ago; threads may share it."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, T] = OrderedDict()
        self._lock = Lock()

    def keep(self, key: str, answer: T) -> None:
        with self._lock:
            self._kept[key] = answer
            self._kept.move_to_end(key)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)

    def get(self, key: str) -> T | None:
        """The answer under that key; None where it was not kept so long."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)
