"""From a logbook's entries and weather to what the water balance runs on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date

import numpy as np

from store.contamination.mixing import HEEL_BAILED
from store.errors import BadValue
from store.model.site_weather import SiteWeather, site_weather
from store.model.snapshot import Snapshot
from store.model.tract_weather import complete_days
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    Entry,
    Reading,
    StationFacts,
)
from store.vocabulary import Action, ChoreKind
from store.water.balance import Change, ChangeKind
from store.water.forcing import Forcing
from store.water.geometry import Tank, volume_below_rim_l
from store.water.observing import Observation, observation_of
from store.water.parameters import TankSite, tank_site_of
from store.water.priors import MEMBERS, unknown_start_l
from store.weather.days import BoolArray, DailyWeather
from store.weather.fit import FEWEST_DAYS


@dataclass(frozen=True, eq=False)
class Modeled:
    """One station the model can follow: from the day it has a tank and weather.

    `first` and `last` are the days its level is modeled on, both included; a
    retired tank is followed to the day it was given up.
    """

    facts: StationFacts
    tank_site: TankSite
    site: SiteWeather
    first: date
    last: date
    stood_before: bool
    """Whether the tank was there before `first`, at a level nobody knows."""

    @property
    def tank(self) -> Tank:
        return self.tank_site.tank


@dataclass(frozen=True, eq=False)
class WaterInput:
    """What a run of the model takes, for all stations that can be modeled.

    `changes` holds everything people did to the water, with readings taken at their
    word; `hand_work` is the same without the readings, which stand in `readings`.
    """

    stations: tuple[Modeled, ...]
    first_day: date
    forcing: Forcing
    changes: tuple[Change, ...]
    hand_work: tuple[Change, ...]
    readings: tuple[Observation, ...]
    in_place: BoolArray
    covered: BoolArray

    @property
    def days(self) -> int:
        return self.forcing.days

    def index(self, day: date) -> int:
        return (day - self.first_day).days


def modeled_stations(snapshot: Snapshot) -> tuple[tuple[Modeled, ...], Mapping[str, str]]:
    """The stations the model can follow, and for each other one the sentence why not."""
    can: list[Modeled] = []
    cannot: dict[str, str] = {}
    for station_id, facts in snapshot.places.stations.items():
        try:
            can.append(_modeled(snapshot, facts))
        except BadValue as error:
            cannot[station_id] = f"{snapshot.places.label(facts)}: {error}"
    return tuple(can), cannot


def _modeled(snapshot: Snapshot, facts: StationFacts) -> Modeled:
    history = snapshot.histories[facts.station_id]
    tract = snapshot.places.tract_of(facts).name
    weather = snapshot.weather_of(facts)
    if history.installed is None:
        raise BadValue("no install or reading is in the log yet, so there is no level.")
    if weather is None:
        raise BadValue(f"{tract} has no weather yet; import a weather file for it.")
    latitude = weather.latitude_deg if facts.latitude_deg is None else facts.latitude_deg
    if latitude is None:
        raise BadValue(f"the latitude of {tract} is unknown; enter it, evaporation needs it.")
    if weather.weather.first_day > snapshot.today:
        raise BadValue(f"the weather of {tract} begins only on {weather.weather.first_day}.")
    if weather.normals is None:
        _refuse_too_little(weather.weather, tract)
    first = max(history.installed, weather.weather.first_day)
    last = snapshot.today if history.retired is None else history.retired
    if last < first:
        raise BadValue(f"retired on {history.retired}, before its weather begins.")
    return Modeled(
        facts=facts,
        tank_site=tank_site_of(facts),
        site=site_weather(weather, latitude),
        first=first,
        last=last,
        stood_before=history.installed < first or not history.install_logged,
    )


def _refuse_too_little(weather: DailyWeather, tract: str) -> None:
    if any(np.isnan(v).all() for v in (weather.rain_mm, weather.tmin_c, weather.tmax_c)):
        raise BadValue(f"the weather of {tract} lacks rain or temperatures; import both.")
    complete = complete_days(weather)
    if complete < FEWEST_DAYS:
        raise BadValue(
            f"the weather of {tract} has {complete} days with rain and both temperatures, fewer "
            f"than {FEWEST_DAYS}; import more of them, or monthly normals."
        )


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
    changes: list[Change] = []
    hand_work: list[Change] = []
    readings: list[Observation] = []
    for column, station in enumerate(stations):
        log = snapshot.log.get(station.facts.station_id, ())
        start, stop = ((day - first_day).days for day in (station.first, station.last))
        in_place[start if station.stood_before else start + 1 : stop + 1, column] = True
        covered[:, column] = _covered(log, first_day, days)
        readings += _readings(station, log, first_day, column)
        work = _hand_work(station, log, first_day, column)
        hand_work += [change for _, change in work]
        changes += _taken_at_their_word(station, work, log, first_day, column)
    return WaterInput(
        stations=tuple(stations),
        first_day=first_day,
        forcing=_forcing(stations, first_day, snapshot.today),
        changes=tuple(changes),
        hand_work=tuple(hand_work),
        readings=tuple(readings),
        in_place=in_place,
        covered=covered,
    )


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


def _covered(log: Iterable[Entry], first_day: date, days: int) -> BoolArray:
    """Days on which the tank was covered all day, shape (days,)."""
    covered = np.zeros(days, dtype=bool)
    for entry in log:
        after = max((entry.day - first_day).days + 1, 0)
        match entry.fact:
            case (
                Chore(chore=ChoreKind.COVER)
                | Contamination(action=Action.COVERED)
                | ContaminationAction(action=Action.COVERED)
            ):
                covered[after:] = True
            case Chore(chore=ChoreKind.UNCOVER):
                covered[after:] = False
            case _:
                pass
    return covered


SET_RANK, READING_RANK, OUT_RANK, IN_RANK = range(4)
"""The order of a day: a tank is dug in, its level read on coming, water taken out,
water brought."""


def _hand_work(
    station: Modeled, log: Iterable[Entry], first_day: date, column: int
) -> list[tuple[int, Change]]:
    """What people did to the water of a station, with its rank within the day."""
    capacity_l = station.tank.capacity_l
    unknown = unknown_start_l(station.facts.station_id, capacity_l, MEMBERS)
    start_l = unknown if station.stood_before else 0.0
    day = (station.first - first_day).days
    work = [(SET_RANK, Change(day, column, ChangeKind.SET, start_l))]
    for entry in log:
        if station.first <= entry.day <= station.last:
            effect = _effect(entry)
            if effect is not None:
                rank, kind, volume_l, kept_share = effect
                day = (entry.day - first_day).days
                work.append((rank, Change(day, column, kind, volume_l, kept_share)))
    return sorted(work, key=lambda ranked: (ranked[1].day, ranked[0]))


def _effect(entry: Entry) -> tuple[int, ChangeKind, float | None, float] | None:
    """Rank, kind, volume and the share that stays of what an entry did to the water."""
    match entry.fact:
        case Chore(chore=ChoreKind.INSTALL, volume_l=float() as volume_l):
            return SET_RANK, ChangeKind.SET, volume_l, 0.0
        case (
            Chore(chore=ChoreKind.DRAIN)
            | Contamination(action=Action.DRAINED)
            | ContaminationAction(action=Action.DRAINED)
        ):
            return OUT_RANK, ChangeKind.DRAIN, None, 0.0
        case (
            Contamination(action=Action.BAILED, volume_l=volume_l)
            | ContaminationAction(action=Action.BAILED, volume_l=volume_l)
        ):
            return OUT_RANK, ChangeKind.DRAIN, volume_l, HEEL_BAILED
        case (
            Chore(chore=ChoreKind.FILL, volume_l=volume_l)
            | Contamination(action=Action.REFILLED, volume_l=volume_l)
            | ContaminationAction(action=Action.REFILLED, volume_l=volume_l)
        ):
            return IN_RANK, ChangeKind.ADD, volume_l, 0.0
        case _:
            return None


def _readings(
    station: Modeled, log: Iterable[Entry], first_day: date, column: int
) -> list[Observation]:
    return [
        observation_of(entry.fact, station.tank, (entry.day - first_day).days, column)
        for entry in log
        if isinstance(entry.fact, Reading) and station.first <= entry.day <= station.last
    ]


def _taken_at_their_word(
    station: Modeled,
    work: Iterable[tuple[int, Change]],
    log: Iterable[Entry],
    first_day: date,
    column: int,
) -> list[Change]:
    """The hand work with every reading as the level it says, and one unknown start."""
    ranked = [
        (rank, replace(change, volume_l=float(np.median(change.volume_l))))
        if isinstance(change.volume_l, np.ndarray)
        else (rank, change)
        for rank, change in work
    ]
    ranked += [
        (
            READING_RANK,
            Change(
                (entry.day - first_day).days,
                column,
                ChangeKind.SET,
                reading_volume_l(station.tank, entry.fact),
            ),
        )
        for entry in log
        if isinstance(entry.fact, Reading) and station.first <= entry.day <= station.last
    ]
    return [change for _, change in sorted(ranked, key=lambda item: (item[1].day, item[0]))]


def reading_volume_l(tank: Tank, reading: Reading) -> float:
    """The volume at a level somebody read; by eye means a share of the inside depth."""
    return float(volume_below_rim_l(tank, reading.below_rim_of(tank.depth_mm)))
