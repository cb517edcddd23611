"""What the fields of the import screen order to be done."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from store.errors import BadFile, BadValue
from store.fetching.archive import station_id_from
from store.transfer.importing import SheetKind
from store.weather.files import FileUnits, ReadOptions
from tui.base.field_reader import FieldReader
from tui.base.path_line import path_from

WEATHER, FORECAST, ARCHIVE = "weather", "forecast", "weather, fetched"
DAILY = (WEATHER, FORECAST)
"""Kinds of files that hold weather day by day, in any form that is recognised."""
FILES = (*DAILY, *(kind.value for kind in SheetKind))
KINDS = (*FILES, ARCHIVE)
"""The last is no file of the person's: it is fetched from a public archive."""
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
    "latitude": "as 42.5 N; if the file has none",
    "units": "of columns that name no unit",
    "bad_lines": "what to do about them",
    "station": "of GHCN-Daily (NOAA); needs the network",
}
ONLY_FOR = {
    "path": FILES,
    "station": (ARCHIVE,),
    "tract": (*DAILY, ARCHIVE, SheetKind.STATIONS, SheetKind.NORMALS),
    "latitude": (WEATHER, SheetKind.STATIONS, SheetKind.NORMALS),
    "units": DAILY,
    "bad_lines": (*DAILY, ARCHIVE),
}
WITHOUT_TRACT = {
    WEATHER: "each without weather",
    ARCHIVE: "each without weather",
    FORECAST: "all of them",
    SheetKind.STATIONS: "as the file names it",
}
"""Which tracts are meant where none is typed; normals need one."""


@dataclass(frozen=True)
class Order:
    """What the person asked to be imported: a file, or the daily weather of a station."""

    kind: str
    path: Path
    station_id: str
    tract: str | None
    latitude_deg: float | None
    options: ReadOptions


def read_order(reader: FieldReader) -> Order | None:
    """The order, or None with a problem noted for each field that is wrong."""
    kind, path, station_id = reader.text("kind"), Path(), ""
    if kind == ARCHIVE:
        text = reader.needed("station", "Type a station, as `brimbook weather near` lists them.")
        try:
            station_id = station_id_from(text)
        except BadValue as error:
            reader.wrong("station", str(error))
    else:
        text = reader.needed("path", "Type or paste the path of the file.")
        try:
            path = path_from(text)
        except BadFile as error:
            reader.wrong("path", str(error))
    tract, latitude = "", None
    if kind in ONLY_FOR["tract"]:
        if kind in WITHOUT_TRACT:
            tract = reader.text("tract")
        else:
            tract = reader.needed("tract", "Type the tract whose usual months these are.")
    if kind in ONLY_FOR["latitude"]:
        latitude = reader.degrees("latitude", least=-90.0, most=90.0)
    if reader.problems:
        return None
    options = ReadOptions(
        units=UNIT_WORDS[reader.text("units")] if kind in ONLY_FOR["units"] else None,
        station=station_id or reader.text("place") or None,
        skip_bad_lines=reader.text("bad_lines") == SKIP,
    )
    return Order(kind, path, station_id, tract or None, latitude, options)
