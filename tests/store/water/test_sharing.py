"""What stations without readings borrow from those like them."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import StationFacts, TankMeasures
from store.vocabulary import ApronSurface, Shape
from store.water.balance import run_balance
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import daily_forcing
from store.water.geometry import depth_at_volume_mm
from store.water.observing import Observation
from store.water.parameters import Parameters, default_parameters, tank_site_of
from store.water.priors import (
    PARAMETER_NAMES,
    PRIORS,
    StationPriors,
    draw_parameters,
    station_priors,
)
from store.water.sharing import CLASS_SHARE, borrowed_priors, weights_by_neighbours

TANK = TankMeasures(Shape.ROUND, 762.0, diameter_mm=950.0)


def posterior(log_mean: list[float], log_sd: list[float], name: str) -> Parameters:
    """Members of stations in part shade: one parameter as given, the others as before."""
    scores = np.random.default_rng(1).normal(size=(len(log_mean), 4_000))
    scores = (scores - scores.mean(axis=1, keepdims=True)) / scores.std(axis=1, keepdims=True)
    values = {
        other: (0.7 if other == "shelter" else 1.0) * np.exp(prior.spread * scores)
        for other, prior in PRIORS.items()
    }
    shift = np.array(log_mean)[:, None] + np.array(log_sd)[:, None] * scores
    values[name] = (0.7 if name == "shelter" else 1.0) * np.exp(shift)
    return Parameters(**values)


def alike(station, count: int, **facts: object) -> list[StationFacts]:  # type: ignore[no-untyped-def]
    return [station(TANK, station_id=str(number), **facts) for number in range(count)]


def borrow(
    stations: list[StationFacts], parameters: Parameters, taught: list[bool]
) -> tuple[StationPriors, StationPriors]:
    priors = station_priors(stations)
    return priors, borrowed_priors(stations, priors, parameters, np.array(taught))


def test_a_station_without_readings_borrows_from_its_class(station) -> None:  # type: ignore[no-untyped-def]
    """One station known exactly at -0.6: the common part is -0.6 times its share, and
    what is left is the station's own part and the rest of the common one."""
    stations = alike(station, 2)
    spread = PRIORS["apron_yield"].spread
    before, after = borrow(
        stations, posterior([-0.6, 0.0], [1e-4, spread], "apron_yield"), [True, False]
    )
    assert after.log_median[1, 0] == pytest.approx(-0.6 * CLASS_SHARE, abs=1e-3)
    assert after.log_spread[1, 0] == pytest.approx(spread * np.sqrt(1.0 - CLASS_SHARE**2), abs=1e-3)
    assert (after.log_median[0] == before.log_median[0]).all()
    assert (after.log_median[:, 1:] == before.log_median[:, 1:]).all()


def test_many_alike_say_more_than_one(station) -> None:  # type: ignore[no-untyped-def]
    spread = PRIORS["apron_yield"].spread
    shifts = []
    for count in (1, 3, 30):
        parameters = posterior([-0.6] * count + [0.0], [0.1] * count + [spread], "apron_yield")
        _, after = borrow(alike(station, count + 1), parameters, [True] * count + [False])
        shifts.append(after.log_median[-1, 0])
    assert 0.0 > shifts[0] > shifts[1] > shifts[2] > -0.7
    assert shifts[2] < -0.55


def test_other_surfaces_and_exposures_lend_nothing(station) -> None:  # type: ignore[no-untyped-def]
    stations = [
        *alike(station, 1, apron_surface=ApronSurface.GRASS),
        station(TANK, station_id="x", apron_surface=ApronSurface.LINER),
    ]
    yields = posterior([-0.6, 0.0], [0.1, 0.45], "apron_yield")
    before, after = borrow(stations, yields, [True, False])
    assert (after.log_median == before.log_median).all()
    shelters = posterior([-0.6, 0.0], [0.1, 0.3], "shelter")
    before, after = borrow(stations, shelters, [True, False])
    assert (after.log_median[1] != before.log_median[1]).tolist() == [
        name == "shelter" for name in PARAMETER_NAMES
    ]


def test_stations_that_learned_nothing_lend_nothing(station) -> None:  # type: ignore[no-untyped-def]
    spread = PRIORS["apron_yield"].spread
    parameters = posterior([0.1, 0.0], [spread, spread], "apron_yield")
    before, after = borrow(alike(station, 2), parameters, [True, False])
    assert (after.log_median == before.log_median).all()
    assert (after.log_spread == before.log_spread).all()


def test_a_weak_rut_at_neighbours_is_heard_of_at_every_station_of_the_tract(station) -> None:  # type: ignore[no-untyped-def]
    spread = PRIORS["rut"].spread
    stations = [*alike(station, 3), station(TANK, station_id="x", tract_id="far")]
    ruts = posterior([-0.6, -0.6, 0.0, 0.0], [0.05, 0.05, spread, spread], "rut")
    priors, everyone = station_priors(stations), np.ones(4, dtype=bool)
    weight = weights_by_neighbours(stations, priors, ruts, everyone)
    heard = [(np.log(ruts.rut[row]) * weight[row]).sum() / weight[row].sum() for row in (2, 3)]
    assert -0.6 < heard[0] < -0.2
    assert heard[1] == pytest.approx(0.0, abs=1e-9)
    assert np.ptp(weight[3]) == 0.0, "nobody else is on its tract"
    _, borrowed = borrow(stations, ruts, [True, True, False, False])
    column = PARAMETER_NAMES.index("rut")
    assert borrowed.log_median[2, column] == pytest.approx(heard[0], abs=0.03)


def test_borrowing_brings_a_station_without_readings_nearer(new_york, station) -> None:  # type: ignore[no-untyped-def]
    """Eight aprons that all yield half of what was thought; the last is never read."""
    start = (date(2012, 4, 1) - new_york.first_day).days
    forcing = daily_forcing(
        new_york.first_day,
        new_york["rain_mm"],
        new_york["tmin_c"],
        new_york["tmax_c"],
        latitude_deg=40.8,
        elevation_m=40.0,
    ).between(start, start + 200)
    stations = alike(station, 8, apron_area_m2=2.0)
    ids = [facts.station_id for facts in stations]
    tank_sites = [tank_site_of(facts) for facts in stations]
    defaults = default_parameters(stations)
    truth = run_balance(
        tank_sites, forcing, replace(defaults, apron_yield=0.5 * defaults.apron_yield), 250.0
    ).volume_l[:, :, 0]
    seen = [
        Observation(day, row, depth_mm=float(depth_at_volume_mm(tank_sites[row].tank, level)))
        for row in range(7)
        for day in range(10 + row, 200, 12)
        for level in [truth[day, row]]
    ]
    priors = station_priors(stations)

    def run(own: StationPriors) -> FilterRun:
        prior = draw_parameters(ids, own, 500)
        return follow(ids, tank_sites, forcing, prior, 250.0, observations=seen)

    before = run(priors)
    borrowed = borrowed_priors(stations, priors, before.parameters, np.arange(8) < 7)
    after = run(borrowed)
    assert np.exp(borrowed.log_median[7, 0]) == pytest.approx(0.5, abs=0.2)
    assert borrowed.log_spread[7, 0] < 0.9 * priors.log_spread[7, 0]
    far = [np.abs(followed.p50_l[:, 7] - truth[:, 7]).mean() for followed in (before, after)]
    assert far[1] < 0.7 * far[0]
    assert (after.volume_l[:7] == before.volume_l[:7]).all()
