"""From a logbook's entries and weather to what the water balance runs on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from store.contamination.parameters import CausePriors, keeps_animals_off
from store.contamination.tank_weather import DRINKING_WHILE_FOULED
from store.errors import BadValue
from store.model.modeled import Modeled
from store.model.site_weather import SiteWeather
from store.model.snapshot import Snapshot
from store.model.water_log import WaterLog, at_their_word, water_log
from store.season.cover import Cover
from store.season.history import StationHistory
from store.water.balance import Change
from store.water.forcing import Forcing
from store.weather.days import BoolArray, FloatArray


@dataclass(frozen=True, eq=False)
class StationWater:
    """What the log of one station says of its water, its days counted from its first.

    `in_place`, `covered` and `demand_share` have shape (days,); the last is how much of what
    they want animals take, less where the water is fouled.
    """

    station: Modeled
    in_place: BoolArray
    covered: BoolArray
    demand_share: FloatArray
    log: WaterLog

    @property
    def days(self) -> int:
        return len(self.in_place)

    @property
    def last_day(self) -> date:
        """The day of the snapshot."""
        return self.station.first + timedelta(days=self.days - 1)


def station_water(snapshot: Snapshot, station: Modeled) -> StationWater:
    """The water of a station from its first day to today."""
    days = (snapshot.today - station.first).days + 1
    in_place, demand_share = np.zeros(days, dtype=bool), np.ones(days)
    in_place[0 if station.stood_before else 1 : (station.last - station.first).days + 1] = True
    history = snapshot.histories[station.facts.station_id]
    for off in kept_off(history, snapshot.cause_priors):
        demand_share[_inside(off, station.first)] = DRINKING_WHILE_FOULED
    return StationWater(
        station=station,
        in_place=in_place,
        covered=_covered(history.covers, station.first, days),
        demand_share=demand_share,
        log=water_log(station, snapshot.log.get(station.facts.station_id, ())),
    )


@dataclass(frozen=True, eq=False)
class WaterInput:
    """What a run of the model takes, for all stations that can be modeled.

    `changes` holds everything people did to the water, with readings taken at their
    word. `in_place` and `covered` have shape (days, stations), and so has `demand_share`, as
    in `StationWater`.
    """

    stations: tuple[Modeled, ...]
    first_day: date
    forcing: Forcing
    changes: tuple[Change, ...]
    in_place: BoolArray
    covered: BoolArray
    demand_share: FloatArray

    @property
    def days(self) -> int:
        return self.forcing.days

    def index(self, day: date) -> int:
        return (day - self.first_day).days


def water_input(waters: Sequence[StationWater]) -> WaterInput:
    """What the balance needs to run stations from the first day of any of them to today.

    Raises:
        BadValue: no stations.
    """
    if not waters:
        raise BadValue("There is no station whose level can be modeled.")
    stations = tuple(water.station for water in waters)
    first_day = min(station.first for station in stations)
    days = max(water.days for water in waters)
    last_day = first_day + timedelta(days=days - 1)
    return WaterInput(
        stations=stations,
        first_day=first_day,
        forcing=_forcing(stations, first_day, last_day),
        changes=tuple(
            replace(change, day=change.day + days - water.days, station=column)
            for column, water in enumerate(waters)
            for change in at_their_word(water.station, water.log)
        ),
        in_place=beside([water.in_place for water in waters], days, False),
        covered=beside([water.covered for water in waters], days, False),
        demand_share=beside([water.demand_share for water in waters], days, 1.0),
    )


Kind = TypeVar("Kind", bound=np.generic)


def beside(columns: Sequence[NDArray[Kind]], days: int, before: bool | float) -> NDArray[Kind]:
    """Columns that end on the same day side by side, shape (days, columns).

    `before` stands on the days before the first of a column.
    """
    result = np.full((days, len(columns)), before, dtype=columns[0].dtype)
    for place, column in enumerate(columns):
        used = column[-days:]
        result[days - len(used) :, place] = used
    return result


@dataclass(frozen=True)
class KeptOff:
    """Days on which animals left fouled water alone; `last` is None while they still do."""

    first: date
    last: date | None


def kept_off(history: StationHistory, priors: CausePriors) -> tuple[KeptOff, ...]:
    """From each find of fouled water to the day it was seen clear, or was changed."""
    events = (history.with_chores(event) for event in history.events)
    return tuple(
        KeptOff(
            event.found,
            min((day for day in (event.closed, event.water_changed) if day), default=None),
        )
        for event in events
        if keeps_animals_off(event.cause, priors)
    )


def _inside(off: KeptOff, first_day: date) -> slice:
    """Those days as indices of a run."""
    stop = None if off.last is None else max((off.last - first_day).days, 0)
    return slice(max((off.first - first_day).days, 0), stop)


def _forcing(stations: Sequence[Modeled], first_day: date, last_day: date) -> Forcing:
    sites = sites_of(stations)
    by_site = side_by_side([site.forcing(first_day, last_day) for site in sites])
    return by_site.for_stations([sites.index(station.site) for station in stations])


def sites_of(stations: Iterable[Modeled]) -> list[SiteWeather]:
    """The sites of stations, each once, in the order they come."""
    return list(dict.fromkeys(station.site for station in stations))


def side_by_side(forcings: Sequence[Forcing]) -> Forcing:
    """The forcing of several sites over the same days as one, sites along axis 1."""
    arrays = {
        field.name: np.concatenate([getattr(forcing, field.name) for forcing in forcings], axis=1)
        for field in fields(Forcing)
        if field.name != "first_day"
    }
    return Forcing(first_day=forcings[0].first_day, **arrays)


def _covered(covers: Iterable[Cover], first_day: date, days: int) -> BoolArray:
    """Days on which the tank was covered all day, shape (days,)."""
    covered = np.zeros(days, dtype=bool)
    for cover in covers:
        start = max((cover.on - first_day).days + 1, 0)
        stop = days if cover.off is None else max((cover.off - first_day).days + 1, 0)
        covered[start:stop] = True
    return covered
