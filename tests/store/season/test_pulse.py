"""The autumn jump, checked on the counts the method was published with."""

from datetime import date, timedelta

import numpy as np
import pytest

from store.errors import BadValue
from store.season.pulse import change_chances, pulse_of

DISASTERS = (
    "4 5 4 1 0 4 3 4 0 6 3 3 4 0 2 6 3 3 5 4 5 3 1 4 4 1 5 5 3 4 2 5 2 2 3 4 2 1 3 2 "
    "2 1 1 1 1 3 0 0 1 0 1 1 0 0 3 1 0 3 2 2 0 1 1 1 0 1 0 1 0 0 0 2 1 0 0 0 1 1 0 2 "
    "3 3 1 1 2 1 1 1 1 2 4 2 0 0 0 1 4 0 0 0 1 0 0 0 0 0 1 0 0 1 0 1"
)
"""Coal-mining disasters a year in Britain, 1851 to 1962: Jarrett 1979, Biometrika 66:191-193,
as used by Raftery and Akman 1986 and Carlin, Gelfand and Smith 1992."""
FIRST = date(2025, 9, 1)


def counts(values):
    return [(FIRST + timedelta(days=n), float(value)) for n, value in enumerate(values)]


def test_the_coal_mining_disasters_fall_after_1891():
    """Carlin, Gelfand and Smith: the posterior mode is year 41, 1891 (value from memory)."""
    values = np.array([float(word) for word in DISASTERS.split()])
    assert len(values) == 112
    assert values.sum() == 191.0
    chances = change_chances(values)
    years = 1851 + np.arange(len(chances))
    assert years[chances.argmax()] == 1891
    within = chances[(years >= 1886) & (years <= 1896)].sum()
    assert within > 0.9


def test_a_sharp_jump_is_dated_to_the_day():
    pulse = pulse_of(counts([0, 1, 0, 1, 0, 1, 0, 9, 8, 9, 10, 8]))
    assert pulse.low == pulse.middle == pulse.high == FIRST + timedelta(days=7)
    assert pulse.is_clear
    assert pulse.before < 1.0 < 8.0 < pulse.after


def test_order_does_not_matter_and_the_interval_holds_the_truth():
    rng, inside = np.random.default_rng(4), 0
    for _ in range(200):
        at = int(rng.integers(10, 50))
        values = np.concatenate([rng.poisson(1.0, at), rng.poisson(4.0, 60 - at)])
        told = counts(values)
        rng.shuffle(told)
        pulse = pulse_of(told)
        inside += pulse.low <= FIRST + timedelta(days=at) <= pulse.high
    assert inside >= 160, "the 80 percent interval"


@pytest.mark.parametrize("values", [[1] * 7, [], [9, 9, 9, 9, 1, 1, 1, 1, 1], [0] * 12])
def test_too_few_counts_or_no_rise_is_a_sentence(values):
    with pytest.raises(BadValue, match=r"too few|did not rise"):
        pulse_of(counts(values))
