"""Several possible courses of the weather side by side, for ensembles."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np

from store.weather.days import DailyWeather, FloatArray


class WeatherMembers(NamedTuple):
    """Rain and temperatures of one span of days; every array has shape (days, members)."""

    rain_mm: FloatArray
    tmin_c: FloatArray
    tmax_c: FloatArray


def with_forecast(
    members: WeatherMembers, first_day: date, forecast: DailyWeather
) -> WeatherMembers:
    """Put a short-range forecast in place of the days it covers, in every member.

    Fact the forecast does not know stays the member's own. A forecast high below a
    member's own low (or the reverse) pulls the member's value to it.
    """
    days = members.rain_mm.shape[0]
    start = (forecast.first_day - first_day).days
    target = slice(max(start, 0), max(min(start + forecast.days, days), 0))
    taken = slice(target.start - start, target.stop - start)
    if target.start >= target.stop:
        return members
    rain_mm, tmin_c, tmax_c = (array.copy() for array in members)
    for array, values in (
        (rain_mm, forecast.rain_mm[taken]),
        (tmin_c, forecast.tmin_c[taken]),
        (tmax_c, forecast.tmax_c[taken]),
    ):
        known = ~np.isnan(values)
        array[target][known] = values[known, np.newaxis]
    low_known = ~np.isnan(forecast.tmin_c[taken])[:, np.newaxis]
    low, high = tmin_c[target], tmax_c[target]
    high[:] = np.where(low_known, np.maximum(high, low), high)
    low[:] = np.minimum(low, high)
    return WeatherMembers(rain_mm, tmin_c, tmax_c)
