"""From scattered days to `DailyWeather`, and the last word on rejected lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

import numpy as np

from store.errors import BadFile, BadLines, Problem, SeveralPlaces
from store.weather.days import DailyWeather, empty_weather
from store.weather.files import ReadOptions
from store.weather.readers.cells import wind_at_2_m

ARCHIVE_WIND_HEIGHT_M = 10.0
"""Height of the anemometers behind archive wind unless stated (33 ft, ASOS User's
Guide 1998; value from memory)."""

SHOWN_STATIONS = 10
"""Stations of a file that a sentence names."""
ValuesByDay = Mapping[str, Mapping[int, float]]
"""For each element the value of each day known, by the day's ordinal number."""


def daily_weather(path: Path, values: ValuesByDay, wind_height_m: float) -> DailyWeather:
    """Lay known values out on consecutive days, NaN between; wind brought to 2 m.

    Raises:
        BadFile: not one rain or temperature is known.
    """
    if not any(values.get(field) for field in ("rain_mm", "tmin_c", "tmax_c")):
        raise BadFile(
            f"{path.name} holds no usable rain or temperature; check that it is the right file."
        )
    first = min(min(by_day) for by_day in values.values() if by_day)
    last = max(max(by_day) for by_day in values.values() if by_day)
    weather = empty_weather(date.fromordinal(first), last - first + 1)
    for field, by_day in values.items():
        at = np.fromiter(by_day.keys(), dtype=np.int64, count=len(by_day)) - first
        getattr(weather, field)[at] = np.fromiter(by_day.values(), float, count=len(by_day))
    if values.get("wind_m_s"):
        np.multiply(weather.wind_m_s, wind_at_2_m(wind_height_m), out=weather.wind_m_s)
    return weather


def pick_station(path: Path, stations: set[str], options: ReadOptions) -> str | None:
    """The only station of a file, or the one stated, in whatever case of letters.

    Raises:
        SeveralPlaces: several and none stated, or the stated one is not there.
    """
    in_order = sorted(stations)
    shown = ", ".join(in_order[:SHOWN_STATIONS])
    shown += " and more" if len(in_order) > SHOWN_STATIONS else ""
    if options.station is not None and stations:
        wanted = options.station.strip().casefold()
        for one in in_order:
            if one.casefold() == wanted:
                return one
        raise SeveralPlaces(
            f"{path.name} has no station {options.station}; it has {shown}; state one.", in_order
        )
    if len(stations) > 1:
        raise SeveralPlaces(
            f"{path.name} holds several stations ({shown}); state which one.", in_order
        )
    return next(iter(stations), None)


def settle(path: Path, problems: Sequence[Problem], options: ReadOptions) -> tuple[Problem, ...]:
    """The rejected lines in file order, when the person agreed to go on without them.

    Raises:
        BadLines: there are some and nobody agreed.
    """
    in_order = tuple(sorted(problems, key=lambda problem: problem.line))
    if in_order and not options.skip_bad_lines:
        raise BadLines(path, in_order)
    return in_order


def counted(count: int, one: str, many: str) -> tuple[str, ...]:
    """A note with a count, or none when there is nothing to tell."""
    if count == 0:
        return ()
    return (f"1 {one}.",) if count == 1 else (f"{count} {many}.",)
