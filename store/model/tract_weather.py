"""The weather a tract uses, as its records, gauge, forecast and normals tell it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from store.logbook.weather_records import StoredDays
from store.logbook.weather_rows import layer_of
from store.model.weather_said import WeatherSaid, WeatherState, last_known
from store.records import TractFacts
from store.vocabulary import DrinkingSeason
from store.weather.climate import MonthlyClimate, climate_from_normals
from store.weather.days import DailyWeather, empty_weather
from store.weather.gaps import cut, gap_count
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

    def state(self, first: date, today: date) -> WeatherState:
        """How far the weather reaches and how much is missing, from a first day to today."""
        count = gap_count(self.weather, first, today)
        return WeatherState(
            record_name=self.record_name,
            last_day=self.weather.last_day,
            days=count.days,
            missing=max(count.without_rain, count.without_temperature),
            from_normals=self.normals is not None,
        )


def tract_weathers(
    tracts: Iterable[TractFacts], said: WeatherSaid, today: date
) -> dict[str, TractWeather]:
    """The weather of each tract that has any, by tract id."""
    records = {key: _record(layers) for key, layers in said.records.items() if layers}

    def record(record_id: str | None) -> TractWeather | None:
        return None if record_id is None else records.get(record_id)

    by_tract: dict[str, TractWeather] = {}
    for tract in tracts:
        own = record(tract.weather_record_id)
        if own is None or complete_days(own.weather) < ENOUGH_DAYS:
            own = _from_normals(tract, said, today, own) or own
        if own is not None:
            forecast = record(tract.forecast_record_id)
            by_tract[tract.tract_id] = _of_tract(own, tract, said, forecast, today)
    return by_tract


def _record(layers: Sequence[StoredDays]) -> TractWeather:
    newest = layers[-1].fact
    return TractWeather(
        record_name=newest.record_name,
        weather=overlay([layer_of(layer).weather for layer in layers]),
        gauge_days=0,
        latitude_deg=last_known([layer.fact.latitude_deg for layer in layers]),
        elevation_m=last_known([layer.fact.elevation_m for layer in layers]),
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
