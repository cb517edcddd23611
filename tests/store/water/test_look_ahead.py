"""Members and errors for the days to come."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import TankMeasures
from store.vocabulary import Shape
from store.water.balance import run_balance
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import Forcing, daily_forcing
from store.water.look_ahead import forecast_errors, forecast_start
from store.water.parameters import tank_site_of
from store.water.priors import draw_parameters, station_priors

TANK = TankMeasures(Shape.ROUND, 762.0, diameter_mm=950.0)
MEMBERS = 200
IDS = ("a", "b")


@pytest.fixture(scope="module")
def forcing(new_york) -> Forcing:  # type: ignore[no-untyped-def]
    start = (date(2013, 4, 1) - new_york.first_day).days
    return daily_forcing(
        new_york.first_day,
        new_york["rain_mm"],
        new_york["tmin_c"],
        new_york["tmax_c"],
        latitude_deg=40.8,
        elevation_m=40.0,
    ).between(start, start + 220)


@pytest.fixture(scope="module")
def followed(station, forcing) -> FilterRun:  # type: ignore[no-untyped-def]
    stations = [station(TANK, station_id=name) for name in IDS]
    prior = draw_parameters(IDS, station_priors(stations), MEMBERS)
    tank_sites = [tank_site_of(facts) for facts in stations]
    return follow(IDS, tank_sites, forcing.between(0, 60), prior, 200.0)


def test_every_followed_member_is_dealt_alike(followed: FilterRun) -> None:
    start = forecast_start(followed, 3 * MEMBERS)
    for row in range(2):
        values, counts = np.unique(start.parameters.rain[row], return_counts=True)
        assert (counts == 3).all()
        assert (values == np.unique(followed.parameters.rain[row])).all()
    fewer = forecast_start(followed, 40)
    assert fewer.volume_l.shape == (2, 40)
    assert len(np.unique(fewer.parameters.rain[0])) == 40


def test_a_member_stays_whole_when_dealt(followed: FilterRun) -> None:
    start = forecast_start(followed, MEMBERS)
    for row in range(2):
        place = np.argsort(start.parameters.rain[row])
        origin = np.argsort(followed.parameters.rain[row])
        assert (start.volume_l[row][place] == followed.volume_l[row][origin]).all()
        assert (start.errors.demand[row][place] == followed.errors.demand[row][origin]).all()


def test_errors_go_on_from_the_last_evening(followed: FilterRun, forcing: Forcing) -> None:
    start = forecast_start(followed, MEMBERS)
    errors = forecast_errors(start, forcing.between(60, 220))
    assert errors.rain.shape == errors.demand.shape == (160, 2, MEMBERS)
    tomorrow = np.corrcoef(start.errors.demand[0], np.log(errors.demand[0, 0]))[0, 1]
    later = np.corrcoef(start.errors.demand[0], np.log(errors.demand[60, 0]))[0, 1]
    assert tomorrow > 0.85
    assert abs(later) < 0.25


def test_outlooks_with_errors_are_wider(followed: FilterRun, forcing: Forcing, station) -> None:  # type: ignore[no-untyped-def]
    ahead = forcing.between(60, 100)
    start = forecast_start(followed, MEMBERS)
    errors = forecast_errors(start, ahead)
    tank_sites = [tank_site_of(station(TANK))] * 2
    alike = replace(start.parameters, drinking=np.ones((2, MEMBERS)))
    still = run_balance(tank_sites, ahead, alike, 200.0).volume_l[-1]
    moved = run_balance(
        tank_sites, ahead, alike, 200.0,
        rain_error=errors.rain, demand_error=errors.demand,
    ).volume_l[-1]  # fmt: skip
    assert (moved.std(axis=1) > 1.1 * still.std(axis=1)).all()


def test_years_of_weather_may_be_members(followed: FilterRun, forcing: Forcing) -> None:
    ahead = forcing.between(60, 90)
    start = forecast_start(followed, MEMBERS)
    dry = np.repeat(np.zeros_like(ahead.rain_mm), MEMBERS, axis=2)
    dry[3:6, :, : MEMBERS // 2] = 5.0
    errors = forecast_errors(start, replace(ahead, rain_mm=dry, snow_mm=0 * dry, apron_mm=dry))
    held = errors.rain[3] == errors.rain[5]
    assert held[:, : MEMBERS // 2].all()
    assert (errors.rain[0, :, MEMBERS // 2 :] == errors.rain[29, :, MEMBERS // 2 :]).all()


def test_the_same_on_every_run(followed: FilterRun, forcing: Forcing) -> None:
    ahead = forcing.between(60, 160)
    one, two = (forecast_errors(forecast_start(followed, 80), ahead) for _ in range(2))
    assert (one.rain == two.rain).all()
    assert (one.demand == two.demand).all()
    short = forecast_errors(forecast_start(followed, 80), forcing.between(60, 75))
    assert (short.demand == one.demand[:15]).all()
