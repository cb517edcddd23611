"""What was seen moves the estimate, by Bayes' rule."""

import numpy as np
import pytest

from store.contamination.events import SignSeen
from store.contamination.recovery_run import recovery_run
from store.contamination.signs import (
    LIKELIHOOD,
    SHARES,
    effective_members,
    even_weights,
    sign_weights,
    weighted_quantile,
)
from store.vocabulary import Cause, Response, Strength
from tests.store.contamination.fouled import day, draws, event, steady

RATES = [0.02, 0.05, 0.1, 0.2]
MEMBERS = draws(4)
OTHER = recovery_run(event(Cause.OTHER), MEMBERS, steady(RATES))


def weights(*signs, cause=Cause.OTHER):
    return sign_weights(signs, cause, OTHER, MEMBERS)


def mean_rate(*signs, cause=Cause.OTHER):
    return float(weights(*signs, cause=cause) @ RATES)


def test_the_table_is_one_of_likelihoods():
    assert np.sum(list(LIKELIHOOD.values()), axis=0) == pytest.approx(np.ones(len(SHARES)))
    assert list(LIKELIHOOD[Strength.NONE]) == sorted(LIKELIHOOD[Strength.NONE], reverse=True)
    assert list(LIKELIHOOD[Strength.STRONG]) == sorted(LIKELIHOOD[Strength.STRONG])


def test_bayes_rule_by_hand():
    # day 19: 20 days of washout, e^-0.4 .. e^-4 against a threshold of 0.05
    share = np.exp(-20 * np.array(RATES)) / 0.05
    at = np.interp(np.log(np.maximum(share, 0.25)), np.log(SHARES), LIKELIHOOD[Strength.STRONG])
    assert weights(SignSeen(day(19), smell=Strength.STRONG)) == pytest.approx(at / at.sum())


def test_no_sign_leaves_the_members_even():
    assert weights() == pytest.approx(even_weights(4))
    assert weights(SignSeen(day(9))) == pytest.approx(even_weights(4))
    assert weights(SignSeen(day(900), smell=Strength.STRONG)) == pytest.approx(even_weights(4))


@pytest.mark.parametrize(
    ("quick", "slow"),
    [
        ({"smell": Strength.NONE}, {"smell": Strength.STRONG}),
        ({"colour": Strength.NONE}, {"colour": Strength.STRONG}),
        ({"response": Response.USED}, {"response": Response.AVOIDED}),
    ],
)
def test_good_signs_speak_for_quick_members_and_bad_ones_for_slow(quick, slow):
    even = np.mean(RATES)
    assert mean_rate(SignSeen(day(45), **slow)) < even < mean_rate(SignSeen(day(45), **quick))
    twice = [SignSeen(day(45), **quick), SignSeen(day(50), **quick)]
    assert mean_rate(*twice) > mean_rate(twice[0])


def test_a_faint_smell_lies_between():
    rates = [mean_rate(SignSeen(day(20), smell=strength)) for strength in Strength]
    assert rates[0] > rates[1] > rates[2]


@pytest.mark.parametrize(
    ("cause", "sign"),
    [
        (Cause.DYE, {"smell": Strength.NONE}),
        (Cause.SPILL, {"colour": Strength.NONE}),
        (Cause.BEAR_USE, {"smell": Strength.STRONG, "colour": Strength.STRONG}),
    ],
)
def test_water_that_never_smelt_or_was_coloured_tells_nothing(cause, sign):
    assert weights(SignSeen(day(20), **sign), cause=cause) == pytest.approx(even_weights(4))


def test_the_worth_of_weights():
    # Kish 1965: (sum w)^2 / sum w^2
    assert effective_members(even_weights(7)) == pytest.approx(7.0)
    assert effective_members(np.array([0.5, 0.5, 0.0])) == pytest.approx(2.0)


def test_weighted_quantiles():
    values = np.array([30.0, 10.0, np.inf, 20.0])
    assert weighted_quantile(values, even_weights(4), (0.1, 0.5, 0.75, 0.9)).tolist() == [
        10.0,
        20.0,
        30.0,
        np.inf,
    ]
    heavy = np.array([0.0, 0.0, 0.05, 0.95])
    assert weighted_quantile(values, heavy, (0.1, 0.5, 0.9)).tolist() == [20.0, 20.0, 20.0]
