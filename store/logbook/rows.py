"""Turn what an entry says into table rows and back, field by field.

Every dataclass of `store.records.Fact` has a table whose columns carry the names
of its fields, so one pair of functions serves all kinds. A station's tank is the
one nested value: its measures are columns of `station_facts`, its measured table
rows of `tank_depth_volume`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date
from enum import Enum
from functools import cache
from types import NoneType
from typing import Any, get_args, get_type_hints

from store.errors import BadFile
from store.plain_text import without_controls
from store.records import Fact, StationFacts, TankMeasures

Columns = dict[str, Any]


def kind_of(fact_type: type) -> str:
    """The table of a kind of entry: `StationFacts` is kept in `station_facts`."""
    return re.sub(r"(?<!^)(?=[A-Z])", "_", fact_type.__name__).lower()


FACT_TYPES: dict[str, type[Fact]] = {kind_of(fact_type): fact_type for fact_type in get_args(Fact)}


def columns_of(fact: Fact) -> Columns:
    """The columns of one entry's detail row."""
    columns = {field.name: getattr(fact, field.name) for field in fields(fact)}
    tank = columns.pop("tank", None)
    if tank is not None:
        columns |= {field.name: getattr(tank, field.name) for field in fields(tank)}
        del columns["depth_volume"]
    return {name: _stored(value) for name, value in columns.items()}


def fact_from(
    kind: str, row: Mapping[str, Any], depth_volume: tuple[tuple[float, float], ...] = ()
) -> Fact:
    """The dataclass of a detail row; `depth_volume` is a measured tank's table."""
    fact_type = FACT_TYPES[kind]
    if fact_type is StationFacts:
        tank = TankMeasures(**_arguments(TankMeasures, row), depth_volume=depth_volume)
        return StationFacts(**_arguments(StationFacts, row), tank=tank)
    return fact_type(**_arguments(fact_type, row))


def _stored(value: Any) -> Any:
    if type(value) is str:
        return without_controls(value)
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, date):
        return value.isoformat()
    return str(value) if isinstance(value, Enum) else value


def _arguments(record_type: type, row: Mapping[str, Any]) -> Columns:
    return {
        name: None if row[name] is None else _read(record_type, name, read_as, row[name])
        for name, read_as in _readers(record_type).items()
    }


def _read(record_type: type, name: str, read_as: Callable[[Any], Any], value: Any) -> Any:
    try:
        return read_as(value)
    except (ValueError, TypeError) as error:
        raise BadFile(
            f"The logbook says {value!r} for {name.replace('_', ' ')} in {kind_of(record_type)}, "
            "which this Brimbook does not know. A newer version may have written it: install "
            "that. Else go back to a backup with: brimbook restore."
        ) from error


@cache
def _readers(record_type: type) -> dict[str, Any]:
    """How to read each plain field back: its type, without the `| None`."""
    readers = {}
    for name, hint in get_type_hints(record_type).items():
        options = [option for option in get_args(hint) if option is not NoneType] or [hint]
        if name not in ("tank", "depth_volume"):
            readers[name] = _READ_AS.get(options[0], options[0])
    return readers


_READ_AS: dict[type, Callable[[str], Any]] = {date: date.fromisoformat, str: without_controls}
"""A file may come from anywhere: no text of it steers the terminal."""
