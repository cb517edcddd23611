"""Likelihoods of readings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.records import Reading, Sighting, TankMeasures
from store.units import MM_PER_INCH
from store.vocabulary import LevelMark, Shape, UseSeen
from store.water.observing import (
    BLUNDER_SHARE,
    Observation,
    ReadingKind,
    UseCount,
    blunder_likelihood,
    count_likelihood,
    honest_likelihood,
    likelihood,
    observation_of,
    predictive_probability,
    use_counts_of,
)
from store.water.parameters import tank_site_of
from tests.store.water.conftest import make_station

DEPTH = 762.0
SITE = tank_site_of(make_station(TankMeasures(Shape.ROUND, DEPTH, diameter_mm=900.0)))


def by_eye(mark: LevelMark) -> Observation:
    return Observation(0, 0, mark=mark)


@given(st.floats(0.0, DEPTH))
def test_the_five_marks_share_all_probability(depth_mm: float) -> None:
    chances = [float(honest_likelihood(by_eye(mark), depth_mm, DEPTH)) for mark in LevelMark]
    assert min(chances) >= 0.0
    assert sum(chances) == pytest.approx(1.0, abs=2e-3)
    blundered = [float(likelihood(by_eye(mark), depth_mm, DEPTH)) for mark in LevelMark]
    assert sum(blundered) == pytest.approx(1.0, abs=2e-3)


def test_full_and_dry_only_say_above_and_below() -> None:
    depth = np.linspace(0.0, DEPTH, 200)
    full = honest_likelihood(by_eye(LevelMark.FULL), depth, DEPTH)
    dry = honest_likelihood(by_eye(LevelMark.DRY), depth, DEPTH)
    assert (np.diff(full) >= 0.0).all()
    assert (np.diff(dry) <= 0.0).all()
    assert full[-1] > 0.9
    assert dry[0] > 0.9
    assert full[100] < 1e-6
    assert dry[100] < 1e-6


def test_every_mark_is_the_likely_one_at_its_own_level() -> None:
    for level in LevelMark:
        depth = level.share_of_depth * DEPTH
        chances = {mark: float(honest_likelihood(by_eye(mark), depth, DEPTH)) for mark in LevelMark}
        assert max(chances, key=chances.__getitem__) is level
        assert chances[level] > 0.85


def test_a_measured_level_is_normal() -> None:
    """Density of a normal at its centre and one standard error off (any table)."""
    seen = Observation(0, 0, depth_mm=300.0, error_mm=10.0)
    assert honest_likelihood(seen, [300.0, 310.0], DEPTH) == pytest.approx(
        [0.0398942, 0.0241971], abs=1e-6
    )


def test_a_blunder_keeps_every_reading_possible() -> None:
    seen = Observation(0, 0, depth_mm=700.0)
    assert likelihood(seen, 10.0, DEPTH) == pytest.approx(BLUNDER_SHARE / DEPTH)
    assert blunder_likelihood(by_eye(LevelMark.HALF), DEPTH) == 0.2


def test_readings_of_the_log_become_observations() -> None:
    taped = observation_of(Reading("s", below_rim_mm=4 * MM_PER_INCH), SITE, 3, 1)
    assert taped.depth_mm == pytest.approx(26 * MM_PER_INCH)
    assert (taped.day, taped.station, taped.kind) == (3, 1, ReadingKind.MEASURED)
    kinds = {mark: observation_of(Reading("s", mark=mark), SITE, 0, 0).kind for mark in LevelMark}
    assert kinds[LevelMark.FULL] is ReadingKind.FULL
    assert kinds[LevelMark.DRY] is ReadingKind.DRY
    assert kinds[LevelMark.HALF] is ReadingKind.BY_EYE


def test_dry_is_what_is_dry_to_an_animal() -> None:
    """A round tank 30 in deep with a reach of 24 in: six inches of water and a remnant."""
    dry = observation_of(Reading("s", mark=LevelMark.DRY), SITE, 0, 0)
    assert dry.dry_edge * DEPTH == pytest.approx(DEPTH - 610.0 + 0.01 * DEPTH, rel=0.01)
    assert float(honest_likelihood(dry, 130.0, DEPTH)) > 0.8
    assert float(honest_likelihood(dry, 200.0, DEPTH)) < 0.1
    quarter = observation_of(Reading("s", mark=LevelMark.QUARTER), SITE, 0, 0)
    assert float(honest_likelihood(quarter, 200.0, DEPTH)) > 0.8
    shallow = make_station(TankMeasures(Shape.ROUND, 500.0, diameter_mm=900.0))
    bottom = observation_of(Reading("s", mark=LevelMark.DRY), tank_site_of(shallow), 0, 0)
    assert bottom.dry_edge == pytest.approx(0.05)


def test_sightings_tell_of_the_days_before_them() -> None:
    seen = [
        (Sighting("s", camera_per_day=3.0), 10),
        (Sighting("s", use=UseSeen.HEAVY), 20),
        (Sighting("s"), 30),
        (Sighting("s", use=UseSeen.LIGHT, camera_per_day=0.0), 90),
    ]
    counts = use_counts_of(seen, 4, 2)
    assert [(one.day, one.station) for one in counts] == [(7, 2), (15, 2), (80, 2)]
    assert [one.per_day for one in counts] == [3.0, 6.0, 0.0]
    assert counts[1].spread > counts[0].spread == counts[2].spread


def test_a_count_is_likely_where_demand_and_thirst_agree() -> None:
    count = UseCount(0, 0, 4.0)
    wanted, visit = np.array([8.0, 1.0, 40.0, 4.0]), np.array([2.0, 2.0, 2.0, 1.0])
    likely = count_likelihood(count, wanted, visit)
    assert likely[0] == likely[3] == likely.max()
    assert likely[1:3].max() < 0.2 * likely[0]
    assert likely.min() > 0.0, "feed nearby, or a camera that slept"
    nobody = count_likelihood(UseCount(0, 0, 0.0), wanted, visit)
    assert np.isfinite(nobody).all()
    assert nobody.argmax() == 1


def test_a_reading_needs_exactly_one_level() -> None:
    with pytest.raises(BadValue, match="either measured or judged"):
        Observation(0, 0)
    with pytest.raises(BadValue, match="either measured or judged"):
        Observation(0, 0, depth_mm=3.0, mark=LevelMark.HALF)
    with pytest.raises(BadValue, match="above zero"):
        Observation(0, 0, depth_mm=3.0, error_mm=0.0)


def test_how_usual_a_reading_is() -> None:
    members = np.random.default_rng(1).normal(300.0, 30.0, 4_000)
    usual, odd = (Observation(0, 0, depth_mm=depth) for depth in (300.0, 450.0))
    assert predictive_probability(usual, members, DEPTH) > 0.9
    assert predictive_probability(odd, members, DEPTH) < 0.001
    assert predictive_probability(by_eye(LevelMark.FULL), members, DEPTH) < 0.001
