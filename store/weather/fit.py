"""Fit the monthly numbers of the generator to a record, long or short."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from store.errors import BadValue
from store.weather.climate import (
    USUAL_LAG1,
    USUAL_SHOCK_CORRELATION,
    WET_DAY_MM,
    MonthlyClimate,
    daily_means,
    months_of,
)
from store.weather.days import BoolArray, DailyWeather, FloatArray

ENOUGH_DAYS = 20
"""A month with fewer known days takes its numbers from the months around it."""

FEWEST_DAYS = 10
"""With fewer known days in all there is nothing to fit."""

PRIOR_DAYS = 5.0
"""Weight of the whole record in a month's own numbers, as days: matters when few."""

ENOUGH_WET_DAYS = 10


def fit_climate(weather: DailyWeather) -> MonthlyClimate:
    """Fit the monthly numbers to the days a record really knows; filled days are left out.

    Months with fewer than 20 known days lie between the nearest months that have
    them, round the year; if none has, the fullest month stands for all. Months with
    few days lean on the whole record, those with under 10 wet days share its shape.

    Raises:
        BadValue: fewer than 10 days with rain, or with both temperatures and rain.
    """
    rain = np.where(weather.filled, np.nan, weather.rain_mm)
    low = np.where(weather.filled, np.nan, weather.tmin_c)
    high = np.where(weather.filled, np.nan, weather.tmax_c)
    month = months_of(weather.first_day, weather.days)
    complete = ~np.isnan(rain + low + high)
    for known, what in ((~np.isnan(rain), "rain"), (complete, "rain and both temperatures")):
        if known.sum() < FEWEST_DAYS:
            raise BadValue(
                f"The weather record has {int(known.sum())} days with {what}, too few to tell "
                f"what is usual; at least {FEWEST_DAYS} are needed, or type in monthly normals."
            )
    after_dry, after_wet, rain_fitted = _chain(rain, month)
    shape, scale_mm = _amounts(rain, month, rain_fitted)
    temperature_fitted = _enough(np.bincount(month[complete], minlength=12))
    lows, highs = (
        _temperature(
            np.where(complete, values, np.nan), rain, weather.first_day, temperature_fitted
        )
        for values in (low, high)
    )
    return MonthlyClimate(
        wet_after_dry=after_dry,
        wet_after_wet=after_wet,
        amount_shape=shape,
        amount_scale_mm=scale_mm,
        tmin_dry_c=lows.dry_c,
        tmin_wet_c=lows.wet_c,
        tmax_dry_c=highs.dry_c,
        tmax_wet_c=highs.wet_c,
        tmin_sd_c=lows.sd_c,
        tmax_sd_c=highs.sd_c,
        tmin_lag1=lows.lag1,
        tmax_lag1=highs.lag1,
        shock_correlation=_shock_correlation(lows, highs),
        fitted=rain_fitted & temperature_fitted,
    )


class _Temperature(NamedTuple):
    """Monthly numbers of one temperature; `residual` is in standard deviations by day."""

    dry_c: FloatArray
    wet_c: FloatArray
    sd_c: FloatArray
    lag1: float
    residual: FloatArray


def _temperature(
    values: FloatArray, rain: FloatArray, first_day: date, fitted: BoolArray
) -> _Temperature:
    month, wet, known = months_of(first_day, len(values)), rain >= WET_DAY_MM, ~np.isnan(values)
    dry_c, wet_c = _means_by_wetness(values, wet, known, month, fitted)
    dry, rainy = (daily_means(monthly, first_day, len(values)) for monthly in (dry_c, wet_c))
    departure = values - np.where(wet, rainy, dry)
    sd_c = np.sqrt(_bridged(_by_month(departure**2, known, month), fitted))
    residual = departure / np.where(sd_c > 0.0, sd_c, 1.0)[month]
    lag1 = _correlation(residual[1:], residual[:-1], USUAL_LAG1)
    return _Temperature(dry_c, wet_c, sd_c, lag1, residual)


def _enough(days: NDArray[np.int64]) -> BoolArray:
    enough = days >= ENOUGH_DAYS
    return enough if enough.any() else days == days.max()


def _bridged(monthly: FloatArray, enough: BoolArray) -> FloatArray:
    at = np.flatnonzero(enough)
    bridged: FloatArray = np.interp(np.arange(12), at, monthly[at], period=12)
    return bridged


