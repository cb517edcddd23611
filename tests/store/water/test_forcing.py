"""Forcing from weather arrays: shapes, seasons, ice, gaps."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.errors import BadValue
from store.water.forcing import ARRAYS, Forcing, daily_forcing, forcing_from_weather
from store.weather.days import FloatArray, empty_weather


def of_arrays(rain: FloatArray, low: FloatArray, high: FloatArray) -> Forcing:
    return daily_forcing(date(2003, 1, 1), rain, low, high, latitude_deg=40.0, elevation_m=300.0)


def test_shapes_of_sites_and_members() -> None:
    """Members with weather of their own; each column as if it were alone."""
    rng = np.random.default_rng(1)
    low = rng.uniform(-10.0, 15.0, (120, 2, 3))
    rain = rng.exponential(3.0, (120, 2, 3))
    whole = of_arrays(rain, low, low + 9.0)
    assert {getattr(whole, name).shape for name in ARRAYS} == {(120, 2, 3)}
    alone = of_arrays(rain[:, 1, 2], low[:, 1, 2], low[:, 1, 2] + 9.0)
    for name in ARRAYS:
        assert getattr(alone, name)[:, 0, 0] == pytest.approx(getattr(whole, name)[:, 1, 2])


def test_sites_keep_their_latitude() -> None:
    rain, low = np.zeros((10, 2)), np.full((10, 2), 10.0)
    both = daily_forcing(
        date(2003, 6, 1), rain, low, low + 9.0, latitude_deg=[30.0, 45.0], elevation_m=[0.0, 100.0]
    )
    one = daily_forcing(
        date(2003, 6, 1),
        rain[:, 1],
        low[:, 1],
        low[:, 1] + 9.0,
        latitude_deg=45.0,
        elevation_m=100.0,
    )
    assert (both.evaporation_mm[:, 1, 0] == one.evaporation_mm[:, 0, 0]).all()
    assert (both.evaporation_mm[:, 0] != both.evaporation_mm[:, 1]).all()
    stations = both.for_stations([1, 0, 1])
    assert (stations.evaporation_mm[:, 2] == both.evaporation_mm[:, 1]).all()


def test_between_keeps_days_and_date() -> None:
    low = np.linspace(-10.0, 20.0, 50)
    part = of_arrays(np.ones(50), low, low + 5.0).between(31, 40)
    assert part.first_day == date(2003, 2, 1)
    assert part.days == 9


def test_water_is_neither_made_nor_lost_by_snow() -> None:
    """What falls on the opening is all the rain; the apron gets it once it has melted."""
    low = np.concatenate([np.full(30, -8.0), np.full(60, 6.0)])
    rain = np.full(90, 4.0)
    forcing = of_arrays(rain, low, low + 6.0)
    assert (forcing.rain_mm + forcing.snow_mm).ravel() == pytest.approx(rain)
    assert forcing.apron_mm.sum() == pytest.approx(rain.sum())
    assert (forcing.apron_mm[:30] == 0.0).all()
    assert forcing.moisture[32] == 2


def test_ice_stops_drinking_and_evaporation() -> None:
    low = np.concatenate([np.full(20, -12.0), np.full(20, 10.0)])
    forcing = of_arrays(np.zeros(40), low, low + 6.0)
    assert forcing.ice[:20].sum() >= 19
    assert (forcing.evaporation_mm[forcing.ice] == 0.0).all()
    assert (forcing.demand_l[forcing.ice] == 0.0).all()
    assert (forcing.demand_l[~forcing.ice] > 0.0).all()


def test_gaps_are_named() -> None:
    rain = np.zeros(5)
    rain[3] = np.nan
    with pytest.raises(BadValue, match="rain of 2003-01-04"):
        of_arrays(rain, np.zeros(5), np.ones(5))


def test_from_daily_weather() -> None:
    """Unknown humidity, wind and sun are allowed and mean Hargreaves."""
    weather = empty_weather(date(2003, 1, 1), 30)
    with pytest.raises(BadValue, match="unknown"):
        forcing_from_weather(weather, 40.0, 300.0)
    known = replace(weather, rain_mm=np.ones(30), tmin_c=np.full(30, 3.0), tmax_c=np.full(30, 9.0))
    forcing = forcing_from_weather(known, 40.0, 300.0)
    plain = of_arrays(known.rain_mm, known.tmin_c, known.tmax_c)
    assert (forcing.evaporation_mm == plain.evaporation_mm).all()
    assert forcing.rain_mm.shape == (30, 1, 1)
