"""The weather a tract uses, as its records, gauge, forecast and normals tell it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from store.logbook.opening import Logbook
from store.logbook.places import Places
from store.logbook.weather_rows import weather_layers
from store.records import MonthlyNormals, TractFacts
from store.vocabulary import DrinkingSeason
from store.weather.climate import MonthlyClimate, climate_from_normals
from store.weather.days import DailyWeather, empty_weather
from store.weather.gaps import cut
from store.weather.merge import overlay, with_gauge

ENOUGH_DAYS = 365
"""Complete days from which a record does without typed-in normals (assumed)."""


@dataclass(frozen=True, eq=False)
class TractWeather:
    """The weather a tract uses: its record with the tract's own gauge laid over it.

    Not filled: NaN where nothing is known. `forecast` holds days to come. `normals`
    stand in for what `weather` does not know where there is no record of a whole year.
    """

    record_name: str
    weather: DailyWeather
    gauge_days: int
    latitude_deg: float | None
    elevation_m: float | None
    forecast: DailyWeather | None = None
    normals: MonthlyClimate | None = None
    drinking: DrinkingSeason = DrinkingSeason.GREEN_SUMMER
    """When animals drink there."""


@dataclass
class WeatherSaid:
    """What the entries say about the weather of tracts, gathered while reading."""

    first_entry: date
    gauge: dict[str, dict[date, float]] = field(default_factory=lambda: defaultdict(dict))
    normals: dict[str, dict[int, MonthlyNormals]] = field(default_factory=lambda: defaultdict(dict))


def tract_weathers(logbook: Logbook, known: Places, said: WeatherSaid) -> dict[str, TractWeather]:
    """The weather of each tract that has any, by tract id."""
    records: dict[str, TractWeather | None] = {}

    def record(record_id: str | None) -> TractWeather | None:
        if record_id is None:
            return None
        if record_id not in records:
            records[record_id] = _record(logbook, record_id)
        return records[record_id]

    by_tract: dict[str, TractWeather] = {}
    for tract in known.tracts.values():
        own = record(tract.weather_record_id)
        if own is None or complete_days(own.weather) < ENOUGH_DAYS:
            own = _from_normals(tract, said, logbook.today, own) or own
        if own is not None:
            forecast = record(tract.forecast_record_id)
            by_tract[tract.tract_id] = _of_tract(own, tract, said, forecast, logbook.today)
    return by_tract


def _record(logbook: Logbook, record_id: str) -> TractWeather | None:
    layers = weather_layers(logbook, record_id)
    if not layers:
        return None
    newest = layers[-1].fact
    return TractWeather(
        record_name=newest.record_name,
        weather=overlay([layer.weather for layer in layers]),
        gauge_days=0,
        latitude_deg=_last_known([layer.fact.latitude_deg for layer in layers]),
        elevation_m=_last_known([layer.fact.elevation_m for layer in layers]),
    )


def complete_days(weather: DailyWeather) -> int:
    """How many days know their rain and both temperatures."""
    known = np.isfinite(weather.rain_mm + weather.tmin_c + weather.tmax_c)
    return int(known.sum())


def _from_normals(
    tract: TractFacts, said: WeatherSaid, today: date, short: TractWeather | None
) -> TractWeather | None:
    """Weather known by its monthly normals, and by a record too short to do without them.

    None where the twelve months are not all there.
    """
    months = said.normals.get(tract.tract_id, {})
    if set(months) != set(range(1, 13)):
        return None
    year = [months[month] for month in range(1, 13)]
    climate = climate_from_normals(
        [month.rain_mm for month in year],
        [month.wet_days for month in year],
        [month.tmin_c for month in year],
        [month.tmax_c for month in year],
    )
    first_day = min(said.first_entry, today)
    unknown = empty_weather(first_day, (today - first_day).days + 1)
    name = f"monthly normals of {tract.name}"
    if short is not None:
        name = f"{short.record_name} with {name}"
        weather = overlay([unknown, short.weather])
        return replace(short, record_name=name, weather=weather, normals=climate)
    return TractWeather(
        record_name=name,
        weather=unknown,
        gauge_days=0,
        latitude_deg=None,
        elevation_m=None,
        normals=climate,
    )


def _of_tract(
    record: TractWeather,
    tract: TractFacts,
    said: WeatherSaid,
    forecast: TractWeather | None,
    today: date,
) -> TractWeather:
    """The record as the tract sees it, without hindsight: nothing later than today."""
    gauge = said.gauge.get(tract.tract_id, {})
    latitude = record.latitude_deg if tract.latitude_deg is None else tract.latitude_deg
    elevation = record.elevation_m if tract.elevation_m is None else tract.elevation_m
    return replace(
        record,
        weather=_up_to(today, with_gauge(record.weather, gauge)),
        gauge_days=len(gauge),
        latitude_deg=latitude,
        elevation_m=elevation,
        forecast=None if forecast is None else forecast.weather,
        drinking=tract.drinking or DrinkingSeason.GREEN_SUMMER,
    )


def _up_to(today: date, weather: DailyWeather) -> DailyWeather:
    if weather.first_day > today:
        return weather
    return cut(weather, weather.first_day, min(weather.last_day, today))


def _last_known(values: list[float | None]) -> float | None:
    return next((value for value in reversed(values) if value is not None), None)
