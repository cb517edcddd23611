"""The modeled level of every station on every day up to today."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date, timedelta

import numpy as np

from store.errors import BadValue
from store.model.assimilation import FilterCache, filter_runs
from store.model.modeled import Modeled, modeled_stations
from store.model.snapshot import Snapshot
from store.model.water_input import WaterInput, water_input
from store.water.balance import Balance, run_balance
from store.water.filter_run import FilterRun
from store.water.geometry import below_rim_mm
from store.water.parameters import Parameters
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
    """Whether somebody read the level that day, and the model does not doubt it."""

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

    def dry_spells(self) -> list[tuple[date, date]]:
        """Runs of dry days, first and last day of each."""
        return day_runs(self.first_day, self.dry)


def day_runs(first_day: date, wanted: BoolArray) -> list[tuple[date, date]]:
    """Runs of the days that are true, first and last day of each."""
    return [
        (first_day + timedelta(days=run.start), first_day + timedelta(days=run.stop - 1))
        for run in true_runs(wanted)
    ]


@dataclass(frozen=True, eq=False)
class Levels:
    """The levels of a logbook: by station id, or the sentence why there is none.

    `followed` holds the members of each station. `input` is what the model ran on
    and `balance` its middle course, with learned medians and readings taken at their
    word, for accounts that must close; both None where no station can be modeled.
    """

    by_station: Mapping[str, StationLevels]
    without: Mapping[str, str]
    followed: Mapping[str, FilterRun] = field(default_factory=dict)
    input: WaterInput | None = None
    balance: Balance | None = None

    def of(self, station_id: str) -> StationLevels:
        """The levels of one station.

        Raises:
            BadValue: it has none; the sentence says why.
        """
        if station_id not in self.by_station:
            raise BadValue(self.without.get(station_id, "That station has no level."))
        return self.by_station[station_id]

    @property
    def run(self) -> tuple[WaterInput, Balance]:
        """The run behind the levels.

        Raises:
            BadValue: no station can be modeled.
        """
        if self.input is None or self.balance is None:
            raise BadValue("No station has a level to go on from.")
        return self.input, self.balance


def levels_of(snapshot: Snapshot, memory: FilterCache | None = None) -> Levels:
    """Follow every station up to the snapshot's day.

    `memory` carries what an earlier call worked out, so that only stations with
    something new are followed again.
    """
    stations, without = modeled_stations(snapshot)
    if not stations:
        return Levels({}, without)
    followed = filter_runs(snapshot, stations, {} if memory is None else memory)
    source = water_input(snapshot, stations)
    balance = run_balance(
        [station.tank_site for station in stations],
        source.forcing,
        _medians([followed[station.facts.station_id] for station in stations]),
        start_volume_l=0.0,
        changes=source.changes,
        in_place=source.in_place,
        covered=source.covered,
        demand_error=source.demand_share[:, :, np.newaxis],
    )
    by_station = {
        station.facts.station_id: _station_levels(
            source, balance, followed[station.facts.station_id], column
        )
        for column, station in enumerate(stations)
    }
    return Levels(by_station, without, followed, source, balance)


def _medians(followed: Sequence[FilterRun]) -> Parameters:
    """The median of each station's parameters, shape (stations, 1)."""
    return Parameters(
        *(
            np.array([[np.median(getattr(one.parameters, name.name))] for one in followed])
            for name in fields(Parameters)
        )
    )


def _station_levels(
    source: WaterInput, balance: Balance, followed: FilterRun, column: int
) -> StationLevels:
    station = source.stations[column]
    days = slice(source.index(station.first), source.index(station.last) + 1)
    length = days.stop - days.start
    read = np.zeros(length, dtype=bool)
    for check in followed.checks:
        read[check.observation.day] = not check.doubted
    low, median, high = followed.hindsight_l[:, :length, 0]
    return StationLevels(
        station=station,
        volume_l=np.where(read, balance.volume_l[days, column, 0], median),
        low_l=low,
        median_l=median,
        high_l=high,
        overflow_l=followed.overflow_l[:length, 0],
        read=read,
    )
