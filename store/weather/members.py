"""Several possible courses of the weather side by side, for ensembles."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np

from store.weather.days import BoolArray, DailyWeather, FloatArray


class WeatherMembers(NamedTuple):
    """Rain and temperatures of one span of days; every array has shape (days, members)."""

    rain_mm: FloatArray
    tmin_c: FloatArray
    tmax_c: FloatArray


FIRST_DAY_SHARE, FORECAST_REACH_D = 0.95, 10
"""Share of the members that follow a forecast on its first day, and the days after which
none does: daily rain is hardly told further ahead (assumed)."""


def following_forecast(
    members: WeatherMembers, first_day: date, forecast: DailyWeather
) -> WeatherMembers:
    """Days to come of which a forecast knows some: fewer members follow it day by day.

    `first_day` is the first day ahead. A member that has left the forecast stays on its
    own course.
    """
    days, count = members.rain_mm.shape
    lead = np.arange(days)[:, np.newaxis]
    share = FIRST_DAY_SHARE * np.maximum(1.0 - lead / FORECAST_REACH_D, 0.0)
    rank = np.arange(1, count + 1) * (np.sqrt(5.0) - 1.0) / 2.0 % 1.0
    return with_known_days(members, first_day, forecast, rank < share)


def with_known_days(
    members: WeatherMembers, first_day: date, known: DailyWeather, follows: BoolArray | None = None
) -> WeatherMembers:
    """Put known weather in place of the days it covers, in every member.

    With `follows`, of shape (days, members), only where it is true. What is not known stays
    the member's own. A known high below a member's own low (or the reverse) pulls the
    member's value to it.
    """
    days = members.rain_mm.shape[0]
    start = (known.first_day - first_day).days
    target = slice(max(start, 0), max(min(start + known.days, days), 0))
    taken = slice(target.start - start, target.stop - start)
    if target.start >= target.stop:
        return members
    put = np.ones_like(members.rain_mm[target], dtype=bool) if follows is None else follows[target]

    def laid(own: FloatArray, values: FloatArray) -> tuple[FloatArray, BoolArray]:
        there = put & ~np.isnan(values[taken])[:, np.newaxis]
        result = own.copy()
        result[target] = np.where(there, values[taken][:, np.newaxis], own[target])
        return result, there

    rain_mm, _ = laid(members.rain_mm, known.rain_mm)
    tmin_c, low_known = laid(members.tmin_c, known.tmin_c)
    tmax_c, _ = laid(members.tmax_c, known.tmax_c)
    low, high = tmin_c[target], tmax_c[target]
    high[:] = np.where(low_known, np.maximum(high, low), high)
    low[:] = np.minimum(low, high)
    return WeatherMembers(rain_mm, tmin_c, tmax_c)
