"""The days to come, once for every past year's weather.

The standard method of ensemble streamflow prediction: today's water, and each past
year's weather as one equally likely course of the days ahead (Day 1985, J. Water
Resour. Plann. Manage. 111(2):157-170). A record with fewer than ten whole years
lends its statistics instead: a seeded generator invents courses like it.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.answers.levels import Levels
from store.answers.water_input import Modeled, elevation_m
from store.water.balance import Balance, run_balance
from store.water.forcing import Forcing, daily_forcing
from store.water.parameters import default_parameters
from store.weather.days import FloatArray
from store.weather.fit import fit_climate
from store.weather.gaps import fill_gaps
from store.weather.generator import generate
from store.weather.members import WeatherMembers
from store.weather.years import weather_years

DAYS_AHEAD = 400
"""Far enough for the next season's heavy use, and for a tank to clear by rain."""
FEWEST_YEARS = 10
INVENTED_COURSES = 40
SEED = 20_260_401
"""Fixed, so that the same logbook and day give the same numbers on every run."""
WARM_UP_DAYS = 200
"""Days before today that the snow pack, the ice and the wetness of the soil come from."""


@dataclass(frozen=True, eq=False)
class Future:
    """One station from tomorrow on; `volume_l` and `balance` have members by column.

    `volume_l` has shape (days, members); `column` is the station's in `balance`.
    `basis` says in words where the weather came from.
    """

    station: Modeled
    first_day: date
    volume_l: FloatArray
    balance: Balance
    column: int
    basis: str

    @property
    def share(self) -> FloatArray:
        return self.volume_l / self.station.tank.capacity_l

    def index(self, day: date) -> int:
        return (day - self.first_day).days


def futures(
    answer: Levels, today: date, *, full: bool = False, only: Collection[str] | None = None
) -> dict[str, Future]:
    """Run stations `DAYS_AHEAD` of today, by station id; retired ones have no future.

    With `full` every tank starts at the rim. `only` names the stations wanted.
    """
    by_site: dict[tuple[str, float], list[Modeled]] = {}
    for station_id, station_levels in answer.by_station.items():
        station = station_levels.station
        if station.last == today and (only is None or station_id in only):
            by_site.setdefault(station.site, []).append(station)
    result: dict[str, Future] = {}
    for stations in by_site.values():
        result |= _site_futures(answer, stations, today, full)
    return result


def _site_futures(
    answer: Levels, stations: Sequence[Modeled], today: date, full: bool
) -> dict[str, Future]:
    forcing, basis = _forcing(stations[0], today)
    now = [answer.by_station[station.facts.station_id] for station in stations]
    covered = np.array([_covered_today(answer, station) for station in stations])
    start = [
        station.tank.capacity_l if full else float(levels.volume_l[-1])
        for station, levels in zip(stations, now, strict=True)
    ]
    balance = run_balance(
        [station.setting for station in stations],
        forcing,
        default_parameters([station.facts for station in stations]),
        start_volume_l=np.array(start)[:, np.newaxis],
        covered=np.broadcast_to(covered, (DAYS_AHEAD, len(stations))),
    )
    return {
        station.facts.station_id: Future(
            station=station,
            first_day=today + timedelta(days=1),
            volume_l=balance.volume_l[:, column],
            balance=balance,
            column=column,
            basis=basis,
        )
        for column, station in enumerate(stations)
    }


def _covered_today(answer: Levels, station: Modeled) -> bool:
    source, _ = answer.run
    return bool(source.covered[-1, source.stations.index(station)])


def _forcing(station: Modeled, today: date) -> tuple[Forcing, str]:
    """Forcing of the days ahead, shape (days, 1, members), and its basis in words."""
    members, basis = _courses(station, today + timedelta(days=1))
    past = fill_gaps(station.weather.weather, today - timedelta(days=WARM_UP_DAYS - 1), today)
    count = members.rain_mm.shape[1]

    def joined(before: FloatArray, after: FloatArray) -> FloatArray:
        known = np.broadcast_to(before[:, np.newaxis], (WARM_UP_DAYS, count))
        return np.concatenate([known, after])[:, np.newaxis, :]

    forcing = daily_forcing(
        past.first_day,
        joined(past.rain_mm, members.rain_mm),
        joined(past.tmin_c, members.tmin_c),
        joined(past.tmax_c, members.tmax_c),
        latitude_deg=station.latitude_deg,
        elevation_m=elevation_m(station.weather),
    )
    return forcing.between(WARM_UP_DAYS, WARM_UP_DAYS + DAYS_AHEAD), basis


def _courses(station: Modeled, first_day: date) -> tuple[WeatherMembers, str]:
    record = station.weather.weather
    whole = fill_gaps(record, record.first_day, record.last_day)
    years = weather_years(whole, first_day, DAYS_AHEAD)
    if len(years.years) >= FEWEST_YEARS:
        return years.members, f"{len(years.years)} weather years"
    invented = generate(
        fit_climate(record), first_day, DAYS_AHEAD, INVENTED_COURSES, np.random.default_rng(SEED)
    )
    return invented, (
        f"{INVENTED_COURSES} invented courses like the {record.days} days of record "
        f"(fewer than {FEWEST_YEARS} whole years)"
    )
