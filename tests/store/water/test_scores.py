"""Scores against published and worked values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.water.priors import normal_scores
from store.water.scores import binomial_limits, brier, covered, crps, murphy_split, randomised_pit


@pytest.mark.parametrize(
    ("observed", "members", "expected"),
    [
        (0, [0, 1], 0.25),
        (2, [0, 1], 1.25),
        (0, [-1, 1], 0.5),
        (0, [0, 0, 1], 1.0 / 9.0),
        (1, [0, 0, 1], 4.0 / 9.0),
        (0, [-1, 0, 0, 1], 0.125),
        (12, [8, 10, 12, 16], 0.875),
    ],
)
def test_crps_of_small_ensembles(observed: float, members: list[float], expected: float) -> None:
    """Toy cases of the tests of properscoring; formula of Gneiting and Raftery (2007)."""
    assert crps(observed, members) == pytest.approx(expected, abs=1e-9)


def test_fair_crps() -> None:
    """sum|xi - xj| / (2 m (m - 1)) in place of 2 m^2; Gneiting and Raftery (2007)."""
    assert crps(12, [8, 10, 12, 16], fair=True) == pytest.approx(1.0 / 3.0, abs=1e-9)


def test_crps_of_a_normal() -> None:
    """Closed form of Gneiting et al. (2005), Mon. Weather Rev. 133:1098-1118."""
    members = normal_scores(20_000)
    assert crps([0.0, 1.0], np.stack([members, members])) == pytest.approx(
        [0.233695, 0.602441], abs=2e-5
    )


def test_crps_of_nothing_to_tell_apart() -> None:
    assert crps(3.0, [1.0]) == 2.0
    assert crps(3.0, [3.0, 3.0, 3.0]) == 0.0
    with pytest.raises(BadValue, match="two members"):
        crps(3.0, [1.0], fair=True)


def test_unknown_cases_have_no_score() -> None:
    assert np.isnan(crps([np.nan, 1.0], [[0.0, 1.0], [0.0, np.nan]])).all()
    rng = np.random.default_rng(0)
    assert np.isnan(randomised_pit([np.nan, 1.0], [[0.0, 1.0], [0.0, np.nan]], rng)).all()


def test_brier_from_an_ensemble() -> None:
    """Members 0, 0, 0, 1 above a threshold that was not passed (tests of properscoring)."""
    assert brier(0.0, np.mean([0, 0, 0, 1])) == pytest.approx(0.0625, abs=1e-12)


def test_crps_is_the_brier_score_over_all_thresholds() -> None:
    """Members .1, .2, .5, .9 and .37 observed (tests of properscoring): 0.10625."""
    members = np.array([0.1, 0.2, 0.5, 0.9])
    threshold = (np.arange(100_000) + 0.5) / 100_000
    above = (members[:, np.newaxis] > threshold).mean(axis=0)
    assert brier(threshold < 0.37, above).mean() == pytest.approx(0.10625, abs=1e-4)
    assert crps(0.37, members) == pytest.approx(0.10625, abs=1e-9)


def test_murphy_split() -> None:
    """Ten forecasts each of .1, .5, .9 with 1, 5, 9 events; Murphy (1973)."""
    probability = np.repeat([0.1, 0.5, 0.9], 10)
    happened = np.concatenate([np.arange(10) < count for count in (1, 5, 9)])
    split = murphy_split(happened, probability)
    assert split == pytest.approx((0.0, 0.106667, 0.25), abs=1e-6)
    assert brier(happened, probability).mean() == pytest.approx(0.143333, abs=1e-6)


@pytest.mark.parametrize(
    ("cases", "probability", "expected"),
    [
        (20, 0.9, (15, 20)),
        (50, 0.9, (41, 49)),
        (100, 0.9, (84, 95)),
        (50, 0.5, (18, 32)),
        (100, 0.5, (40, 60)),
    ],
)
def test_limits_of_coverage(cases: int, probability: float, expected: tuple[int, int]) -> None:
    """Quantiles of the binomial distribution at 2.5 and 97.5 percent, by definition."""
    assert binomial_limits(cases, probability) == expected


def test_limits_of_many_cases() -> None:
    low, high = binomial_limits(5_000, 0.8)
    assert 3_940 < low < 3_950 < 4_050 < high < 4_060


def test_pit_is_uniform_for_a_calibrated_ensemble_with_ties() -> None:
    rng = np.random.default_rng(3)
    draws = np.clip(rng.normal(size=(4_000, 20)), -0.3, 0.3)
    pit = randomised_pit(draws[:, 0], draws[:, 1:], rng)
    counts = np.histogram(pit, 10, (0.0, 1.0))[0]
    low, high = binomial_limits(4_000, 0.1, 0.999)
    assert ((counts >= low) & (counts <= high)).all()
    assert covered(pit, 0.8) == pytest.approx(0.8, abs=0.03)


def test_pit_sees_a_narrow_ensemble() -> None:
    rng = np.random.default_rng(4)
    pit = randomised_pit(rng.normal(size=2_000), 0.5 * rng.normal(size=(2_000, 50)), rng)
    assert covered(pit, 0.8) < 0.6


def test_coverage_leaves_out_the_unknown() -> None:
    assert covered([0.5, np.nan, 0.99], 0.8) == 0.5
    with pytest.raises(BadValue):
        covered([np.nan], 0.8)


@given(st.lists(st.floats(-50, 50), min_size=2, max_size=9), st.floats(-50, 50))
def test_crps_equals_its_definition(members: list[float], observed: float) -> None:
    x = np.array(members)
    pairs = np.abs(x[:, np.newaxis] - x).sum() / (2.0 * len(x) ** 2)
    assert crps(observed, x) == pytest.approx(np.abs(x - observed).mean() - pairs, abs=1e-9)
