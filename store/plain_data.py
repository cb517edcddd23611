"""Frozen dataclasses as plain data for JSON, and back by their type hints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from store.errors import BadValue

T = TypeVar("T")


def to_plain(value: Any) -> Any:
    """Dataclasses and mappings as dictionaries, sets and tuples as lists, days as text."""
    if is_dataclass(value) and not isinstance(value, type):
        return {one.name: to_plain(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): to_plain(one) for key, one in value.items()}
    if isinstance(value, frozenset | tuple | list):
        plain = [to_plain(one) for one in value]
        return sorted(plain) if isinstance(value, frozenset) else plain
    if isinstance(value, StrEnum):
        return value.value
    return value.isoformat() if isinstance(value, date) else value


def from_plain(kind: type[T], data: object) -> T:
    """What `to_plain` made of a value of that kind; fields that are not there keep their default.

    Raises:
        BadValue: it is of another shape.
    """
    try:
        read: T = _read(kind, data)
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise BadValue(f"what was kept is damaged ({error})") from error
    return read


def _read(kind: Any, data: Any) -> Any:
    if kind is Any:
        return data
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        if data is None and NoneType in inner:
            return None
        (kind,) = (one for one in inner if one is not NoneType)
        return _read(kind, data)
    if is_dataclass(kind) and isinstance(kind, type):
        hints = get_type_hints(kind)
        return kind(**{name: _read(hints[name], one) for name, one in data.items()})
    if origin in (Mapping, dict):
        return {str(key): _read(inner[1], one) for key, one in data.items()}
    if origin in (frozenset, tuple):
        return origin(_read(inner[0], one) for one in data)
    if kind is date:
        return date.fromisoformat(data)
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return kind(data)
    wanted = (int, float) if kind is float else kind
    if not isinstance(data, wanted) or (isinstance(data, bool) and kind is not bool):
        raise TypeError(f"{data!r} is no {kind.__name__}")
    return kind(data)
