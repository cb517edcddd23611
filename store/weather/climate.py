"""What the weather of each month is usually like: the numbers the generator runs on.

Wet and dry days as a two-state chain, wet-day amounts as a gamma distribution, and
temperatures that depend on wet or dry: Richardson (1981), Stochastic simulation of
daily precipitation, temperature, and solar radiation, Water Resources Research 17(1),
182-190.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from store.errors import BadValue
from store.weather.days import BoolArray, FloatArray

WET_DAY_MM = 0.2
"""From here a day is wet: a hundredth of an inch, cut to the tenth of a mm of archives."""

USUAL_LAG1 = 0.6
USUAL_SHOCK_CORRELATION = 0.5
USUAL_SD_C = (5.5, 5.5, 5.5, 5.0, 4.5, 4.0, 3.0, 3.0, 4.0, 4.5, 5.0, 5.5)
USUAL_WET_COOLING_C = 3.0
"""Persistence, spread and cooler wet days of mid-latitudes, for typed-in normals.
Values from memory."""


@dataclass(frozen=True)
class MonthlyClimate:
    """Twelve values of each, January first, shape (12,).

    `wet_after_dry` and `wet_after_wet` are probabilities. Amounts follow a gamma
    distribution of `amount_shape` and `amount_scale_mm`. Temperatures are means of
    wet and of dry days with one spread. `fitted` is false for months that took
    their numbers from others.
    """

    wet_after_dry: FloatArray
    wet_after_wet: FloatArray
    amount_shape: FloatArray
    amount_scale_mm: FloatArray
    tmin_dry_c: FloatArray
    tmin_wet_c: FloatArray
    tmax_dry_c: FloatArray
    tmax_wet_c: FloatArray
    tmin_sd_c: FloatArray
    tmax_sd_c: FloatArray
    tmin_lag1: float
    tmax_lag1: float
    shock_correlation: float
    fitted: BoolArray

    @property
    def wet_share(self) -> FloatArray:
        """Share of wet days that the chain settles at."""
        return self.wet_after_dry / (1.0 + self.wet_after_dry - self.wet_after_wet)


def months_of(first_day: date, days: int) -> NDArray[np.int64]:
    """Month of consecutive days, 0 to 11."""
    stamps = np.datetime64(first_day, "D") + np.arange(days)
    return stamps.astype("datetime64[M]").astype(np.int64) % 12


def daily_means(monthly: FloatArray, first_day: date, days: int) -> FloatArray:
    """Monthly means as a smooth course through the year, shape (days,).

    Straight lines between mid-months, placed so that each month keeps its mean.
    """
    keep_means = 0.75 * np.eye(12) + 0.125 * (np.eye(12, k=1) + np.eye(12, k=-1))
    keep_means[0, 11] = keep_means[11, 0] = 0.125
    middle = np.linalg.solve(keep_means, monthly)
    stamps = np.datetime64(first_day, "D") + np.arange(days)
    month_start = stamps.astype("datetime64[M]")
    length = (month_start + 1).astype("datetime64[D]") - month_start.astype("datetime64[D]")
    into = (stamps - month_start.astype("datetime64[D]")).astype(float) + 0.5
    position = months_of(first_day, days) + into / length.astype(float)
    course: FloatArray = np.interp(position, np.arange(12) + 0.5, middle, period=12.0)
    return course


def climate_from_normals(
    rain_mm: Sequence[float],
    wet_days: Sequence[float],
    tmin_c: Sequence[float],
    tmax_c: Sequence[float],
) -> MonthlyClimate:
    """Monthly numbers from twelve typed-in normals each, January first.

    Rain is the month's total, wet days those from 0.25 mm (0.01 in). Persistence and
    amounts after Geng, Penning de Vries and Supit (1986), A simple method for
    generating daily rainfall data, Agricultural and Forest Meteorology 36, 363-376.

    Raises:
        BadValue: not twelve values, or values that cannot be.
    """
    total, wet, low, high = (
        np.asarray(values, dtype=float) for values in (rain_mm, wet_days, tmin_c, tmax_c)
    )
    for name, values in (("rain", total), ("wet days", wet), ("lows", low), ("highs", high)):
        if values.shape != (12,) or not np.isfinite(values).all():
            raise BadValue(f"The normals need twelve numbers of {name}, January to December.")
    if (total < 0.0).any() or (wet < 0.0).any() or (wet > 28.0).any():
        raise BadValue("Monthly rain cannot be negative, and wet days lie between 0 and 28.")
    if (low > high).any() or ((wet == 0.0) & (total > 0.0)).any():
        raise BadValue(
            "A month's low is above its high, or it has rain and no wet day; correct it."
        )
    share = wet / (365.25 / 12.0)
    after_dry = 0.75 * share
    amount_mm = np.divide(total, wet, out=np.zeros(12), where=wet > 0.0)
    # The published line falls below the mean for light rain; there shape 1 is used.
    scale_mm = np.maximum(amount_mm, 1.83 * amount_mm - 2.16)
    sd_c = np.asarray(USUAL_SD_C)
    return MonthlyClimate(
        wet_after_dry=after_dry,
        wet_after_wet=np.where(share > 0.0, 0.25 + after_dry, 0.0),
        amount_shape=np.divide(amount_mm, scale_mm, out=np.ones(12), where=scale_mm > 0.0),
        amount_scale_mm=scale_mm,
        tmin_dry_c=low,
        tmin_wet_c=low,
        tmax_dry_c=high + share * USUAL_WET_COOLING_C,
        tmax_wet_c=high - (1.0 - share) * USUAL_WET_COOLING_C,
        tmin_sd_c=sd_c,
        tmax_sd_c=sd_c,
        tmin_lag1=USUAL_LAG1,
        tmax_lag1=USUAL_LAG1,
        shock_correlation=USUAL_SHOCK_CORRELATION,
        fitted=np.ones(12, dtype=bool),
    )
