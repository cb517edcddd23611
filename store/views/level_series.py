"""The level of one station over this season: modeled so far, and what may come."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from store.model.board import Board
from store.model.ensembles import Ensemble
from store.model.levels import StationLevels, day_runs
from store.records import Reading
from store.water.geometry import Tank, below_rim_mm
from store.weather.days import FloatArray

LOW, HIGH = 0.10, 0.90
"""The band holds the weather courses between these shares of them."""


@dataclass(frozen=True)
class LevelRead:
    """A reading; `entry_id` is that of its entry."""

    on: date
    below_rim_mm: float
    entry_id: str


@dataclass(frozen=True, eq=False)
class LevelSeries:
    """Levels in mm below the rim, one a day from `first_day`; arrays of shape (days,).

    Up to `last_modeled` as modeled or read, then the median of the weather courses.
    `highest_mm` and `lowest_mm` are the edges of the 80 percent band, the fuller edge
    first. `basis` is empty without a future.
    """

    first_day: date
    last_modeled: date
    below_rim_mm: FloatArray
    highest_mm: FloatArray
    lowest_mm: FloatArray
    depth_mm: float
    dry_mm: float
    """Where the tank is dry to an animal."""
    readings: tuple[LevelRead, ...]
    basis: str


def level_series(board: Board, station_id: str, since: date | None = None) -> LevelSeries | None:
    """The course from 1 January, or the install, to the end of the next heavy-use weeks.

    With `since` from the 1 January of that day's year, where it is an earlier one. Of a tank
    retired in an earlier year, its last year. None without a modeled level.
    """
    levels = board.levels.by_station.get(station_id)
    if levels is None:
        return None
    tank, last = levels.station.tank, levels.station.last
    shown = last if since is None else min(since, last)
    first = max(levels.first_day, shown.replace(month=1, day=1))
    so_far = slice((first - levels.first_day).days, None)
    past = levels.below_rim_mm[so_far]
    past_high, past_low = (
        below_rim_mm(tank, band[so_far]) for band in (levels.high_l, levels.low_l)
    )
    future = board.ahead.get(station_id)
    median, highest, lowest = _ahead(future, tank, board.snapshot.heavy_use(station_id).last)
    return LevelSeries(
        first_day=first,
        last_modeled=last,
        below_rim_mm=np.concatenate([past, median]),
        highest_mm=np.concatenate([np.minimum(past_high, past), highest]),
        lowest_mm=np.concatenate([np.maximum(past_low, past), lowest]),
        depth_mm=tank.depth_mm,
        dry_mm=float(below_rim_mm(tank, levels.station.tank_site.dry_l)),
        readings=_readings(board, levels, first),
        basis="" if future is None else future.basis,
    )


def _ahead(
    future: Ensemble | None, tank: Tank, end: date
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Median, fuller and emptier edge in mm below the rim, up to `end`."""
    if future is None:
        none = np.zeros(0)
        return none, none, none
    volume_l = future.volume_l[: future.index(end) + 1]
    low, median, high = np.quantile(volume_l, (LOW, 0.5, HIGH), axis=1)
    return below_rim_mm(tank, median), below_rim_mm(tank, high), below_rim_mm(tank, low)


def _readings(board: Board, levels: StationLevels, first: date) -> tuple[LevelRead, ...]:
    depth_mm = levels.station.tank.depth_mm
    entries = board.snapshot.log.get(levels.station.facts.station_id, ())
    return tuple(
        LevelRead(entry.day, entry.fact.below_rim_of(depth_mm), entry.entry_id)
        for entry in entries
        if isinstance(entry.fact, Reading) and first <= entry.day <= levels.station.last
    )


def dry_ahead(future: Ensemble) -> list[tuple[date, date]]:
    """Runs of days that most courses leave dry, first and last day of each."""
    return day_runs(future.first_day, future.dry.mean(axis=1) > 0.5)
