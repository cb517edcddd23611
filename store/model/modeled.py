"""The stations the model can follow, and why it cannot follow the others."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.errors import BadValue
from store.model.site_weather import SiteWeather, site_weather
from store.model.snapshot import Snapshot
from store.model.tract_weather import complete_days
from store.records import StationFacts
from store.water.geometry import Tank
from store.water.parameters import TankSite, tank_site_of
from store.weather.days import DailyWeather
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
