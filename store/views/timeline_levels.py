"""The level of a station on any day of the timeline, worked out when it is first asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache

import numpy as np

from store.model.board import Board
from store.model.ensembles import Ensemble
from store.model.levels import StationLevels
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray

EVERY_DAYS = 7
"""Days between those of the future that are worked out; the others lie in between."""


@dataclass(frozen=True)
class DayLevel:
    """Median share of the tank, 0 to 1, and the width of the 80 percent band likewise."""

    share: float
    spread: float


LevelOn = Callable[[date], DayLevel | None]


def level_on_day(board: Board, station_id: str) -> LevelOn:
    """A function from a day to the level then; None where the model has none."""

    @cache
    def past() -> tuple[FloatArray, FloatArray] | None:
        levels = board.levels.by_station.get(station_id)
        return None if levels is None else _past(levels)

    @cache
    def ahead() -> tuple[FloatArray, FloatArray] | None:
        future = board.ahead.get(station_id)
        return None if future is None else _ahead(future)

    def level_on(day: date) -> DayLevel | None:
        levels, future = board.levels.by_station.get(station_id), board.ahead.get(station_id)
        found, index = past(), -1
        if levels is not None:
            index = (day - levels.first_day).days
        if future is not None and day >= future.first_day:
            found, index = ahead(), future.index(day)
        if found is None or not 0 <= index < len(found[0]):
            return None
        return DayLevel(float(found[0][index]), float(found[1][index]))

    return level_on


def _past(levels: StationLevels) -> tuple[FloatArray, FloatArray]:
    capacity_l = levels.station.tank.capacity_l
    return levels.share, (levels.high_l - levels.low_l) / capacity_l


def _ahead(future: Ensemble) -> tuple[FloatArray, FloatArray]:
    days = len(future.volume_l)
    some = np.append(np.arange(0, days - 1, EVERY_DAYS), days - 1)
    low, median, high = member_quantiles(future.share[some])
    return np.interp(np.arange(days), some, median), np.interp(np.arange(days), some, high - low)