def _by_month(values: FloatArray, wanted: BoolArray, month: NDArray[np.int64]) -> FloatArray:
    """Mean of the wanted days by month, 0 where there are none."""
    count = np.bincount(month[wanted], minlength=12)
    total = np.bincount(month[wanted], weights=values[wanted], minlength=12)
    return np.divide(total, count, out=np.zeros(12), where=count > 0)


def _chain(rain: FloatArray, month: NDArray[np.int64]) -> tuple[FloatArray, FloatArray, BoolArray]:
    """Probabilities of a wet day after a dry and after a wet one."""
    known, wet = ~np.isnan(rain), rain >= WET_DAY_MM
    fitted = _enough(np.bincount(month[known], minlength=12))
    pair = known[1:] & known[:-1]
    probabilities = []
    for before in (~wet[:-1], wet[:-1]):
        of_kind = pair & before
        days = np.bincount(month[1:][of_kind], minlength=12)
        then_wet = np.bincount(month[1:][of_kind & wet[1:]], minlength=12)
        overall = then_wet.sum() / days.sum() if days.sum() else wet[known].mean()
        own = (then_wet + PRIOR_DAYS * overall) / (days + PRIOR_DAYS)
        probabilities.append(_bridged(own, fitted))
    return probabilities[0], probabilities[1], fitted


def _amounts(
    rain: FloatArray, month: NDArray[np.int64], fitted: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """Gamma shape and scale of wet-day rain.

    Shape by Thom (1958), A note on the gamma distribution, Monthly Weather Review
    86, 117-122; the mean is kept exactly.
    """
    wet = rain >= WET_DAY_MM
    if not wet.any():
        return np.ones(12), np.zeros(12)
    count = np.bincount(month[wet], minlength=12)
    mean_all = rain[wet].mean()
    total = np.bincount(month[wet], weights=rain[wet], minlength=12)
    mean_mm = (total + PRIOR_DAYS * mean_all) / (count + PRIOR_DAYS)
    shape = np.full(12, _thom_shape(rain[wet]))
    for number in np.flatnonzero(count >= ENOUGH_WET_DAYS):
        shape[number] = _thom_shape(rain[wet & (month == number)])
    shape, mean_mm = _bridged(shape, fitted), _bridged(mean_mm, fitted)
    return shape, mean_mm / shape


def _thom_shape(amounts: FloatArray) -> float:
    spread = float(np.log(amounts.mean()) - np.log(amounts).mean())
    if spread < 0.01:
        return 50.0
    return (1.0 + float(np.sqrt(1.0 + 4.0 * spread / 3.0))) / (4.0 * spread)


def _means_by_wetness(
    values: FloatArray,
    wet: BoolArray,
    complete: BoolArray,
    month: NDArray[np.int64],
    fitted: BoolArray,
) -> tuple[FloatArray, FloatArray]:
    """Monthly means of dry and of wet days; their difference leans on the whole record."""
    share = _by_month(wet.astype(float), complete, month)
    mean_c = _by_month(values, complete, month)
    difference = _by_month(values, complete & wet, month) - _by_month(
        values, complete & ~wet, month
    )
    days = np.bincount(month[complete], minlength=12)
    weight = days * np.minimum(share, 1.0 - share)
    overall = float((difference * weight).sum() / weight.sum()) if weight.any() else 0.0
    difference = (difference * weight + overall * PRIOR_DAYS) / (weight + PRIOR_DAYS)
    dry_c = mean_c - share * difference
    return _bridged(dry_c, fitted), _bridged(dry_c + difference, fitted)


def _correlation(first: FloatArray, second: FloatArray, usual: float) -> float:
    """Correlation over days where both are known, the usual one where too few are."""
    both = ~np.isnan(first + second)
    if both.sum() < FEWEST_DAYS or first[both].std() == 0.0 or second[both].std() == 0.0:
        return usual
    return float(np.clip(np.corrcoef(first[both], second[both])[0, 1], 0.0, 0.95))


def _shock_correlation(lows: _Temperature, highs: _Temperature) -> float:
    """Correlation of the daily shocks that gives the residuals their own correlation."""
    together = _correlation(lows.residual, highs.residual, USUAL_SHOCK_CORRELATION)
    own = np.sqrt((1.0 - lows.lag1**2) * (1.0 - highs.lag1**2))
    return float(min(together * (1.0 - lows.lag1 * highs.lag1) / own, 0.99))
