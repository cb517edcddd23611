"""What the fields of the import screen order to be done."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from store.errors import BrimbookError
from store.transfer.importing import SheetKind
from store.weather.files import FileUnits, ReadOptions
from tui.base.field_reader import FieldReader
from tui.base.path_line import path_from

WEATHER, FORECAST = "weather", "forecast"
DAILY = (WEATHER, FORECAST)
"""Kinds that hold weather day by day, in any form that is recognised."""
KINDS = (*DAILY, *(kind.value for kind in SheetKind))
AS_FILE_SAYS = "as the file says"
UNIT_WORDS = {
    AS_FILE_SAYS: None,
    "metric": FileUnits.METRIC,
    "US": FileUnits.US,
    "tenths of metric": FileUnits.TENTHS,
}
REFUSE, SKIP = "refuse the file", "skip bad lines"
HINTS = {
    "kind": "left and right, or its letter",
    "latitude": "north +; if the file has none",
    "units": "of columns that name no unit",
    "bad_lines": "what to do about them",
}
ONLY_FOR = {
    "tract": (*DAILY, SheetKind.STATIONS, SheetKind.NORMALS),
    "latitude": (WEATHER, SheetKind.STATIONS, SheetKind.NORMALS),
    "units": DAILY,
    "bad_lines": DAILY,
}
WITHOUT_TRACT = {
    WEATHER: "each without weather",
    FORECAST: "all of them",
    SheetKind.STATIONS: "as the file names it",
}
"""Which tracts are meant where none is typed; normals need one."""


@dataclass(frozen=True)
class Order:
    """What the person asked to be imported."""

    kind: str
    path: Path
    tract: str | None
    latitude_deg: float | None
    options: ReadOptions


def read_order(reader: FieldReader) -> Order | None:
    """The order, or None with a problem noted for each field that is wrong."""
    text = reader.needed("path", "Type or paste the path of the file.")
    path = Path()
    try:
        path = path_from(text)
    except BrimbookError as error:
        reader.wrong("path", str(error))
    kind = reader.text("kind")
    tract, latitude = "", None
    if kind in ONLY_FOR["tract"]:
        if kind in WITHOUT_TRACT:
            tract = reader.text("tract")
        else:
            tract = reader.needed("tract", "Type the tract whose usual months these are.")
    if kind in ONLY_FOR["latitude"]:
        latitude = reader.number("latitude", least=-90.0, most=90.0)
    if reader.problems:
        return None
    options = ReadOptions(
        units=UNIT_WORDS[reader.text("units")],
        station=reader.text("place") or None,
        skip_bad_lines=reader.text("bad_lines") == SKIP,
    )
    return Order(kind, path, tract or None, latitude, options)
