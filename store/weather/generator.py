"""Invent daily weather that is like a climate: Richardson (1981), see `climate`."""

from __future__ import annotations

from datetime import date

import numpy as np

from store.errors import BadValue
from store.weather.climate import WET_DAY_MM, MonthlyClimate, daily_means, months_of
from store.weather.days import BoolArray, FloatArray
from store.weather.members import WeatherMembers

SEASON_D, SEASON_SPREAD = 91, 0.25
"""Days that a dry or a wet season lasts, and the standard deviation of the logarithm of its
amounts. Daily chains alone vary too little between seasons: .47 and .27 of the mean where the
totals of 91 days of Champion and New York vary .58 and .31 (set on those two)."""
STORM_SHARE, STORM_FACTOR = 0.03, 2.0
"""Share of wet days with a storm of another kind, and how many times as much it brings:
a gamma distribution alone is light in the tail (set as above)."""


def generate(
    climate: MonthlyClimate, first_day: date, days: int, members: int, rng: np.random.Generator
) -> WeatherMembers:
    """Invent `members` courses of `days` days; the same generator state gives the same.

    Temperatures are a mean that depends on wet or dry plus a deviation that decays
    from day to day (a diagonal form of Richardson's equation 5). Amounts vary between seasons
    and storms beyond the gamma distribution. A low above its
    high is swapped with it. Wet days have at least 0.2 mm.

    Raises:
        BadValue: fewer than one day or member.
    """
    if days < 1 or members < 1:
        raise BadValue(f"{days} days of {members} members cannot be made; ask for one at least.")
    month = months_of(first_day, days)
    wet = _wet_days(climate, month, rng.random((days, members)))
    amount = rng.standard_gamma(climate.amount_shape[month][:, np.newaxis], (days, members))
    amount *= climate.amount_scale_mm[month][:, np.newaxis]
    amount *= _seasons(days, members, rng) * _storms(days, members, rng)
    rain_mm = np.where(wet, np.maximum(amount, WET_DAY_MM), 0.0)
    low_shock, own_shock = rng.standard_normal((2, days, members))
    together = climate.shock_correlation
    high_shock = together * low_shock + np.sqrt(1.0 - together**2) * own_shock
    temperatures = []
    for shock, lag1, dry_c, wet_c, sd_c in (
        (low_shock, climate.tmin_lag1, climate.tmin_dry_c, climate.tmin_wet_c, climate.tmin_sd_c),
        (high_shock, climate.tmax_lag1, climate.tmax_dry_c, climate.tmax_wet_c, climate.tmax_sd_c),
    ):
        dry, rainy = (
            daily_means(monthly, first_day, days)[:, np.newaxis] for monthly in (dry_c, wet_c)
        )
        spread = sd_c[month][:, np.newaxis]
        temperatures.append(np.where(wet, rainy, dry) + spread * _persistent(shock, lag1))
    return WeatherMembers(rain_mm, np.minimum(*temperatures), np.maximum(*temperatures))


def _seasons(days: int, members: int, rng: np.random.Generator) -> FloatArray:
    """How wet the season of each day is, of mean 1; every member's seasons turn on its own day."""
    factor = rng.lognormal(
        -(SEASON_SPREAD**2) / 2.0, SEASON_SPREAD, (days // SEASON_D + 2, members)
    )
    turns = rng.integers(0, SEASON_D, members)
    season = (np.arange(days)[:, np.newaxis] + turns) // SEASON_D
    return np.take_along_axis(factor, season, axis=0)


def _storms(days: int, members: int, rng: np.random.Generator) -> FloatArray:
    """More on the days of a storm and a little less on all others, of mean 1."""
    usual = (1.0 - STORM_SHARE * STORM_FACTOR) / (1.0 - STORM_SHARE)
    return np.where(rng.random((days, members)) < STORM_SHARE, STORM_FACTOR, usual)


def _wet_days(
    climate: MonthlyClimate,
    month: np.ndarray[tuple[int, ...], np.dtype[np.int64]],
    draw: FloatArray,
) -> BoolArray:
    """The chain of wet and dry days from uniform draws, shape (days, members)."""
    wet = np.empty(draw.shape, dtype=bool)
    wet[0] = draw[0] < climate.wet_share[month[0]]
    for day in range(1, len(draw)):
        number = month[day]
        chance = np.where(
            wet[day - 1], climate.wet_after_wet[number], climate.wet_after_dry[number]
        )
        wet[day] = draw[day] < chance
    return wet


def _persistent(shock: FloatArray, lag1: float) -> FloatArray:
    """Deviations of mean 0 and spread 1 that keep a share `lag1` from day to day."""
    deviation = shock.copy()
    fresh = np.sqrt(1.0 - lag1**2)
    for day in range(1, len(shock)):
        deviation[day] = lag1 * deviation[day - 1] + fresh * shock[day]
    return deviation
