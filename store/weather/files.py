"""What a weather file is read with, and what comes out of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path

from store.errors import Problem
from store.weather.days import DailyWeather


class FileUnits(StrEnum):
    """The unit system of columns that do not name their unit."""

    METRIC = "metric"
    """mm, degrees C, m/s."""
    US = "us"
    """Inches, degrees F, miles an hour."""
    TENTHS = "tenths"
    """Whole tenths of mm, degrees C and m/s, as GHCN-Daily stores them."""


class DateOrder(StrEnum):
    """How to read 03/04/2025."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


@dataclass(frozen=True)
class ReadOptions:
    """What a person can say about a file that does not say it itself.

    `columns` maps a heading of the file to a name this reader knows, with its unit
    or without: `{"Amount": "rain_in", "When": "date"}`. `station` picks one station
    of a file that holds several. `wind_height_m` is the height of the anemometer.
    """

    units: FileUnits | None = None
    columns: Mapping[str, str] = field(default_factory=dict)
    date_order: DateOrder | None = None
    station: str | None = None
    wind_height_m: float | None = None
    skip_bad_lines: bool = False


@dataclass(frozen=True)
class WeatherFile:
    """A weather file as read; `notes` are sentences a person should see."""

    path: Path
    format_name: str
    station_id: str | None
    station_name: str | None
    latitude_deg: float | None
    longitude_deg: float | None
    elevation_m: float | None
    weather: DailyWeather
    notes: tuple[str, ...] = ()
    rejected: tuple[Problem, ...] = ()
