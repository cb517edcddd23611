"""A table with one line a day: daily summaries, the wide GHCN-Daily CSV, any plain CSV."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from store.csv_text import Row, Table
from store.errors import BadFile, BadValue, Problem
from store.weather.files import FileUnits, ReadOptions, WeatherFile
from store.weather.readers.assemble import (
    ARCHIVE_WIND_HEIGHT_M,
    counted,
    daily_weather,
    pick_station,
    settle,
)
from store.weather.readers.cells import cell_reader
from store.weather.readers.civil_dates import civil_date, date_reader
from store.weather.readers.flags import FlagCounts
from store.weather.readers.headings import (
    PLACE_NAMES,
    SYSTEM_UNITS,
    Column,
    Headings,
    read_headings,
)
from store.weather.readers.unit_guess import Evidence, guess_units, ruled_out

OTHER_ARCHIVE = frozenset({"slp", "stp", "visib", "frshtt"})
"""Columns of the Global Summary of the Day, which has other units and missing codes."""

WHOLE_YEAR_LINES = 330
YEAR_DIGITS = 4
MISSING_ELEVATION_M = -999.9


@dataclass
class _Days:
    """What the lines of the table said, as they are read."""

    values: dict[str, dict[int, float]] = field(default_factory=dict)
    seen: dict[int, tuple[int, tuple[float | None, ...]]] = field(default_factory=dict)
    flags: FlagCounts = field(default_factory=FlagCounts)
    repeats: int = 0
    problems: list[Problem] = field(default_factory=list)


def read_dated_table(table: Table, options: ReadOptions) -> WeatherFile:
    """Read a table with one line a day. Raises: BadFile, BadLines (see `read_weather`)."""
    if set(table.columns) >= OTHER_ARCHIVE:
        raise BadFile(
            f"{table.path.name} is a Global Summary of the Day, which writes absent reports "
            "as no rain; get the daily summaries (GHCN-Daily) of the station instead."
        )
    headings = read_headings(table, options)
    station, rows = _station_rows(table, headings, options)
    if not rows:
        raise BadFile(f"{table.path.name} has a header and no days; check that it is complete.")
    archive = "station" in table.columns and any(c.name.isalpha() for c in headings.elements)
    elements, units, unit_notes = _with_units(table, headings, rows, options)
    days = _read_rows(table, headings, elements, rows, options)
    rejected = settle(table.path, days.problems, options)
    wind_height_m = options.wind_height_m
    if wind_height_m is None:
        wind_height_m = ARCHIVE_WIND_HEIGHT_M if archive else 2.0
    weather = daily_weather(table.path, days.values, wind_height_m)
    notes = [
        *unit_notes,
        *days.flags.notes(),
        *counted(
            days.repeats,
            "line repeats an earlier one and was read once",
            "lines repeat earlier ones and were read once",
        ),
    ]
    if days.values.get("wind_m_s"):
        notes.append(f"Wind taken as measured at {wind_height_m:g} m and brought to 2 m.")
    if headings.unknown:
        notes.append(f"Columns not used: {', '.join(headings.unknown)}.")
    place = _place(rows[0])
    return WeatherFile(
        path=table.path,
        format_name=_format_name(archive, units),
        station_id=station,
        station_name=rows[0].cells.get("name") or None,
        latitude_deg=place["latitude"],
        longitude_deg=place["longitude"],
        elevation_m=place["elevation"],
        weather=weather,
        notes=tuple(notes),
        rejected=rejected,
    )


def _format_name(archive: bool, units: FileUnits | None) -> str:
    if not archive:
        return "plain CSV"
    if units is FileUnits.TENTHS:
        return "GHCN-Daily CSV, a day a line"
    return "daily summaries CSV"


def _station_rows(
    table: Table, headings: Headings, options: ReadOptions
) -> tuple[str | None, tuple[Row, ...]]:
    if headings.station is None:
        return None, table.rows
    name = headings.station
    stations = {row.cells.get(name, "") for row in table.rows} - {""}
    station = pick_station(table.path, stations, options)
    if len(stations) < 2:
        return station, table.rows
    return station, tuple(row for row in table.rows if row.cells.get(name) == station)


def _with_units(
    table: Table, headings: Headings, rows: Sequence[Row], options: ReadOptions
) -> tuple[tuple[Column, ...], FileUnits | None, tuple[str, ...]]:
    """Give every column a unit: its own, the stated, or the one the values leave."""
    bare = [column for column in headings.elements if column.unit is None]
    if not bare:
        return headings.elements, None, ()
    evidence = _evidence(bare, rows)
    if options.units is None:
        units, reason = guess_units(evidence, _labelled(headings.elements), table.path.name)
        notes: tuple[str, ...] = (reason,)
    else:
        units = options.units
        doubt = ruled_out(evidence).get(units)
        notes = (f"The units stated ({units}) look doubtful: {doubt}.",) if doubt else ()
    system = SYSTEM_UNITS[units]
    complete = tuple(
        column if column.unit else Column(column.name, column.field, system[column.field])
        for column in headings.elements
    )
    return complete, units, notes


def _evidence(bare: Sequence[Column], rows: Sequence[Row]) -> Evidence:
    texts: dict[str, set[str]] = {"rain": set(), "temperature": set()}
    for column in bare:
        kind = {"rain_mm": "rain", "tmin_c": "temperature", "tmax_c": "temperature"}
        if column.field not in kind:
            continue
        for row in rows:
            if not _attributes(row.cells.get(f"{column.name}_attributes", ""))[1]:
                texts[kind[column.field]].add(row.cells.get(column.name, ""))
    return Evidence(texts["rain"], texts["temperature"], len(rows) >= WHOLE_YEAR_LINES)


def _labelled(elements: Sequence[Column]) -> set[FileUnits]:
    return {
        system
        for column in elements
        for system, of_field in SYSTEM_UNITS.items()
        if column.unit and column.unit == of_field.get(column.field)
    }


@cache
def _attributes(text: str) -> tuple[str, str]:
    """Measurement and quality flag of an attributes cell: `M,Q,S[,time]`."""
    parts = [part.strip() for part in text.split(",")]
    return parts[0], parts[1] if len(parts) > 1 else ""


def _read_rows(
    table: Table,
    headings: Headings,
    elements: Sequence[Column],
    rows: Sequence[Row],
    options: ReadOptions,
) -> _Days:
    days = _Days(values={column.field: {} for column in elements})
    readers = {c.name: cell_reader(c.field, c.unit or "") for c in elements}
    read_day = _day_reader(table, headings, rows, options)
    for row in rows:
        problems: list[Problem] = []
        if "" in row.cells:
            problems.append(Problem(row.line, "", row.cells[""]))
        day: date | None = None
        try:
            day = read_day(row.cells)
        except BadValue as error:
            problems.append(Problem(row.line, "date", str(error)))
        found: dict[str, float] = {}
        for column in elements:
            try:
                found[column.field] = _value(row.cells, column, readers[column.name], days.flags)
            except BadValue as error:
                problems.append(Problem(row.line, column.name, str(error)))
        low, high = found.get("tmin_c", math.nan), found.get("tmax_c", math.nan)
        if low > high:
            reason = f"the low {low:.1f} C is above the high {high:.1f} C"
            problems.append(Problem(row.line, "tmin", reason))
        if problems or day is None:
            days.problems.extend(problems)
        else:
            _store(days, row.line, day, found)
    return days


def _value(
    cells: Mapping[str, str], column: Column, read: Callable[[str], float], flags: FlagCounts
) -> float:
    text = cells.get(column.name, "")
    attributes = cells.get(f"{column.name}_attributes")
    if text and attributes and not flags.usable(*_attributes(attributes)):
        return math.nan
    return read(text)


def _store(days: _Days, line: int, day: date, found: Mapping[str, float]) -> None:
    ordinal = day.toordinal()
    said = tuple(None if math.isnan(value) else value for value in found.values())
    earlier_line, earlier_said = days.seen.setdefault(ordinal, (line, said))
    if earlier_line != line:
        if earlier_said == said:
            days.repeats += 1
        else:
            reason = f"{day} is there already and line {earlier_line} contradicts this one"
            days.problems.append(Problem(line, "date", reason))
        return
    for field_name, value in found.items():
        if not math.isnan(value):
            days.values[field_name][ordinal] = value


def _day_reader(
    table: Table, headings: Headings, rows: Sequence[Row], options: ReadOptions
) -> Callable[[Mapping[str, str]], date]:
    names = headings.date_columns
    if len(names) == 1:
        texts = {row.cells.get(names[0], "") for row in rows}
        read = date_reader(texts, options.date_order, table.path.name)
        return lambda cells: read(cells.get(names[0], ""))

    def from_parts(cells: Mapping[str, str]) -> date:
        texts = [cells.get(name, "") for name in names]
        if not all(text.isdecimal() and len(text) <= YEAR_DIGITS for text in texts):
            raise BadValue(f"{' '.join(texts)!r} is not a year, month and day")
        year, month, day = (int(text) for text in texts)
        return civil_date(year, month, day)

    return from_parts


def _place(row: Row) -> dict[str, float | None]:
    """Latitude, longitude and elevation; the archive gives metres in either unit system."""
    place: dict[str, float | None] = {}
    for name in PLACE_NAMES[1:]:
        try:
            value = float(row.cells.get(name, ""))
        except ValueError:
            value = math.nan
        missing = not math.isfinite(value) or value == MISSING_ELEVATION_M
        place[name] = None if missing else value
    return place
