"""From a logbook's entries and weather to what the water balance runs on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from datetime import date

import numpy as np

from store.contamination.parameters import CausePriors, keeps_animals_off
from store.contamination.tank_weather import DRINKING_WHILE_FOULED
from store.errors import BadValue
from store.model.modeled import Modeled
from store.model.site_weather import SiteWeather
from store.model.snapshot import Snapshot
from store.model.water_log import water_log
from store.season.cover import Cover
from store.season.history import StationHistory
from store.water.balance import Change
from store.water.forcing import Forcing
from store.water.observing import Observation, UseCount
from store.weather.days import BoolArray, FloatArray


@dataclass(frozen=True, eq=False)
class WaterInput:
    """What a run of the model takes, for all stations that can be modeled.

    `changes` holds everything people did to the water, with readings taken at their
    word; `hand_work` is the same without the readings, which stand in `readings`, and with
    gallons as uncertain as they are. `demand_share` is how much of what they want animals
    take, less where the water is fouled; shape (days, stations).
    """

    stations: tuple[Modeled, ...]
    first_day: date
    forcing: Forcing
    changes: tuple[Change, ...]
    hand_work: tuple[Change, ...]
    readings: tuple[Observation, ...]
    counts: tuple[UseCount, ...]
    in_place: BoolArray
    covered: BoolArray
    demand_share: FloatArray

    @property
    def days(self) -> int:
        return self.forcing.days

    def index(self, day: date) -> int:
        return (day - self.first_day).days


def water_input(snapshot: Snapshot, stations: Sequence[Modeled]) -> WaterInput:
    """What the balance needs to run `stations` from the first of them to today.

    Raises:
        BadValue: no stations.
    """
    if not stations:
        raise BadValue("There is no station whose level can be modeled.")
    first_day = min(station.first for station in stations)
    days = (snapshot.today - first_day).days + 1
    shape = (days, len(stations))
    in_place, covered = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    demand_share = np.ones(shape)
    changes: list[Change] = []
    hand_work: list[Change] = []
    readings: list[Observation] = []
    counts: list[UseCount] = []
    for column, station in enumerate(stations):
        start, stop = ((day - first_day).days for day in (station.first, station.last))
        in_place[start if station.stood_before else start + 1 : stop + 1, column] = True
        history = snapshot.histories[station.facts.station_id]
        covered[:, column] = _covered(history.covers, first_day, days)
        for off in kept_off(history, snapshot.cause_priors):
            demand_share[_inside(off, first_day), column] = DRINKING_WHILE_FOULED
        told = water_log(station, snapshot.log.get(history.facts.station_id, ()), first_day, column)
        readings += told.readings
        counts += told.counts
        hand_work += told.hand_work
        changes += told.at_their_word
    return WaterInput(
        stations=tuple(stations),
        first_day=first_day,
        forcing=_forcing(stations, first_day, snapshot.today),
        changes=tuple(changes),
        hand_work=tuple(hand_work),
        readings=tuple(readings),
        counts=tuple(counts),
        in_place=in_place,
        covered=covered,
        demand_share=demand_share,
    )


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
