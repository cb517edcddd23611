"""Past days known better once the next reading is in."""

import numpy as np
import pytest

from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.priors import draw_parameters
from tests.bench.twin_world import TAUGHT_DAYS, Noise, Place, World, make_world, record_forcing
from tests.bench.twins import WET_APRONS_FT2


@pytest.fixture(scope="module")
def world() -> World:
    record = record_forcing("new_york_daily.csv", 40.7, 40.0)
    return make_world(81_000, 30, Place(record, range(2013, 2015), WET_APRONS_FT2, 0.0), Noise())


@pytest.fixture(scope="module")
def run(world: World) -> FilterRun:
    return follow(
        world.ids,
        world.tank_sites,
        world.forcing.between(0, TAUGHT_DAYS),
        draw_parameters(world.ids, world.priors, 300),
        world.start_l,
        observations=world.observations,
        changes=world.changes,
    )


def test_the_past_is_told_better_than_it_was_then(world: World, run: FilterRun) -> None:
    truth = world.truth_l[:TAUGHT_DAYS]
    then, now = (np.abs(middle - truth).mean() for middle in (run.p50_l, run.hindsight_l[1]))
    assert now < 0.85 * then
    low, _, high = run.hindsight_l
    covered = ((low <= truth) & (truth <= high)).mean()
    assert 0.6 < covered < 0.9


def test_the_last_evening_and_days_after_the_last_reading_are_as_they_were(run: FilterRun) -> None:
    last = max(check.observation.day for check in run.checks)
    filtered = np.stack([run.p10_l, run.p50_l, run.p90_l])
    assert (run.hindsight_l[:, last:] == filtered[:, last:]).all()
    read = {(check.observation.day, check.observation.station) for check in run.checks}
    for day, station in read:
        assert (run.hindsight_l[:, day, station] == filtered[:, day, station]).all()


def test_bounds_stay_in_order(run: FilterRun) -> None:
    assert (np.diff(run.hindsight_l, axis=0) >= 0.0).all()
