"""Layers of weather: the newest known value wins, an unknown never erases."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.weather.days import DailyWeather, empty_weather
from store.weather.elements import FIELDS
from store.weather.merge import overlay, with_gauge

FIRST = date(2024, 2, 25)
NAN = np.nan


def weather(first_day: date, **values: list[float]) -> DailyWeather:
    days = len(next(iter(values.values())))
    arrays = {name: np.array(array, dtype=float) for name, array in values.items()}
    return replace(empty_weather(first_day, days), **arrays)


@st.composite
def layers(draw: st.DrawFn) -> list[DailyWeather]:
    found = []
    for _ in range(draw(st.integers(1, 4))):
        days = draw(st.integers(1, 8))
        value = st.sampled_from([NAN, -3.0, 0.0, 2.0, 5.0])
        rows = {name: draw(st.lists(value, min_size=days, max_size=days)) for name in FIELDS}
        low, high = np.array(rows["tmin_c"]), np.array(rows["tmax_c"])
        rows["tmin_c"] = np.where(low > high, high, low).tolist()
        found.append(weather(FIRST + timedelta(days=draw(st.integers(0, 6))), **rows))
    return found


@given(layers())
def test_newest_known_value_wins_and_none_is_lost(given_layers: list[DailyWeather]) -> None:
    merged = overlay(given_layers)
    assert merged.first_day == min(layer.first_day for layer in given_layers)
    assert merged.last_day == max(layer.last_day for layer in given_layers)
    assert not (merged.tmin_c > merged.tmax_c).any()
    for number in range(merged.days):
        day = merged.first_day + timedelta(days=number)
        newest = {}
        for name in FIELDS:
            known = [
                getattr(layer, name)[(day - layer.first_day).days]
                for layer in given_layers
                if layer.first_day <= day <= layer.last_day
            ]
            newest[name] = next((value for value in reversed(known) if value == value), NAN)
        crossed = newest["tmin_c"] > newest["tmax_c"]
        for name in FIELDS:
            if not (crossed and name in ("tmin_c", "tmax_c")):
                np.testing.assert_equal(getattr(merged, name)[number], newest[name])


def test_mixed_sources_that_cross_take_the_newest_pair() -> None:
    pair = weather(FIRST, tmin_c=[1.0, 1.0], tmax_c=[9.0, 9.0])
    newer = weather(FIRST, tmin_c=[12.0, 2.0], tmax_c=[NAN, NAN])
    merged = overlay([pair, newer])
    np.testing.assert_array_equal(merged.tmin_c, [1.0, 2.0])
    np.testing.assert_array_equal(merged.tmax_c, [9.0, 9.0])


@pytest.mark.parametrize("newer", ["tmin_c", "tmax_c"])
def test_crossing_without_a_pair_drops_the_older(newer: str) -> None:
    low = weather(FIRST, tmin_c=[12.0])
    high = weather(FIRST, tmax_c=[9.0])
    merged = overlay([high, low] if newer == "tmin_c" else [low, high])
    dropped = "tmax_c" if newer == "tmin_c" else "tmin_c"
    assert np.isnan(getattr(merged, dropped)).all()
    assert not np.isnan(getattr(merged, newer)).any()


def test_filled_follows_the_winning_value() -> None:
    old = replace(weather(FIRST, rain_mm=[1.0, 2.0]), filled=np.array([True, True]))
    merged = overlay([old, weather(FIRST, rain_mm=[NAN, 3.0])])
    np.testing.assert_array_equal(merged.filled, [True, False])


def test_inputs_stay_as_they_are() -> None:
    old = weather(FIRST, rain_mm=[1.0])
    overlay([old, weather(FIRST, rain_mm=[2.0])])
    assert old.rain_mm[0] == 1.0


def test_gauge_overrides_its_days_and_may_extend() -> None:
    record = weather(FIRST, rain_mm=[1.0, NAN], tmin_c=[3.0, 4.0])
    later = FIRST + timedelta(days=3)
    merged = with_gauge(record, {FIRST: 0.0, later: 8.0})
    np.testing.assert_array_equal(merged.rain_mm, [0.0, NAN, NAN, 8.0])
    np.testing.assert_array_equal(merged.tmin_c, [3.0, 4.0, NAN, NAN])
    assert with_gauge(record, {}) is record


@pytest.mark.parametrize("rain_mm", [-0.1, 2000.1, NAN])
def test_gauge_rain_that_cannot_be(rain_mm: float) -> None:
    with pytest.raises(BadValue, match="correct the reading"):
        with_gauge(weather(FIRST, rain_mm=[1.0]), {FIRST: rain_mm})


def test_no_layers() -> None:
    with pytest.raises(BadValue, match="no weather"):
        overlay([])
