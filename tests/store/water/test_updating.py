"""What readings do to the members of one station."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.records import TankMeasures
from store.vocabulary import LevelMark, Shape
from store.water import observing, updating
from store.water.geometry import depth_at_volume_mm, tank_from_measures, volume_at_depth_l
from store.water.observing import Observation
from store.water.updating import Beliefs, Updated, read_on, update

TANK = tank_from_measures(TankMeasures(Shape.ROUND, 700.0, diameter_mm=900.0))
MEMBERS = 20_000


def beliefs(mean_mm: float = 350.0, sd_mm: float = 40.0, seed: int = 1) -> Beliefs:
    """Normal levels; the first parameter goes with the level, the second does not."""
    rng = np.random.default_rng(seed)
    level = rng.normal(size=MEMBERS)
    depth = np.clip(mean_mm + sd_mm * level, 0.0, TANK.depth_mm)
    logs = np.stack([0.3 * level + 0.1 * rng.normal(size=MEMBERS), rng.normal(size=MEMBERS)])
    return Beliefs(volume_at_depth_l(TANK, depth), np.exp(logs))


def taught(*readings: Observation, start: Beliefs | None = None) -> Updated:
    return update(start or beliefs(), TANK, readings, np.random.default_rng(2))


def depth_of(updated: Updated):  # type: ignore[no-untyped-def]
    return depth_at_volume_mm(TANK, updated.beliefs.volume_l)


def test_normal_beliefs_follow_the_textbook(monkeypatch: pytest.MonkeyPatch) -> None:
    """Product of two normals: mean and variance weighted by the precisions; the same
    gain moves a parameter that goes with the level (any textbook on Kalman filters)."""
    monkeypatch.setattr(updating, "UNLOGGED_SHARE", 0.0)
    monkeypatch.setattr(updating, "BLUNDER_SHARE", 0.0)
    monkeypatch.setattr(observing, "BLUNDER_SHARE", 0.0)
    result = taught(Observation(0, 0, depth_mm=390.0, error_mm=20.0))
    gain = 40.0**2 / (40.0**2 + 20.0**2)
    assert depth_of(result).mean() == pytest.approx(350.0 + gain * 40.0, abs=1.0)
    assert depth_of(result).std() == pytest.approx(40.0 * np.sqrt(1.0 - gain), rel=0.03)
    logs = np.log(result.beliefs.parameters)
    assert logs[0].mean() == pytest.approx(0.3 * gain, abs=0.01)
    assert logs[0].std() == pytest.approx(np.sqrt(0.1**2 + 0.3**2 * (1.0 - gain)), rel=0.03)
    assert logs[1].mean() == pytest.approx(0.0, abs=0.04)
    assert logs[1].std() == pytest.approx(1.0, rel=0.03)


def test_smoothing_keeps_means_and_covariances() -> None:
    source = np.arange(MEMBERS)
    before = np.log(beliefs().parameters)
    smoothed = updating._smoothed(beliefs().parameters, source, np.random.default_rng(3))
    after = np.log(smoothed)
    assert after.mean(axis=1) == pytest.approx(before.mean(axis=1), abs=1e-9)
    assert np.cov(after) == pytest.approx(np.cov(before), abs=0.01)
    assert not (after == before).any()


def test_an_expected_reading_is_not_doubted() -> None:
    check = taught(Observation(0, 0, depth_mm=360.0)).checks[0]
    assert not check.doubted
    assert check.blunder < 0.02
    assert check.probability > 0.5
    assert check.expected_depth_mm[1] == pytest.approx(350.0, abs=2.0)


def test_a_hardly_possible_reading_is_doubted_and_kept() -> None:
    result = taught(Observation(0, 0, depth_mm=600.0))
    check = result.checks[0]
    assert check.doubted
    assert check.blunder + check.unlogged == pytest.approx(1.0, abs=0.01)
    moved = (np.abs(depth_of(result) - 600.0) < 80.0).mean()
    assert moved == pytest.approx(check.unlogged, abs=0.02)
    assert 0.1 < moved < 0.3


def test_a_second_reading_that_agrees_is_believed() -> None:
    first = taught(Observation(0, 0, depth_mm=600.0))
    second = taught(Observation(0, 0, depth_mm=595.0), start=first.beliefs)
    assert (np.abs(depth_of(second) - 600.0) < 60.0).mean() > 0.7
    assert not second.checks[0].doubted


def test_two_readings_outvote_a_model_that_drained_the_water_between_them() -> None:
    """Members that believed the first are dry again, as where much drinking was learned."""
    dry = beliefs(mean_mm=60.0, sd_mm=20.0)
    first = taught(Observation(0, 0, depth_mm=460.0), start=dry)
    assert first.checks[0].doubted
    seen, rng = [Observation(9, 0, depth_mm=455.0)], np.random.default_rng(2)
    count = read_on(7, first.checks)
    second = update(dry, TANK, seen, rng, count)
    assert not second.checks[0].doubted
    assert (np.abs(depth_of(second) - 455.0) < 60.0).mean() > 0.8
    assert read_on(count, second.checks) == 1
    assert update(dry, TANK, seen, rng, 7).checks[0].doubted, "where no reading was doubted before"


def test_readings_of_one_day_count_in_any_order() -> None:
    one, two = Observation(0, 0, depth_mm=330.0), Observation(0, 0, mark=LevelMark.HALF)
    there, back = taught(one, two), taught(two, one)
    assert depth_of(there) == pytest.approx(depth_of(back))
    assert there.checks[0].blunder == pytest.approx(back.checks[1].blunder)


@pytest.mark.parametrize(
    ("one", "two", "expected"),
    [
        (Observation(0, 0, depth_mm=300.0), Observation(0, 0, depth_mm=450.0), True),
        (Observation(0, 0, depth_mm=340.0), Observation(0, 0, depth_mm=360.0), False),
        (Observation(0, 0, mark=LevelMark.DRY), Observation(0, 0, mark=LevelMark.FULL), True),
        (Observation(0, 0, depth_mm=350.0), Observation(0, 0, mark=LevelMark.DRY), True),
        (Observation(0, 0, depth_mm=350.0), Observation(0, 0, mark=LevelMark.HALF), False),
        (Observation(0, 0, mark=LevelMark.HALF), Observation(0, 0, mark=LevelMark.QUARTER), False),
    ],
)
def test_contradictions_of_one_day(one: Observation, two: Observation, expected: bool) -> None:
    checks = taught(one, two).checks
    assert [check.contradicted for check in checks] == [expected, expected]
    if expected:
        assert all(check.doubted for check in checks)


def test_full_raises_low_members_and_says_little_to_full_ones() -> None:
    """Members that are all above the edge keep their spread; low ones are left behind."""
    full = Observation(0, 0, mark=LevelMark.FULL)
    start = beliefs(690.0, 3.0)
    check = taught(full, start=start).checks[0]
    assert check.volume_after_l == pytest.approx(check.volume_before_l, rel=0.001)
    wide = beliefs(500.0, 120.0)
    assert depth_of(taught(full, start=wide)).mean() > 620.0


@given(
    st.one_of(
        st.floats(0.0, 700.0).map(lambda depth: Observation(0, 0, depth_mm=depth)),
        st.sampled_from(LevelMark).map(lambda mark: Observation(0, 0, mark=mark)),
    ),
    st.floats(0.0, 700.0),
)
def test_any_reading_leaves_water_that_fits_the_tank(seen: Observation, level_mm: float) -> None:
    """Even where every member is at one level and the reading far from it."""
    volume = np.full(50, float(volume_at_depth_l(TANK, level_mm)))
    result = taught(seen, start=Beliefs(volume, np.ones((6, 50))))
    after, check = result.beliefs.volume_l, result.checks[0]
    assert ((after >= 0.0) & (after <= TANK.capacity_l)).all()
    assert (result.beliefs.parameters == 1.0).all()
    assert 0.0 <= check.blunder <= 1.0
    assert 0.0 <= check.unlogged <= 1.0
    assert 0.0 <= check.probability <= 1.0


def test_it_is_the_same_on_every_run() -> None:
    seen = Observation(0, 0, depth_mm=300.0)
    assert (depth_of(taught(seen)) == depth_of(taught(seen))).all()
