"""What a look is worth, against a case that can be worked out by hand."""

import numpy as np
import pytest

from store.season.look import LookValue
from store.season.look_value import days_saved_by_a_look, visit_costs
from store.vocabulary import DrinkingSeason
from store.water.drinking import LAWS, use_weights

MEMBERS = 2000
NOISE = np.random.default_rng(5).standard_normal(MEMBERS)


def saved(level_mm, wet_left, wet_filled, costs, error_mm=20.0):
    return days_saved_by_a_look(level_mm, error_mm, wet_left, wet_filled, costs, NOISE)


def two_kinds(dry_share):
    """Some tanks stand empty and hold 2 of 20 days, the rest full and hold all of them."""
    dry = np.arange(MEMBERS) < dry_share * MEMBERS
    return np.where(dry, 700.0, 50.0), np.where(dry, 2.0, 20.0), np.full(MEMBERS, 20.0)


@pytest.mark.parametrize(
    ("dry_share", "costs", "expected"),
    [
        # Filled at once: gain 18 p - c; after a look: p (18 - c). Saved: p (18-c) - max(0, 18p-c).
        (0.5, 6.0, 6.0 - 3.0),
        (0.5, 12.0, 3.0),
        (0.1, 6.0, 1.2),
        (0.9, 6.0, 10.8 - 10.2),
        (0.5, 20.0, 0.0),
        (0.0, 6.0, 0.0),
        (1.0, 6.0, 0.0),
    ],
)
def test_a_look_that_tells_all_is_worth_what_the_wrong_fills_cost(dry_share, costs, expected):
    assert saved(*two_kinds(dry_share), costs) == pytest.approx(expected, abs=1e-9)


def test_a_look_that_tells_nothing_is_worth_nothing():
    _, wet_left, wet_filled = two_kinds(0.5)
    assert saved(np.full(MEMBERS, 300.0), wet_left, wet_filled, 6.0) == 0.0
    rng = np.random.default_rng(1)
    few = slice(0, 200)
    apart = days_saved_by_a_look(
        rng.uniform(0.0, 700.0, 200), 20.0, wet_left[few], rng.permutation(wet_filled[few]), 6.0,
        NOISE[few],
    )  # fmt: skip
    assert apart < 0.5, "few members must not make a look seem worth more than it is"


def test_a_rough_look_is_worth_less_than_a_good_one():
    worths = [saved(*two_kinds(0.5), 6.0, error_mm=error) for error in (20.0, 400.0, 2000.0)]
    assert worths == sorted(worths, reverse=True)
    assert worths[0] > worths[2] + 1.0


def test_a_visit_costs_the_use_of_the_days_until_the_habit_is_back():
    assert visit_costs(np.ones(10)) == pytest.approx(5.5)
    assert visit_costs(np.zeros(10)) == 0.0
    assert visit_costs(np.empty(0)) == 0.0
    law = LAWS[DrinkingSeason.GREEN_SUMMER]
    september, october = (
        visit_costs(use_weights(law, first + np.arange(10))) for first in (250, 300)
    )
    assert 0.0 < september < 1.5 < 4.0 < october < 5.5
    assert use_weights(law, np.arange(1, 366)).max() == pytest.approx(1.0, abs=1e-3)


def test_a_look_is_worth_it_only_when_it_saves_more_than_it_costs():
    assert LookValue(2.0, 1.9).worth_it
    assert not LookValue(2.0, 2.0).worth_it
