"""What a level chart shows, in numbers for a few sentences."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.model.board import Board
from store.views.level_series import LevelSeries


@dataclass(frozen=True)
class Extreme:
    """A level in mm below the rim, and the first day it was reached."""

    below_rim_mm: float
    on: date


@dataclass(frozen=True)
class LastRain:
    """The rain of a day in mm, and the last day of which the rain is known."""

    rain_mm: float
    on: date
    known_to: date


@dataclass(frozen=True)
class LevelSummary:
    """The days of a chart from `first_day` to `last_day`, the last that was modeled.

    Levels are in mm below the rim; the band now holds 80 percent of the courses, the fuller
    edge first. `days_dry` counts the days on which animals found no water within reach.
    """

    first_day: date
    last_day: date
    now_mm: float
    band_now_mm: tuple[float, float]
    highest: Extreme
    lowest: Extreme
    days_dry: int
    last_rain: LastRain | None
    """None where no rain is known up to the last day."""


def level_summary(board: Board, station_id: str, series: LevelSeries) -> LevelSummary:
    """The summary of a station's series, up to the last day that was modeled."""
    days = (series.last_modeled - series.first_day).days + 1
    below = series.below_rim_mm[:days]
    dry = board.levels.of(station_id).dry[-days:]

    def extreme(place: int) -> Extreme:
        return Extreme(float(below[place]), series.first_day + timedelta(days=place))

    return LevelSummary(
        first_day=series.first_day,
        last_day=series.last_modeled,
        now_mm=float(below[-1]),
        band_now_mm=(float(series.highest_mm[days - 1]), float(series.lowest_mm[days - 1])),
        highest=extreme(int(np.argmin(below))),
        lowest=extreme(int(np.argmax(below))),
        days_dry=int(np.count_nonzero(dry)),
        last_rain=_last_rain(board, station_id, series.last_modeled),
    )


def _last_rain(board: Board, station_id: str, last_day: date) -> LastRain | None:
    """The last day with rain that the record knows of, without what was filled in."""
    used = board.snapshot.weather_of(board.snapshot.places.stations[station_id])
    if used is None:
        return None
    rain_mm = used.weather.rain_mm[: max(0, (last_day - used.weather.first_day).days + 1)]
    known, wet = np.flatnonzero(np.isfinite(rain_mm)), np.flatnonzero(rain_mm > 0.0)
    if not wet.size:
        return None
    first = used.weather.first_day
    return LastRain(
        rain_mm=float(rain_mm[wet[-1]]),
        on=first + timedelta(days=int(wet[-1])),
        known_to=first + timedelta(days=int(known[-1])),
    )
