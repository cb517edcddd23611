"""Invented weather has the statistics of the record it was fitted to.

Records: tests/data (sources in the README there). Tolerances come from the sampling
error of the record itself: a monthly mean of 37 years of semi-arid rain is known to
about a tenth, one of 4 years to a quarter.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from store.errors import BadValue
from store.weather.climate import (
    WET_DAY_MM,
    MonthlyClimate,
    climate_from_normals,
    daily_means,
    months_of,
)
from store.weather.days import DailyWeather, FloatArray, empty_weather
from store.weather.fit import fit_climate
from store.weather.gaps import cut
from store.weather.generator import generate
from store.weather.members import WeatherMembers
from store.weather.readers.recognise import read_weather

DATA = Path(__file__).parents[2] / "data"
RECORDS = {"champion_daily.csv": 0.10, "new_york_daily.csv": 0.15}
MEMBERS = 12


@cache
def record(name: str) -> DailyWeather:
    return read_weather(DATA / name).weather


@cache
def invented(name: str) -> WeatherMembers:
    weather = record(name)
    rng = np.random.default_rng(11)
    return generate(fit_climate(weather), weather.first_day, weather.days, MEMBERS, rng)


def by_month(values: FloatArray, weather: DailyWeather) -> FloatArray:
    month = months_of(weather.first_day, weather.days)
    return np.array([values[month == number].mean() for number in range(12)])


@pytest.fixture(params=RECORDS)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_monthly_rain(name: str) -> None:
    weather, members = record(name), invented(name)
    real, made = by_month(weather.rain_mm, weather), by_month(members.rain_mm, weather)
    assert made.sum() == pytest.approx(real.sum(), rel=0.05)
    np.testing.assert_allclose(made, real, rtol=2 * RECORDS[name], atol=0.1)
    assert np.corrcoef(made, real)[0, 1] > 0.95


def test_wet_share(name: str) -> None:
    weather, members = record(name), invented(name)
    real = by_month(weather.rain_mm >= WET_DAY_MM, weather)
    made = by_month(members.rain_mm >= WET_DAY_MM, weather)
    np.testing.assert_allclose(made, real, atol=0.03)
    np.testing.assert_allclose(fit_climate(weather).wet_share, real, atol=0.03)


def test_mean_spells(name: str) -> None:
    def spells(wet: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> tuple[float, float]:
        starts, ends = (wet[1:] & ~wet[:-1]).sum(), (~wet[1:] & wet[:-1]).sum()
        return wet.sum() / starts, (~wet).sum() / ends

    real = spells(record(name).rain_mm >= WET_DAY_MM)
    made = spells(invented(name).rain_mm >= WET_DAY_MM)
    np.testing.assert_allclose(made, real, rtol=0.06)


def test_wet_day_amounts(name: str) -> None:
    """A gamma distribution fitted to the middle runs light at the far end: see 0.99."""
    real, made = record(name).rain_mm, invented(name).rain_mm
    for share, tolerance in ((0.5, 0.35), (0.75, 0.15), (0.9, 0.10), (0.99, 0.20)):
        expected = np.quantile(real[real >= WET_DAY_MM], share)
        found = np.quantile(made[made >= WET_DAY_MM], share)
        assert found == pytest.approx(expected, rel=tolerance), share
    assert made[made > 0.0].min() >= WET_DAY_MM


def test_temperatures(name: str) -> None:
    weather, members = record(name), invented(name)
    assert (members.tmin_c <= members.tmax_c).all()
    for real, made in ((weather.tmin_c, members.tmin_c), (weather.tmax_c, members.tmax_c)):
        np.testing.assert_allclose(by_month(made, weather), by_month(real, weather), atol=0.7)
        assert made.std() == pytest.approx(real.std(), rel=0.04)
        lag1 = np.corrcoef(made[1:, 0], made[:-1, 0])[0, 1]
        assert lag1 == pytest.approx(np.corrcoef(real[1:], real[:-1])[0, 1], abs=0.03)
    together = np.corrcoef(members.tmin_c[:, 0], members.tmax_c[:, 0])[0, 1]
    assert together == pytest.approx(np.corrcoef(weather.tmin_c, weather.tmax_c)[0, 1], abs=0.03)


def test_wet_summer_days_are_cooler() -> None:
    weather, members = record("champion_daily.csv"), invented("champion_daily.csv")
    july = months_of(weather.first_day, weather.days) == 6

    def cooling(rain_mm: FloatArray, tmax_c: FloatArray) -> float:
        wet = rain_mm[july] >= WET_DAY_MM
        return float(tmax_c[july][~wet].mean() - tmax_c[july][wet].mean())

    real = cooling(weather.rain_mm, weather.tmax_c)
    assert real > 1.0
    assert cooling(members.rain_mm, members.tmax_c) == pytest.approx(real, abs=0.4)


def test_same_seed_same_weather() -> None:
    climate = fit_climate(record("new_york_daily.csv"))
    one, two, other = (
        generate(climate, date(2025, 3, 1), 60, 4, np.random.default_rng(seed)).rain_mm
        for seed in (1, 1, 2)
    )
    np.testing.assert_array_equal(one, two)
    assert one.shape == (60, 4)
    assert not np.array_equal(one, other)
    assert len({tuple(column) for column in one.T}) == 4


def test_a_record_of_forty_days_is_enough() -> None:
    weather = cut(record("new_york_daily.csv"), date(2013, 5, 1), date(2013, 6, 9))
    climate = fit_climate(weather)
    assert climate.fitted.tolist() == [number == 4 for number in range(12)]
    made = generate(climate, date(2025, 1, 1), 365, 50, np.random.default_rng(1))
    assert all(np.isfinite(array).all() for array in made)
    may = slice(120, 151)
    assert made.tmax_c[may].mean() == pytest.approx(weather.tmax_c[:31].mean(), abs=1.5)
    assert made.rain_mm.mean() == pytest.approx(weather.rain_mm.mean(), rel=0.6)


def test_no_month_with_enough_days_uses_the_fullest() -> None:
    weather = cut(record("new_york_daily.csv"), date(2013, 5, 20), date(2013, 6, 15))
    climate = fit_climate(weather)
    assert climate.fitted.tolist() == [number == 5 for number in range(12)]


def test_months_without_days_lie_between() -> None:
    weather = record("new_york_daily.csv")
    month = months_of(weather.first_day, weather.days)
    gap = np.isin(month, (6,))
    holed = replace(weather, tmax_c=np.where(gap, np.nan, weather.tmax_c))
    climate = fit_climate(holed)
    assert not climate.fitted[6]
    assert climate.tmax_dry_c[6] == pytest.approx(climate.tmax_dry_c[[5, 7]].mean())


def test_filled_days_are_not_learned_from() -> None:
    weather = record("new_york_daily.csv")
    wrong = replace(weather, rain_mm=weather.rain_mm.copy(), filled=weather.filled.copy())
    wrong.rain_mm[:100], wrong.filled[:100] = 500.0, True
    without = cut(weather, date(2012, 4, 10), weather.last_day)
    np.testing.assert_allclose(
        fit_climate(wrong).amount_scale_mm, fit_climate(without).amount_scale_mm
    )


def test_a_record_without_rain_stays_dry() -> None:
    weather = cut(record("new_york_daily.csv"), date(2013, 5, 1), date(2013, 7, 31))
    dry = replace(weather, rain_mm=np.zeros(weather.days))
    made = generate(fit_climate(dry), date(2025, 1, 1), 90, 3, np.random.default_rng(1))
    assert (made.rain_mm == 0.0).all()


def test_nothing_to_fit() -> None:
    with pytest.raises(BadValue, match="0 days with rain, too few"):
        fit_climate(empty_weather(date(2025, 1, 1), 400))
    with pytest.raises(BadValue, match="0 days with rain and both temperatures"):
        fit_climate(replace(empty_weather(date(2025, 1, 1), 400), rain_mm=np.zeros(400)))


RAIN = [20.0, 25.0, 40.0, 70.0, 100.0, 95.0, 80.0, 75.0, 60.0, 50.0, 35.0, 0.0]
WET = [5.0, 5.0, 7.0, 9.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0, 6.0, 0.0]
LOW = [-10.0, -8.0, -2.0, 4.0, 10.0, 15.0, 18.0, 17.0, 12.0, 5.0, -2.0, -8.0]
HIGH = [value + 12.0 for value in LOW]


def normals() -> MonthlyClimate:
    return climate_from_normals(RAIN, WET, LOW, HIGH)


def test_normals_come_back() -> None:
    made = generate(normals(), date(2025, 1, 1), 365, 300, np.random.default_rng(1))
    span = empty_weather(date(2025, 1, 1), 365)
    length = np.bincount(months_of(span.first_day, span.days))
    np.testing.assert_allclose(by_month(made.rain_mm, span) * length, RAIN, rtol=0.08)
    wet_days = by_month(made.rain_mm >= WET_DAY_MM, span) * length
    np.testing.assert_allclose(wet_days, WET, rtol=0.08)
    np.testing.assert_allclose(by_month(made.tmin_c, span), LOW, atol=0.6)
    np.testing.assert_allclose(by_month(made.tmax_c, span), HIGH, atol=0.6)


def test_normals_after_geng() -> None:
    """P(wet|dry) = 0.75 f and scale = 1.83 amount - 2.16 (Geng et al. 1986); May by hand."""
    climate = normals()
    share = 11.0 / 30.4375
    assert climate.wet_after_dry[4] == pytest.approx(0.75 * share)
    assert climate.wet_share[4] == pytest.approx(share)
    assert climate.amount_scale_mm[4] == pytest.approx(1.83 * 100.0 / 11.0 - 2.16)
    assert climate.amount_shape[4] * climate.amount_scale_mm[4] == pytest.approx(100.0 / 11.0)


@pytest.mark.parametrize(
    ("rain", "wet", "low", "message"),
    [
        (RAIN[:11], WET, LOW, "twelve numbers of rain"),
        ([-1.0, *RAIN[1:]], WET, LOW, "cannot be negative"),
        (RAIN, [29.0, *WET[1:]], LOW, "between 0 and 28"),
        (RAIN, [0.0, *WET[1:]], LOW, "no wet day"),
        (RAIN, WET, [50.0, *LOW[1:]], "low is above its high"),
        (RAIN, WET, [np.nan, *LOW[1:]], "twelve numbers of lows"),
    ],
)
def test_normals_that_cannot_be(
    rain: list[float], wet: list[float], low: list[float], message: str
) -> None:
    with pytest.raises(BadValue, match=message):
        climate_from_normals(rain, wet, low, HIGH)


def test_daily_course_keeps_monthly_means() -> None:
    monthly = np.array(LOW)
    course = daily_means(monthly, date(2023, 1, 1), 365)
    month = months_of(date(2023, 1, 1), 365)
    means = [course[month == number].mean() for number in range(12)]
    np.testing.assert_allclose(means, monthly, atol=0.15)
    assert np.abs(np.diff(course)).max() < 0.4


@pytest.mark.parametrize(("days", "members"), [(0, 1), (1, 0)])
def test_nothing_to_generate(days: int, members: int) -> None:
    with pytest.raises(BadValue, match="one at least"):
        generate(normals(), date(2025, 1, 1), days, members, np.random.default_rng(1))


def test_seasons_and_storms_vary_as_in_a_record_not_tuned_on() -> None:
    """Totals of 91 days and the heaviest days, on the headwaters of the Shenandoah."""
    weather = record("shenandoah_daily.csv")
    made = generate(
        fit_climate(weather), weather.first_day, weather.days, MEMBERS, np.random.default_rng(3)
    ).rain_mm
    years = weather.days // 365

    def variation(rain_mm: FloatArray) -> float:
        totals = rain_mm[: years * 365].reshape(years, 365)[:, :364].reshape(years, 4, 91).sum(2)
        return float((totals.std(axis=0) / totals.mean(axis=0)).mean())

    invented_variation = np.mean([variation(made[:, member]) for member in range(MEMBERS)])
    assert invented_variation == pytest.approx(variation(weather.rain_mm), rel=0.1)
    heavy = [np.quantile(rain[rain >= WET_DAY_MM], 0.999) for rain in (weather.rain_mm, made)]
    assert heavy[1] == pytest.approx(heavy[0], rel=0.15)
