"""The modeled level of every station on every day up to today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date, timedelta
from functools import lru_cache

import numpy as np

from store.errors import BadValue
from store.model.assimilation import FilterCache, filter_runs
from store.model.known_levels import TREND_DAYS, LevelNow, Levels
from store.model.modeled import Modeled, modeled_stations
from store.model.snapshot import Snapshot
from store.model.water_input import StationWater, WaterInput, station_water, water_input
from store.model.water_log import at_their_word
from store.water.balance import Balance, apply_change, run_balance
from store.water.filter_run import FilterRun
from store.water.geometry import below_rim_mm
from store.water.parameters import Parameters
from store.water.terms import columns_of
from store.weather.days import BoolArray, FloatArray, true_runs

SHOWN_DAYS = 30


@dataclass(frozen=True, eq=False)
class StationLevels:
    """Levels at the end of each day from `station.first`; arrays of shape (days,).

    `volume_l` is the median of the members, or what was read on a day somebody read
    it; `low_l`, `median_l` and `high_l` are the 10, 50 and 90 percent quantiles. All know the
    next reading after the day too. `overflow_l` is what spilled over the rim, the mean of the
    members.
    """

    station: Modeled
    volume_l: FloatArray
    low_l: FloatArray
    median_l: FloatArray
    high_l: FloatArray
    overflow_l: FloatArray
    read: BoolArray
    """Whether somebody read the level that day, and the model does not doubt it; on the last day
    the person's word stands against the model, unless two readings contradict each other."""

    @property
    def first_day(self) -> date:
        return self.station.first

    @property
    def share(self) -> FloatArray:
        """Of the capacity, 0 to 1."""
        return self.volume_l / self.station.tank.capacity_l

    @property
    def below_rim_mm(self) -> FloatArray:
        return below_rim_mm(self.station.tank, self.volume_l)

    @property
    def dry(self) -> BoolArray:
        """Whether animals found no water within reach."""
        return self.volume_l < self.station.tank_site.dry_l

    def at(self, day: int = -1) -> LevelNow:
        """The level of a day, an index into the levels; the last day if not given."""
        tank, volume_l = self.station.tank, float(self.volume_l[day])
        low_l = min(float(self.low_l[day]), volume_l)
        high_l = max(float(self.high_l[day]), volume_l)
        return LevelNow(
            share=float(self.share[day]),
            low_share=low_l / tank.capacity_l,
            high_share=high_l / tank.capacity_l,
            volume_l=volume_l,
            below_rim_mm=float(self.below_rim_mm[day]),
            highest_mm=float(below_rim_mm(tank, high_l)),
            lowest_mm=float(below_rim_mm(tank, low_l)),
            read_today=bool(self.read[day]),
            dry=bool(self.dry[day]),
            trend=tuple(self.share[: day % len(self.share) + 1][-TREND_DAYS:].tolist()),
        )

    def dry_spells(self) -> list[tuple[date, date]]:
        """Runs of dry days, first and last day of each."""
        return day_runs(self.first_day, self.dry)


def day_runs(first_day: date, wanted: BoolArray) -> list[tuple[date, date]]:
    """Runs of the days that are true, first and last day of each."""
    return [
        (first_day + timedelta(days=run.start), first_day + timedelta(days=run.stop - 1))
        for run in true_runs(wanted)
    ]


def levels_of(snapshot: Snapshot, memory: FilterCache | None = None) -> Levels:
    """Follow every station up to the snapshot's day.

    `memory` carries what an earlier call worked out, so that only stations with
    something new are followed again.
    """
    stations, without = modeled_stations(snapshot)
    waters = {one.facts.station_id: station_water(snapshot, one) for one in stations}
    followed = filter_runs(
        snapshot, list(waters.values()), FilterCache() if memory is None else memory
    )
    by_station = {key: _station_levels(water, followed[key]) for key, water in waters.items()}
    return Levels(by_station, without, followed, waters)


@lru_cache(maxsize=1)
def middle_run(levels: Levels) -> tuple[WaterInput, Balance]:
    """All stations run once more on their middle course, for accounts that must close.

    With learned medians, and readings taken at their word.

    Raises:
        BadValue: no station can be modeled.
    """
    if not levels.waters:
        raise BadValue("No station has a level to go on from.")
    source = water_input(list(levels.waters.values()))
    balance = run_balance(
        [station.tank_site for station in source.stations],
        source.forcing,
        _medians([levels.followed[station_id] for station_id in levels.waters]),
        start_volume_l=0.0,
        changes=source.changes,
        in_place=source.in_place,
        covered=source.covered,
        demand_error=source.demand_share[:, :, np.newaxis],
    )
    return source, balance


def _medians(followed: Sequence[FilterRun]) -> Parameters:
    """The median of each station's parameters, shape (stations, 1)."""
    return Parameters(
        *(
            np.array([[np.median(getattr(one.parameters, name.name))] for one in followed])
            for name in fields(Parameters)
        )
    )


def _station_levels(water: StationWater, followed: FilterRun) -> StationLevels:
    station = water.station
    length = (station.last - station.first).days + 1
    read = np.zeros(length, dtype=bool)
    for check in followed.checks:
        own_day = check.observation.day == length - 1 and not check.contradicted
        read[check.observation.day] = own_day or not check.doubted
    low, median, high = followed.hindsight_l[:, :length, 0]
    volume = median.copy()
    for day, volume_l in _evenings_read(water).items():
        if read[day]:
            volume[day] = volume_l
    return StationLevels(
        station=station,
        volume_l=volume,
        low_l=low,
        median_l=median,
        high_l=high,
        overflow_l=followed.overflow_l[:length, 0],
        read=read,
    )


def _evenings_read(water: StationWater) -> dict[int, float]:
    """The water in L on evenings of a reading, taken at its word, and of what came after it."""
    columns = columns_of([water.station.tank_site])
    days = {day for day, _ in water.log.levels}
    volume = dict.fromkeys(days, np.zeros(1))
    for change in at_their_word(water.station, water.log):
        if change.day in days:
            volume[change.day] = apply_change(change, volume[change.day].copy(), columns).after_l
    return {day: float(found[0]) for day, found in volume.items()}
