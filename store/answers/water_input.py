"""From a logbook's entries and weather to what the water balance runs on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date

import numpy as np

from store.answers.snapshot import Snapshot, TractWeather
from store.errors import BadValue
from store.records import (
    Action,
    Chore,
    ChoreKind,
    Contamination,
    ContaminationAction,
    Entry,
    Reading,
    StationFacts,
)
from store.water.balance import Change, ChangeKind
from store.water.forcing import Forcing, forcing_from_weather
from store.water.geometry import Tank, volume_at_depth_l, volume_below_rim_l
from store.water.parameters import Setting, setting_of
from store.weather.days import BoolArray
from store.weather.gaps import fill_gaps

UNKNOWN_START_SHARE = 0.5
"""How full a tank is taken to be that stood before the first weather day (assumed)."""
UNKNOWN_ELEVATION_M = 0.0


@dataclass(frozen=True, eq=False)
class Modeled:
    """One station the model can follow: from the day it has a tank and weather.

    `first` and `last` are the days its level is modeled on, both included; a
    retired tank is followed to the day it was given up.
    """

    facts: StationFacts
    setting: Setting
    weather: TractWeather
    latitude_deg: float
    first: date
    last: date
    stood_before: bool
    """Whether the tank was there before `first`, at a level nobody knows."""

    @property
    def tank(self) -> Tank:
        return self.setting.tank

    @property
    def site(self) -> tuple[str, float]:
        """Stations of one tract and latitude share their forcing."""
        return self.facts.tract_id, self.latitude_deg


@dataclass(frozen=True, eq=False)
class WaterInput:
    """Arguments of `run_balance` for all stations that can be modeled."""

    stations: tuple[Modeled, ...]
    first_day: date
    forcing: Forcing
    changes: tuple[Change, ...]
    in_place: BoolArray
    covered: BoolArray


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
    if np.isnan(weather.weather.rain_mm).all() or np.isnan(weather.weather.tmax_c).all():
        raise BadValue(f"the weather of {tract} lacks rain or temperatures; import both.")
    first = max(history.installed, weather.weather.first_day)
    last = snapshot.today if history.retired is None else history.retired
    if last < first:
        raise BadValue(f"retired on {history.retired}, before its weather begins.")
    return Modeled(
        facts=facts,
        setting=setting_of(facts),
        weather=weather,
        latitude_deg=latitude,
        first=first,
        last=last,
        stood_before=history.installed < first or not history.install_logged,
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
    for column, station in enumerate(stations):
        log = snapshot.log.get(station.facts.station_id, ())
        start, stop = ((day - first_day).days for day in (station.first, station.last))
        in_place[start if station.stood_before else start + 1 : stop + 1, column] = True
        covered[:, column] = _covered(log, first_day, days)
        changes += _changes(station, log, first_day, column)
    return WaterInput(
        stations=tuple(stations),
        first_day=first_day,
        forcing=_forcing(stations, first_day, snapshot.today),
        changes=tuple(changes),
        in_place=in_place,
        covered=covered,
    )


def _forcing(stations: Sequence[Modeled], first_day: date, last_day: date) -> Forcing:
    sites: dict[tuple[str, float], Modeled] = {}
    for station in stations:
        sites.setdefault(station.site, station)
    by_site = [
        forcing_from_weather(
            fill_gaps(site.weather.weather, first_day, last_day),
            site.latitude_deg,
            elevation_m(site.weather),
        )
        for site in sites.values()
    ]
    number = {site: index for index, site in enumerate(sites)}
    return side_by_side(by_site).for_stations([number[station.site] for station in stations])


def elevation_m(weather: TractWeather) -> float:
    """The elevation used for air pressure; sea level where nobody entered one."""
    return UNKNOWN_ELEVATION_M if weather.elevation_m is None else weather.elevation_m


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
        after = max((entry.about - first_day).days + 1, 0)
        match entry.what:
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


def _changes(station: Modeled, log: Iterable[Entry], first_day: date, column: int) -> list[Change]:
    """What people did to the water, in the order it counts within a day.

    A reading is what was found on coming; taking out comes before bringing water.
    """
    start = Change(
        (station.first - first_day).days,
        column,
        ChangeKind.SET,
        station.tank.capacity_l * UNKNOWN_START_SHARE if station.stood_before else 0.0,
    )
    ranked: list[tuple[int, int, Change]] = [(start.day, 0, start)]
    for entry in log:
        if station.first <= entry.about <= station.last:
            day = (entry.about - first_day).days
            for rank, kind, volume_l in _effects(station, entry):
                ranked.append((day, rank, Change(day, column, kind, volume_l)))
    ranked.sort(key=lambda item: item[:2])
    return [change for _, _, change in ranked]


def _effects(station: Modeled, entry: Entry) -> list[tuple[int, ChangeKind, float | None]]:
    match entry.what:
        case Reading() as reading:
            return [(2, ChangeKind.SET, reading_volume_l(station.tank, reading))]
        case Chore(chore=ChoreKind.INSTALL, volume_l=float() as volume_l):
            return [(1, ChangeKind.SET, volume_l)]
        case Chore(chore=ChoreKind.DRAIN):
            return [(3, ChangeKind.DRAIN, None)]
        case Chore(chore=ChoreKind.FILL, volume_l=volume_l):
            return [(4, ChangeKind.ADD, volume_l)]
        case (
            Contamination(action=action, volume_l=volume_l)
            | ContaminationAction(action=action, volume_l=volume_l)
        ):
            match action:
                case Action.BAILED:
                    return [(3, ChangeKind.DRAIN, volume_l)]
                case Action.DRAINED:
                    return [(3, ChangeKind.DRAIN, None)]
                case Action.REFILLED:
                    return [(4, ChangeKind.ADD, volume_l)]
    return []


def reading_volume_l(tank: Tank, reading: Reading) -> float:
    """The volume at a level somebody read; by eye means a share of the inside depth."""
    if reading.mark is not None:
        return float(volume_at_depth_l(tank, reading.mark.share_of_depth * tank.depth_mm))
    return float(volume_below_rim_l(tank, reading.below_rim_mm or 0.0))
