"""Lay weather from several sources over each other: the newest known value wins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

import numpy as np

from store.errors import BadValue
from store.weather.days import DailyWeather, empty_weather
from store.weather.elements import FIELDS
from store.weather.readers.cells import LIMITS


def overlay(layers: Sequence[DailyWeather]) -> DailyWeather:
    """One record from layers given oldest first, from their first day to their last.

    For each day and element the newest known value wins; an unknown never erases.
    Where a low from one layer ends above a high from another, the day takes both
    from the newest layer that knows both; with no such layer the older of the two
    is dropped. A day is `filled` if a winning rain or temperature was.

    Raises:
        BadValue: no layers.
    """
    if not layers:
        raise BadValue("There is no weather to put together; import a weather file first.")
    first_day = min(layer.first_day for layer in layers)
    last_day = max(layer.last_day for layer in layers)
    merged = empty_weather(first_day, (last_day - first_day).days + 1)
    source = {name: np.full(merged.days, -1) for name in ("rain_mm", "tmin_c", "tmax_c")}
    pair_low, pair_high = np.full((2, merged.days), np.nan)
    pair_source = np.full(merged.days, -1)
    for number, layer in enumerate(layers):
        start = (layer.first_day - first_day).days
        part = slice(start, start + layer.days)
        for name in FIELDS:
            values = getattr(layer, name)
            known = ~np.isnan(values)
            getattr(merged, name)[part][known] = values[known]
            if name in source:
                source[name][part][known] = number
        both = ~np.isnan(layer.tmin_c) & ~np.isnan(layer.tmax_c)
        pair_low[part][both] = layer.tmin_c[both]
        pair_high[part][both] = layer.tmax_c[both]
        pair_source[part][both] = number
    crossed = merged.tmin_c > merged.tmax_c
    paired = crossed & (pair_source >= 0)
    merged.tmin_c[paired], merged.tmax_c[paired] = pair_low[paired], pair_high[paired]
    source["tmin_c"][paired] = source["tmax_c"][paired] = pair_source[paired]
    low_is_older = source["tmin_c"] < source["tmax_c"]
    merged.tmin_c[crossed & ~paired & low_is_older] = np.nan
    merged.tmax_c[crossed & ~paired & ~low_is_older] = np.nan
    for number, layer in enumerate(layers):
        start = (layer.first_day - first_day).days
        part = slice(start, start + layer.days)
        won = np.zeros(layer.days, dtype=bool)
        for name, numbers in source.items():
            won |= (numbers[part] == number) & ~np.isnan(getattr(merged, name)[part])
        merged.filled[part] |= won & layer.filled
    return merged


def with_gauge(weather: DailyWeather, gauge_mm: Mapping[date, float]) -> DailyWeather:
    """The record with the rain of a hand-kept gauge in place of its own on those days.

    Gauge days outside the record make it longer.

    Raises:
        BadValue: rain that cannot be.
    """
    if not gauge_mm:
        return weather
    low, high = LIMITS["rain_mm"]
    for day, rain_mm in gauge_mm.items():
        if not low <= rain_mm <= high:
            raise BadValue(
                f"Gauge rain of {rain_mm:g} mm on {day} is outside {low:g} to {high:g} mm; "
                "correct the reading."
            )
    first_day = min(gauge_mm)
    gauge = empty_weather(first_day, (max(gauge_mm) - first_day).days + 1)
    for day, rain_mm in gauge_mm.items():
        gauge.rain_mm[(day - first_day).days] = rain_mm
    return overlay([weather, gauge])
