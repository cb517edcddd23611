"""What the weather does to any tank, day by day, computed in bulk before a run."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date

import numpy as np
from numpy.typing import ArrayLike, NDArray

from store.errors import BadValue
from store.vocabulary import DrinkingSeason
from store.water.drinking import (
    LAWS,
    base_demand_l,
    heat_factor,
    rut_season_day,
    season_day,
)
from store.water.evapotranspiration import OPEN_WATER_COEFFICIENT, reference_et_mm
from store.water.ice import ice_mm, is_closed
from store.water.runoff import moisture_class, water_of_five_days_mm
from store.water.snow import melt_mm, snow_share
from store.weather.days import BoolArray, DailyWeather, FloatArray

GROWING_ABOVE_C = 10.0
GROWING_MEMORY_D = 30
"""Growing season: the mean of the 30 days up to a day is above 10 C (assumed)."""


@dataclass(frozen=True, eq=False)
class Forcing:
    """Daily forcing; every array has shape (days, stations or 1, members or 1).

    `rain_mm` and `snow_mm` fall on the opening (snow as water), `apron_mm` is the rain
    and melt an apron receives, `moisture` its class before the day (0 dry, 1 average, 2
    wet) under plants and `bare_moisture` without, `growing` whether trees have leaves,
    `evaporation_mm` the open-water depth, 0 under ice. `demand_l` is what animals want at
    average use beside the rut and `rut_l` what they want more at its height, both 0 under
    ice; `rut_day` is `drinking.rut_season_day`.
    """

    first_day: date
    rain_mm: FloatArray
    snow_mm: FloatArray
    apron_mm: FloatArray
    moisture: NDArray[np.int8]
    bare_moisture: NDArray[np.int8]
    growing: BoolArray
    evaporation_mm: FloatArray
    demand_l: FloatArray
    rut_l: FloatArray
    rut_day: FloatArray
    ice: BoolArray

    @property
    def days(self) -> int:
        return len(self.rain_mm)

    def between(self, start: int, stop: int) -> Forcing:
        """The days from index `start` up to and without `stop`."""
        first = date.fromordinal(self.first_day.toordinal() + start)
        days = {name: getattr(self, name)[start:stop] for name in ARRAYS}
        return replace(self, first_day=first, **days)

    def for_stations(self, site_of_station: ArrayLike) -> Forcing:
        """Forcing of stations from forcing of sites: the site index of every station."""
        index = np.asarray(site_of_station, dtype=np.intp)
        return replace(self, **{name: getattr(self, name)[:, index] for name in ARRAYS})

    def for_members(self, weather_of_member: ArrayLike) -> Forcing:
        """Forcing of members from forcing of courses: the course index of every member."""
        index = np.asarray(weather_of_member, dtype=np.intp)
        return replace(self, **{name: getattr(self, name)[:, :, index] for name in ARRAYS})


ARRAYS = tuple(field.name for field in fields(Forcing) if field.name != "first_day")


def forcing_from_weather(
    weather: DailyWeather,
    latitude_deg: float,
    elevation_m: float,
    drinking: DrinkingSeason = DrinkingSeason.GREEN_SUMMER,
) -> Forcing:
    """Forcing of one site, shape (days, 1, 1); see `daily_forcing`."""
    return daily_forcing(
        weather.first_day,
        weather.rain_mm,
        weather.tmin_c,
        weather.tmax_c,
        latitude_deg=latitude_deg,
        elevation_m=elevation_m,
        humidity_pct=weather.humidity_pct,
        dewpoint_c=weather.dewpoint_c,
        wind_m_s=weather.wind_m_s,
        sun_mj_m2=weather.sun_mj_m2,
        drinking=drinking,
    )


def daily_forcing(
    first_day: date,
    rain_mm: FloatArray,
    tmin_c: FloatArray,
    tmax_c: FloatArray,
    *,
    latitude_deg: ArrayLike,
    elevation_m: ArrayLike,
    humidity_pct: ArrayLike = np.nan,
    dewpoint_c: ArrayLike = np.nan,
    wind_m_s: ArrayLike = np.nan,
    sun_mj_m2: ArrayLike = np.nan,
    drinking: DrinkingSeason = DrinkingSeason.GREEN_SUMMER,
) -> Forcing:
    """Forcing from weather arrays of shape (days,), (days, sites) or (days, sites, members).

    Latitude and elevation are one number or of shape (sites,). Members are years of
    weather laid over the same calendar days. Snow, ice and soil moisture start from
    nothing: begin some two months early and cut the days wanted with `between`.

    Raises:
        BadValue: rain or a temperature is unknown: gaps are filled before the water model
            runs.
    """
    rain, low, high = np.broadcast_arrays(_three(rain_mm), _three(tmin_c), _three(tmax_c))
    for name, values in (("rain", rain), ("lowest", low), ("highest", high)):
        if not np.isfinite(values).all():
            day = date.fromordinal(
                first_day.toordinal() + int(np.argwhere(~np.isfinite(values))[0][0])
            )
            what = name if name == "rain" else f"{name} temperature"
            raise BadValue(f"The {what} of {day.isoformat()} is unknown; fill the gap first.")
    mean = (low + high) / 2.0
    snow = rain * snow_share(mean)
    melt, _ = melt_mm(snow, mean)
    apron = rain - snow + melt
    et0 = reference_et_mm(
        _day_of_year(first_day, len(rain)),
        _site(latitude_deg),
        _site(elevation_m),
        low,
        high,
        *(_three(values) for values in (humidity_pct, dewpoint_c, wind_m_s, sun_mj_m2)),
    )
    ice = is_closed(ice_mm(mean))
    five_days, growing = water_of_five_days_mm(apron), _growing(mean)
    law = LAWS[drinking]
    season = season_day(_day_of_year(first_day, len(rain)), _site(latitude_deg))
    rut_day = np.broadcast_to(rut_season_day(season), rain.shape)
    heat = np.where(ice, 0.0, heat_factor(high))
    return Forcing(
        first_day=first_day,
        rain_mm=rain - snow,
        snow_mm=snow,
        apron_mm=apron,
        moisture=moisture_class(five_days, growing),
        bare_moisture=moisture_class(five_days, np.zeros_like(growing)),
        growing=growing,
        evaporation_mm=np.where(ice, 0.0, OPEN_WATER_COEFFICIENT * et0),
        demand_l=heat * base_demand_l(law, season),
        rut_l=np.where(rut_day > 0.0, law.rut_l, 0.0) * heat,
        rut_day=rut_day,
        ice=ice,
    )


def _three(values: ArrayLike) -> FloatArray:
    array = np.asarray(values, dtype=np.float64)
    return array.reshape(array.shape + (1,) * (3 - array.ndim))


def _site(values: ArrayLike) -> FloatArray:
    return np.atleast_1d(np.asarray(values, dtype=np.float64))[:, np.newaxis]


def _day_of_year(first_day: date, days: int) -> FloatArray:
    """Day of year of consecutive days, shape (days, 1, 1)."""
    day = np.datetime64(first_day, "D") + np.arange(days)
    number = (day - day.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.float64) + 1.0
    return np.asarray(number[:, np.newaxis, np.newaxis])


def _growing(mean_c: FloatArray) -> BoolArray:
    """Whether the mean of up to 30 days ending on each day is above the limit."""
    total = np.cumsum(mean_c, axis=0)
    total[GROWING_MEMORY_D:] -= total[:-GROWING_MEMORY_D].copy()
    count = np.minimum(np.arange(1, len(mean_c) + 1), GROWING_MEMORY_D)
    return np.asarray(total / count[:, np.newaxis, np.newaxis] > GROWING_ABOVE_C)
