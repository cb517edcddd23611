"""GHCN-Daily as published: the fixed-width .dly file, and one value a line as CSV.

Layout, units and flags: GHCN-Daily readme (NOAA NCEI), section III, and the note on
the by-year files. Values are whole tenths (mm, C, m/s), -9999 where missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from store.errors import BadValue, Problem
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

ELEMENTS: Mapping[str, tuple[str, str]] = {
    "PRCP": ("rain_mm", "tenths_mm"),
    "TMAX": ("tmax_c", "tenths_c"),
    "TMIN": ("tmin_c", "tenths_c"),
    "AWND": ("wind_m_s", "tenths_m_s"),
    "ADPT": ("dewpoint_c", "tenths_c"),
    "RHAV": ("humidity_pct", "pct"),
}
"""The elements used. MDPR, a total of several days, is passed over with the rest."""

DLY_LINE = re.compile(
    r"[A-Z]{2}[A-Z0-9_-]{9}\d{4}(0[1-9]|1[0-2])[A-Z]{2}[A-Z0-9]{2}[ \d-]{5}.{0,243}\s*"
)
LONG_LINE = re.compile(r'"?[A-Z]{2}[A-Z0-9_-]{9}"?,"?\d{8}"?,"?[A-Z]{2}[A-Z0-9]{2}"?,.*')
LONG_HEADER = re.compile(r'"?(id|station|station_id)"?,[^,]*,"?element"?,.*', re.IGNORECASE)

_FIRST_VALUE = 21
"""Zero-based start of VALUE1, columns 22-26 of the readme; each day takes eight."""


@dataclass(frozen=True, slots=True)
class Observation:
    """One value as it stands in the file, before anything is judged."""

    line: int
    station: str
    day: date | None
    element: str
    text: str
    measurement: str
    quality: str
    reason: str = ""
    """Why the date cannot be read, when `day` is None."""


@dataclass
class _Gathered:
    values: dict[str, dict[int, float]] = field(default_factory=dict)
    lines: dict[tuple[str, int], int] = field(default_factory=dict)
    flags: FlagCounts = field(default_factory=FlagCounts)
    repeats: int = 0
    problems: list[Problem] = field(default_factory=list)


def read_dly(path: Path, lines: Sequence[str], options: ReadOptions) -> WeatherFile:
    """Read a .dly file. Raises: BadFile, BadLines (see `read_weather`)."""
    problems: list[Problem] = []
    observations = list(_dly_observations(lines, problems))
    return _weather_file(path, "GHCN-Daily .dly", observations, problems, options)


def read_long(path: Path, lines: Sequence[str], options: ReadOptions) -> WeatherFile:
    """Read one value a line as CSV, with or without a header. Raises: as `read_dly`."""
    problems: list[Problem] = []
    observations = list(_long_observations(path, lines, problems))
    return _weather_file(path, "GHCN-Daily CSV, a value a line", observations, problems, options)


def _dly_observations(lines: Sequence[str], problems: list[Problem]) -> Iterator[Observation]:
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        if not DLY_LINE.fullmatch(line):
            problems.append(Problem(number, "", "not a GHCN-Daily month of one element"))
            continue
        station, element = line[:11], line[17:21]
        if element not in ELEMENTS:
            continue
        year, month = int(line[11:15]), int(line[15:17])
        padded = line.ljust(_FIRST_VALUE + 8 * 31)
        for day in range(1, 32):
            at = _FIRST_VALUE + 8 * (day - 1)
            text = padded[at : at + 5].strip()
            if text in ("-9999", ""):
                continue
            measurement, quality = padded[at + 5].strip(), padded[at + 6].strip()
            found, reason = _day(year, month, day)
            yield Observation(number, station, found, element, text, measurement, quality, reason)


def _day(year: int, month: int, day: int) -> tuple[date | None, str]:
    try:
        return civil_date(year, month, day), ""
    except BadValue as error:
        return None, str(error)


def _long_observations(
    path: Path, lines: Sequence[str], problems: list[Problem]
) -> Iterator[Observation]:
    read_date = date_reader((), None, path.name)
    for number, line in enumerate(lines, start=1):
        if not line.strip() or LONG_HEADER.fullmatch(line):
            continue
        cells = [cell.strip() for cell in line.replace('"', "").split(",")]
        if len(cells) < 4:
            problems.append(Problem(number, "", "fewer than four cells"))
            continue
        station, date_text, element, text, measurement, quality = [*cells, "", ""][:6]
        if element not in ELEMENTS or text in ("-9999", ""):
            continue
        found, reason = None, ""
        try:
            found = read_date(date_text)
        except BadValue as error:
            reason = str(error)
        yield Observation(number, station, found, element, text, measurement, quality, reason)


def _weather_file(
    path: Path,
    format_name: str,
    observations: Sequence[Observation],
    problems: Sequence[Problem],
    options: ReadOptions,
) -> WeatherFile:
    station = pick_station(path, {one.station for one in observations}, options)
    gathered = _gather([one for one in observations if one.station == station])
    gathered.problems.extend(problems)
    _refuse_crossed_temperatures(gathered)
    rejected = settle(path, gathered.problems, options)
    wind_height_m = options.wind_height_m
    if wind_height_m is None:
        wind_height_m = ARCHIVE_WIND_HEIGHT_M
    weather = daily_weather(path, gathered.values, wind_height_m)
    notes = [
        *gathered.flags.notes(),
        *counted(
            gathered.repeats,
            "value repeats an earlier line and was read once",
            "values repeat earlier lines and were read once",
        ),
    ]
    if gathered.values.get("wind_m_s"):
        notes.append(f"Wind taken as measured at {wind_height_m:g} m and brought to 2 m.")
    if options.units not in (None, FileUnits.TENTHS):
        notes.append("This format is always in tenths; the units stated were not used.")
    return WeatherFile(
        path=path,
        format_name=format_name,
        station_id=station,
        station_name=None,
        latitude_deg=None,
        longitude_deg=None,
        elevation_m=None,
        weather=weather,
        notes=tuple(notes),
        rejected=rejected,
    )


def _gather(observations: Sequence[Observation]) -> _Gathered:
    gathered = _Gathered()
    readers = {element: cell_reader(*meaning) for element, meaning in ELEMENTS.items()}
    for one in observations:
        if not gathered.flags.usable(one.measurement, one.quality):
            continue
        if one.day is None:
            gathered.problems.append(Problem(one.line, "date", one.reason))
            continue
        field_name = ELEMENTS[one.element][0]
        ordinal = one.day.toordinal()
        try:
            value = _whole(one.text) and readers[one.element](one.text)
        except BadValue as error:
            where = f"{one.element} of {one.day}"
            gathered.problems.append(Problem(one.line, where, str(error)))
            continue
        by_day = gathered.values.setdefault(field_name, {})
        if ordinal not in by_day:
            by_day[ordinal] = value
            gathered.lines[field_name, ordinal] = one.line
        elif by_day[ordinal] == value:
            gathered.repeats += 1
        else:
            earlier = gathered.lines[field_name, ordinal]
            reason = f"{one.text} on {one.day} contradicts line {earlier}"
            gathered.problems.append(Problem(one.line, one.element, reason))
    return gathered


def _whole(text: str) -> bool:
    if not re.fullmatch(r"-?\d+", text):
        raise BadValue(f"{text!r} is not a whole number of tenths")
    return True


def _refuse_crossed_temperatures(gathered: _Gathered) -> None:
    """A lowest above the highest: both are put aside, the later line is named."""
    lows, highs = gathered.values.get("tmin_c", {}), gathered.values.get("tmax_c", {})
    for ordinal in [at for at, low in lows.items() if low > highs.get(at, low)]:
        line = max(gathered.lines["tmin_c", ordinal], gathered.lines["tmax_c", ordinal])
        low, high = lows.pop(ordinal), highs.pop(ordinal)
        reason = (
            f"the low {low:.1f} C of {date.fromordinal(ordinal)} is above the high {high:.1f} C"
        )
        gathered.problems.append(Problem(line, "TMIN", reason))
