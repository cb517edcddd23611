"""Which heading of a table means which element of the weather, and in which unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.csv_text import Table, column_name
from store.errors import BadFile, BadValue
from store.weather.files import FileUnits, ReadOptions

_NAMES: Mapping[str, str] = {
    "rain_mm": "rain rainfall precipitation precip prcp ppt total_precipitation",
    "tmin_c": "tmin t_min temp_min min_temp temperature_min minimum_temperature low mintemp",
    "tmax_c": "tmax t_max temp_max max_temp temperature_max maximum_temperature high maxtemp",
    "humidity_pct": "humidity rh relative_humidity rhav",
    "dewpoint_c": "dewpoint dew_point dewpt adpt",
    "wind_m_s": "wind wind_speed windspeed awnd",
    "sun_mj_m2": "sun solar solar_radiation radiation srad",
}
_TEMPERATURE = {
    **dict.fromkeys(("c", "degc", "deg_c", "celsius", "degrees_c"), "c"),
    **dict.fromkeys(("f", "degf", "deg_f", "fahrenheit", "degrees_f"), "f"),
}
_UNITS: Mapping[str, Mapping[str, str]] = {
    "rain_mm": {
        **dict.fromkeys(("mm", "mm_d", "mm_day", "millimetres", "millimeters"), "mm"),
        **dict.fromkeys(("in", "inch", "inches", "in_day"), "in"),
    },
    "tmin_c": _TEMPERATURE,
    "tmax_c": _TEMPERATURE,
    "humidity_pct": dict.fromkeys(("pct", "percent"), "pct"),
    "dewpoint_c": _TEMPERATURE,
    "wind_m_s": {
        **dict.fromkeys(("m_s", "ms", "m_s_1", "mps"), "m_s"),
        **dict.fromkeys(("km_h", "kmh", "kph"), "km_h"),
        "mph": "mph",
    },
    "sun_mj_m2": {
        **dict.fromkeys(("mj_m2", "mj_m", "mj_m2_day", "mj_m2_d"), "mj_m2"),
        **dict.fromkeys(("w_m2", "w_m"), "w_m2"),
        **dict.fromkeys(("langley", "langleys", "ly"), "langley"),
    },
}
SYSTEM_UNITS: Mapping[FileUnits, Mapping[str, str]] = {
    FileUnits.METRIC: {
        "rain_mm": "mm", "tmin_c": "c", "tmax_c": "c", "dewpoint_c": "c", "wind_m_s": "m_s",
    },
    FileUnits.US: {
        "rain_mm": "in", "tmin_c": "f", "tmax_c": "f", "dewpoint_c": "f", "wind_m_s": "mph",
    },
    FileUnits.TENTHS: {
        "rain_mm": "tenths_mm", "tmin_c": "tenths_c", "tmax_c": "tenths_c",
        "dewpoint_c": "tenths_c", "wind_m_s": "tenths_m_s",
    },
}  # fmt: skip
"""The unit of a column that does not name its own."""

_FIELD_OF = {name: field for field, names in _NAMES.items() for name in names.split()}
_DATE_NAMES = ("date", "day", "datetime", "time", "observation_date", "obs_date")
_DATE_PARTS = ("year", "month", "day")
STATION_NAMES = ("station", "station_id", "location", "site")
PLACE_NAMES = ("name", "latitude", "longitude", "elevation")
EXPECTED = (
    "date, and rain_mm or rain_in, tmin_c or tmin_f, tmax_c or tmax_f; also humidity_pct, "
    "dewpoint_c, wind_m_s or wind_mph, sun_mj_m2"
)


@dataclass(frozen=True)
class Column:
    """A column of the file: its name there, the element, the unit if it is named."""

    name: str
    field: str
    unit: str | None


@dataclass(frozen=True)
class Headings:
    """`date_columns` is one column, or year, month and day in that order."""

    date_columns: tuple[str, ...]
    elements: tuple[Column, ...]
    station: str | None
    unknown: tuple[str, ...]


def understand(name: str, known_as: str | None = None) -> Column | None:
    """The element a column name stands for, or None; `known_as` replaces the name."""
    meaning = known_as or name
    if field := _FIELD_OF.get(meaning):
        return Column(name, field, "pct" if field == "humidity_pct" else None)
    for stem in sorted(_FIELD_OF, key=len, reverse=True):
        if meaning.startswith(f"{stem}_"):
            unit = _UNITS[_FIELD_OF[stem]].get(meaning[len(stem) + 1 :])
            if unit:
                return Column(name, _FIELD_OF[stem], unit)
    return None


def read_headings(table: Table, options: ReadOptions) -> Headings:
    """Sort the columns of a table into date, elements, station and the unknown.

    Raises:
        BadFile: no date, no rain and no temperature, or one element twice.
        BadValue: the stated columns name something that is not known.
    """
    stated = _stated_columns(table, options)
    date_columns = _date_columns(table, stated)
    found = tuple(
        column
        for name in table.columns
        if name not in date_columns and (column := understand(name, stated.get(name)))
    )
    # Sunshine without a unit could be hours, watts or megajoules: left aside, and named.
    elements = tuple(c for c in found if c.unit or c.field != "sun_mj_m2")
    if not date_columns or not {c.field for c in elements} & {"rain_mm", "tmin_c", "tmax_c"}:
        raise BadFile(
            f"{table.path.name} has no column read as "
            f"{'rain or temperature' if date_columns else 'a date'}. Columns found: "
            f"{', '.join(table.columns)}. Expected: {EXPECTED}. "
            "Rename them or state which is which."
        )
    _refuse_rivals(table, elements)
    station = next((name for name in STATION_NAMES if name in table.columns), None)
    used = {*date_columns, *(column.name for column in elements), station, *PLACE_NAMES}
    unknown = tuple(
        name
        for name in table.columns
        if name not in used and name.removesuffix("_attributes") not in {*table.columns} - {name}
    )
    return Headings(date_columns, elements, station, unknown)


def _stated_columns(table: Table, options: ReadOptions) -> dict[str, str]:
    stated = {column_name(k): column_name(v) for k, v in options.columns.items()}
    for name, meaning in stated.items():
        if name not in table.columns:
            raise BadFile(
                f"{table.path.name} has no column {name}; it has {', '.join(table.columns)}."
            )
        if meaning != "date" and understand(meaning) is None:
            raise BadValue(f"{meaning} is not an element of the weather; use {EXPECTED}.")
    return stated


def _date_columns(table: Table, stated: Mapping[str, str]) -> tuple[str, ...]:
    for name, meaning in stated.items():
        if meaning == "date":
            return (name,)
    if "date" not in table.columns and all(part in table.columns for part in _DATE_PARTS):
        return _DATE_PARTS
    return tuple(name for name in _DATE_NAMES if name in table.columns)[:1]


def _refuse_rivals(table: Table, elements: tuple[Column, ...]) -> None:
    first: dict[str, str] = {}
    for column in elements:
        rival = first.setdefault(column.field, column.name)
        if rival != column.name:
            raise BadFile(
                f"{table.path.name} has {rival} and {column.name} for the same element; "
                "remove one of them."
            )
