"""Things by name whose modules are loaded when they are first asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping
from importlib import import_module
from typing import TypeVar

T = TypeVar("T")


class Late(MutableMapping[str, T]):
    """What a table says in `places`, where each thing stands as `module:name`."""

    def __init__(self, places: Mapping[str, str]) -> None:
        self._places = dict(places)
        self._there: dict[str, T] = {}

    def __getitem__(self, key: str) -> T:
        if key not in self._there:
            module, _, name = self._places[key].partition(":")
            self._there[key] = getattr(import_module(module), name)
        return self._there[key]

    def __setitem__(self, key: str, thing: T) -> None:
        self._there[key] = thing

    def __delitem__(self, key: str) -> None:
        if key not in self:
            raise KeyError(key)
        self._there.pop(key, None)
        self._places.pop(key, None)

    def __contains__(self, key: object) -> bool:
        return key in self._there or key in self._places

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys((*self._there, *self._places)))

    def __len__(self) -> int:
        return len({*self._there, *self._places})
