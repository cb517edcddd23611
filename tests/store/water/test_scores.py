"""Where ensembles put what came out."""

import numpy as np
import pytest

from store.errors import BadValue
from tests.bench.scores import binomial_limits, covered, randomised_pit


def test_unknown_cases_have_no_score() -> None:
    rng = np.random.default_rng(0)
    assert np.isnan(randomised_pit([np.nan, 1.0], [[0.0, 1.0], [0.0, np.nan]], rng)).all()


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
