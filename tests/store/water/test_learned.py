"""What readings teach about parameters."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import StationFacts, TankMeasures
from store.vocabulary import Shape
from store.water.balance import run_balance
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import Forcing, daily_forcing
from store.water.geometry import depth_at_volume_mm
from store.water.learned import learned
from store.water.observing import Observation, UseCount
from store.water.parameters import default_parameters, tank_site_of
from store.water.priors import PARAMETER_NAMES, draw_parameters, station_priors

TANK = TankMeasures(Shape.ROUND, 762.0, diameter_mm=950.0)


@pytest.fixture(scope="module")
def forcing(new_york) -> Forcing:  # type: ignore[no-untyped-def]
    start = (date(2012, 5, 1) - new_york.first_day).days
    return daily_forcing(
        new_york.first_day,
        new_york["rain_mm"],
        new_york["tmin_c"],
        new_york["tmax_c"],
        latitude_deg=40.8,
        elevation_m=40.0,
    ).between(start, start + 210)


def follow_truth(
    facts: StationFacts, forcing: Forcing, hidden: dict[str, float], every: int = 5
) -> FilterRun:
    """A tank that keeps to the model but for hidden parameters, measured every few days."""
    tank_site = tank_site_of(facts)
    defaults = default_parameters([facts])
    truth = replace(defaults, **{n: getattr(defaults, n) * factor for n, factor in hidden.items()})
    volume = run_balance([tank_site], forcing, truth, 250.0).volume_l[:, 0, 0]
    depth = depth_at_volume_mm(tank_site.tank, volume)
    seen = [
        Observation(day, 0, depth_mm=float(depth[day])) for day in range(every, len(depth), every)
    ]
    prior = draw_parameters([facts.station_id], station_priors([facts]), 500)
    return follow([facts.station_id], [tank_site], forcing, prior, 250.0, observations=seen)


@pytest.mark.parametrize(("factor", "sign"), [(0.5, -1), (2.2, 1)])
def test_a_strong_and_a_weak_rut_are_told_apart(station, forcing, factor, sign) -> None:  # type: ignore[no-untyped-def]
    followed = follow_truth(station(TANK, apron_area_m2=5.0), forcing, {"rut": factor})
    column = PARAMETER_NAMES.index("rut")
    drunk = learned(followed, 0)[column]
    assert sign * drunk.shifted > 0.5
    assert drunk.now[0] < factor < drunk.now[2] or abs(drunk.now[1] / factor - 1) < 0.35
    assert drunk.taught_by is not None
    check = followed.checks[drunk.taught_by]
    assert not (check.parameters_before[column] == check.parameters_after[column]).all()


def test_a_camera_sees_the_rut_before_the_water_does(station, forcing) -> None:  # type: ignore[no-untyped-def]
    """Three animals a day all summer and thirty in October against three all along."""
    facts, days = station(TANK, apron_area_m2=5.0), forcing.days

    def ruts(october: float) -> float:
        counts = [UseCount(day, 0, 3.0 if day < 140 else october) for day in range(20, days, 10)]
        prior = draw_parameters([facts.station_id], station_priors([facts]), 500)
        tank_site = tank_site_of(facts)
        run = follow([facts.station_id], [tank_site], forcing, prior, 250.0, counts=counts)
        return float(np.median(run.parameters.rut))

    assert ruts(30.0) > 1.5 * ruts(3.0)


def test_what_readings_cannot_see_stays_the_prior(station, forcing) -> None:  # type: ignore[no-untyped-def]
    """Snow from May to October, and the yield of an apron below a raised rim."""
    facts = station(TANK, rim_above_ground_mm=100.0)
    known = {item.parameter: item for item in learned(follow_truth(facts, forcing, {}), 0)}
    for name in ("snow_catch", "apron_yield"):
        assert known[name].narrowed == pytest.approx(1.0, abs=0.3)
        assert abs(known[name].shifted) < 0.5
    assert known["shelter"].prior[1] == pytest.approx(0.7, rel=0.01)


def test_nothing_is_learned_without_readings(station, forcing) -> None:  # type: ignore[no-untyped-def]
    for item in learned(follow_truth(station(TANK), forcing, {}, every=500), 0):
        assert item.now == item.prior
        assert (item.narrowed, item.shifted, item.taught_by) == (1.0, 0.0, None)
