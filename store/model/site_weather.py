"""The weather one site had, may have had and may have: a single course of it, or many members.

Where a record knows a day all members agree. Its gaps are filled from other years.
Without a record of a whole year the monthly normals, typed in, invent weather like
them for all that is not known; then no member is better than another, and only the
band means something.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from hashlib import blake2b
from weakref import WeakValueDictionary

import numpy as np

from store.model.tract_weather import TractWeather
from store.water.forcing import Forcing, daily_forcing, forcing_from_weather
from store.weather.climate import MonthlyClimate
from store.weather.days import BoolArray, DailyWeather, FloatArray, empty_weather
from store.weather.elements import FIELDS
from store.weather.fit import fit_climate
from store.weather.gaps import cut, fill_gaps, gap_members
from store.weather.generator import generate
from store.weather.members import WeatherMembers, following_forecast, with_known_days
from store.weather.years import weather_years

SEED = 20_260_401
"""Fixed, so that the same logbook and day give the same numbers on every run."""
FEWEST_YEARS = 10
INVENTED_MEMBERS = 40
UNKNOWN_ELEVATION_M = 0.0
WARM_UP_DAYS = 150
"""Days before a run that its snow pack, ice and wetness of the soil come from."""


@dataclass(frozen=True, eq=False)
class SiteWeather:
    """The weather of stations of one tract and latitude, which share their forcing.

    Made by `site_weather`, once for the same weather. What it gives is kept for the next
    call: two calls with the same days return the same arrays, not to be written to.
    `digest` stands for all that it depends on.
    """

    record: TractWeather
    latitude_deg: float
    digest: bytes

    @property
    def elevation_m(self) -> float:
        """The elevation used for air pressure; sea level where nobody entered one."""
        elevation = self.record.elevation_m
        return UNKNOWN_ELEVATION_M if elevation is None else elevation

    def known(self, first_day: date, last_day: date) -> DailyWeather:
        """A span of weather without gaps.

        Raises:
            BadValue: the record knows no rain or no temperature at all.
        """
        return _known(self.record, first_day, last_day)

    def forcing(self, first_day: date, last_day: date) -> Forcing:
        """The forcing of a span, snow and soil warmed up before it, shape (days, 1, 1)."""
        whole = _forcing(self, last_day)
        start = (first_day - whole.first_day).days
        return whole.between(start, start + (last_day - first_day).days + 1)

    def gap_forcing(self, first_day: date, last_day: date, members: int) -> Forcing:
        """As `forcing`, with gaps of their own in every member, shape (days, 1, members)."""
        early = first_day - timedelta(days=WARM_UP_DAYS)
        weather = past_members(self.record, early, last_day, members)
        return self._warmed_up(early, weather, (last_day - first_day).days + 1)

    def ahead(self, today: date, days: int, members: int) -> WeatherAhead:
        """The days after today, each course of the weather for as many members as another."""
        return _ahead(self, today, days, members)

    def _warmed_up(self, early: date, weather: WeatherMembers, days: int) -> Forcing:
        forcing = daily_forcing(
            early,
            *(values[:, np.newaxis, :] for values in weather),
            latitude_deg=self.latitude_deg,
            elevation_m=self.elevation_m,
            drinking=self.record.drinking,
        )
        return forcing.between(WARM_UP_DAYS, WARM_UP_DAYS + days)


@dataclass(frozen=True, eq=False)
class WeatherAhead:
    """Forcing of the days ahead for members; `temperature_c` is the mean of the day.

    Both have shape (days, .., members). `basis` says in words where they are from.
    """

    forcing: Forcing
    temperature_c: FloatArray
    basis: str


_SITES: WeakValueDictionary[bytes, SiteWeather] = WeakValueDictionary()
"""Every site in use, by digest: a new board finds those of the last one."""


def site_weather(record: TractWeather, latitude_deg: float) -> SiteWeather:
    """The weather of a site, the same object as long as nothing in it has changed."""
    digest = blake2b(digest_size=16)
    digest.update(
        repr((latitude_deg, record.elevation_m, record.normals, record.drinking)).encode()
    )
    for weather in (record.weather, record.forecast):
        if weather is not None:
            digest.update(repr(weather.first_day).encode())
            for name in FIELDS:
                digest.update(getattr(weather, name).tobytes())
    key = digest.digest()
    site = _SITES.get(key) or SiteWeather(record, latitude_deg, key)
    return _SITES.setdefault(key, site)


def _known(record: TractWeather, first_day: date, last_day: date) -> DailyWeather:
    """A span of weather without gaps, cut out of one that is filled once for all spans."""
    whole = _whole(record, last_day)
    if first_day < whole.first_day:
        return _filled(record, first_day, last_day)
    return cut(whole, first_day, last_day)


@lru_cache(maxsize=16)
def _whole(record: TractWeather, last_day: date) -> DailyWeather:
    early = min(record.weather.first_day, last_day) - timedelta(days=WARM_UP_DAYS)
    return _filled(record, early, max(last_day, record.weather.last_day))


def _filled(record: TractWeather, first_day: date, last_day: date) -> DailyWeather:
    if record.normals is None:
        return fill_gaps(record.weather, first_day, last_day)
    rain_mm, tmin_c, tmax_c = past_members(record, first_day, last_day, 1)
    span = empty_weather(first_day, (last_day - first_day).days + 1)
    return replace(
        span,
        rain_mm=rain_mm[:, 0],
        tmin_c=tmin_c[:, 0],
        tmax_c=tmax_c[:, 0],
        filled=unknown_days(record, first_day, last_day),
    )


@lru_cache(maxsize=32)
def _forcing(site: SiteWeather, last_day: date) -> Forcing:
    """The forcing of all that is known up to a day, its first days to warm up on."""
    whole = _whole(site.record, last_day)
    return forcing_from_weather(whole, site.latitude_deg, site.elevation_m, site.record.drinking)


@lru_cache(maxsize=8)
def _ahead(site: SiteWeather, today: date, days: int, members: int) -> WeatherAhead:
    """Few are kept, for each holds megabytes."""
    courses, basis = coming_members(site.record, today + timedelta(days=1), days)
    early = today - timedelta(days=WARM_UP_DAYS - 1)
    past = site.known(early, today)
    count = courses.rain_mm.shape[1]

    def joined(before: FloatArray, after: FloatArray) -> FloatArray:
        known = np.broadcast_to(before[:, np.newaxis], (WARM_UP_DAYS, count))
        return np.concatenate([known, after])

    weather = WeatherMembers(
        joined(past.rain_mm, courses.rain_mm),
        joined(past.tmin_c, courses.tmin_c),
        joined(past.tmax_c, courses.tmax_c),
    )
    dealt = np.tile(np.arange(count), -(-members // count))
    mean_c = (courses.tmin_c + courses.tmax_c) / 2.0
    forcing = site._warmed_up(early, weather, days)
    return WeatherAhead(forcing.for_members(dealt), mean_c[:, dealt], basis)


def unknown_days(weather: TractWeather, first_day: date, last_day: date) -> BoolArray:
    """Days whose rain or temperature the record does not know, shape (days,)."""
    known = cut(weather.weather, first_day, last_day)
    return np.isnan(known.rain_mm) | np.isnan(known.tmin_c) | np.isnan(known.tmax_c)


def past_members(
    weather: TractWeather, first_day: date, last_day: date, members: int
) -> WeatherMembers:
    """A span of weather in which every member has its own gaps, shape (days, members)."""
    if weather.normals is None:
        return gap_members(weather.weather, first_day, last_day, members, SEED)
    days = (last_day - first_day).days + 1
    # Each span has random numbers of its own, or spans in a row would repeat each other.
    seed = SEED + first_day.toordinal()
    invented = _invented(weather.normals, first_day, days, members, seed)
    return with_known_days(invented, first_day, weather.weather)


def coming_members(weather: TractWeather, first_day: date, days: int) -> tuple[WeatherMembers, str]:
    """Courses the weather may take from `first_day` on, and in words where they are from.

    Each past year of a record of ten years or more is one; a shorter record lends
    its statistics, and typed-in normals theirs. Most of them follow a forecast on the next days,
    fewer later.
    """
    courses, basis = _coming(weather, first_day, days)
    if weather.forecast is None or weather.forecast.last_day < first_day:
        return courses, basis
    return (
        following_forecast(courses, first_day, weather.forecast),
        f"{basis}, after the forecast to {weather.forecast.last_day}",
    )


def _coming(weather: TractWeather, first_day: date, days: int) -> tuple[WeatherMembers, str]:
    if weather.normals is not None:
        courses = _invented(weather.normals, first_day, days, INVENTED_MEMBERS)
        return courses, f"{INVENTED_MEMBERS} courses invented from the monthly normals"
    record = weather.weather
    whole = cut(_whole(weather, first_day - timedelta(days=1)), record.first_day, record.last_day)
    years = weather_years(whole, first_day, days)
    if len(years.years) >= FEWEST_YEARS:
        return years.members, f"{len(years.years)} weather years"
    courses = _invented(fit_climate(record), first_day, days, INVENTED_MEMBERS)
    return courses, (
        f"{INVENTED_MEMBERS} courses invented like the {record.days} days of record "
        f"(fewer than {FEWEST_YEARS} whole years)"
    )


def _invented(
    climate: MonthlyClimate, first_day: date, days: int, members: int, seed: int = SEED
) -> WeatherMembers:
    return generate(climate, first_day, days, members, np.random.default_rng(seed))
