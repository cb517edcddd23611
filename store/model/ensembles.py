"""The days to come, once for every past year's weather.

The standard method of ensemble streamflow prediction: today's water, and each past
year's weather as one equally likely course of the days ahead (Day 1985, J. Water
Resour. Plann. Manage. 111(2):157-170).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.model.known_levels import Levels
from store.model.modeled import Modeled
from store.model.site_weather import WeatherAhead
from store.water.balance import Balance, Change, ChangeKind, run_balance
from store.water.forcing import Forcing
from store.water.look_ahead import forecast_errors, forecast_start
from store.weather.days import BoolArray, FloatArray

DAYS_AHEAD = 400
"""Far enough for the next season's heavy use, and for a tank to clear by rain."""
MEMBERS_AHEAD = 200
"""Enough for medians and prompts."""
MEMBERS_FOR_CHANCES = 1000
"""Enough that sampling moves a chance by 1.6 points at most (one standard error)."""


@dataclass(frozen=True)
class Fill:
    """Water to be brought on a day; `volume_l` None means to the rim."""

    on: date
    volume_l: float | None = None


@dataclass(frozen=True, eq=False)
class Ensemble:
    """One station from tomorrow on; `volume_l` has shape (days, members).

    Members carry what is not known of the station, of storms and of demand; each
    lives through one course of the weather, and every course is used as often.
    `basis` says in words where the weather came from.
    """

    station: Modeled
    first_day: date
    volume_l: FloatArray
    basis: str

    @property
    def share(self) -> FloatArray:
        return self.volume_l / self.station.tank.capacity_l

    @property
    def dry(self) -> BoolArray:
        """Whether animals find no water within reach, shape (days, members)."""
        return self.volume_l < self.station.tank_site.dry_l

    def index(self, day: date) -> int:
        return (day - self.first_day).days


@dataclass(frozen=True, eq=False)
class EnsembleRun:
    """A future with the run behind it, too large to be kept for many stations.

    `balance` is of this station alone, `forcing` and `covered` are what it ran on;
    `temperature_c` is the mean of the day, shape (days, members).
    """

    future: Ensemble
    temperature_c: FloatArray
    forcing: Forcing
    covered: BoolArray
    balance: Balance


def ensemble_runs(
    levels: Levels,
    today: date,
    *,
    days: int = DAYS_AHEAD,
    members: int = MEMBERS_AHEAD,
    fills: Mapping[str, Fill] | None = None,
    only: Collection[str] | None = None,
) -> Iterator[tuple[str, EnsembleRun]]:
    """Run stations ahead of today, one after the other, with their ids.

    Retired stations have no future. At least `members` live through the courses of
    the weather, each course as often as the others. `fills` holds water to be
    brought, by station id; `only` names the stations wanted.
    """
    for station_id, station_levels in levels.by_station.items():
        station = station_levels.station
        if station.last < today or (only is not None and station_id not in only):
            continue
        weather = station.site.ahead(today, days, members)
        yield station_id, _run(levels, station, weather, (fills or {}).get(station_id), today)


def _run(
    levels: Levels,
    station: Modeled,
    weather: WeatherAhead,
    fill: Fill | None,
    today: date,
) -> EnsembleRun:
    forcing = weather.forcing
    covered = np.full((forcing.days, 1), _covered_today(levels, station))
    ahead = forecast_start(levels.followed[station.facts.station_id], forcing.rain_mm.shape[2])
    errors = forecast_errors(ahead, forcing)
    start_l, changes = ahead.volume_l, []
    if fill is not None and fill.on <= today:
        room_l = station.tank.capacity_l - start_l
        start_l = start_l + (room_l if fill.volume_l is None else fill.volume_l)
    elif fill is not None:
        day = (fill.on - today).days - 1
        changes = [Change(day, 0, ChangeKind.ADD, fill.volume_l)]
    balance = run_balance(
        [station.tank_site],
        forcing,
        ahead.parameters,
        start_l,
        changes=changes,
        covered=covered,
        rain_error=errors.rain,
        demand_error=errors.demand,
    )
    future = Ensemble(
        station=station,
        first_day=today + timedelta(days=1),
        volume_l=balance.volume_l[:, 0],
        basis=weather.basis,
    )
    return EnsembleRun(future, weather.temperature_c, forcing, covered, balance)


def _covered_today(levels: Levels, station: Modeled) -> bool:
    return bool(levels.waters[station.facts.station_id].covered[-1])
