"""The habit of use. Common practice, no source: back one to two weeks after water is."""

import numpy as np
import pytest

from store.contamination.habit import BACK, habit


def broken(days, of=60):
    return np.arange(of)[:, np.newaxis] < days


def back_after(days, rebuild=10.0):
    left = habit(broken(days, 500), np.array([rebuild]))
    return int((left[:, 0] >= BACK)[days:].argmax()) + 1


@pytest.mark.parametrize("rebuild", [7.0, 14.0])
def test_a_lost_habit_is_back_in_one_to_two_weeks(rebuild):
    assert back_after(30, rebuild) == pytest.approx(rebuild * (1 + 30 / 180), abs=1)


def test_a_short_break_costs_little_and_a_long_one_more():
    waits = [back_after(days) for days in (1, 7, 30, 180, 400)]
    assert waits == sorted(waits)
    assert waits[0] <= 3
    assert waits[-1] == waits[-2] == 20


def test_it_fades_by_halves_in_three_days_and_never_leaves_its_bounds():
    left = habit(broken(30), np.array([10.0]))
    assert left[2, 0] == pytest.approx(0.5, abs=0.02)
    assert ((left >= 0.0) & (left <= 1.0)).all()
    assert left[-1, 0] == 1.0


def test_a_new_tank_starts_from_nothing():
    left = habit(np.zeros((30, 2), dtype=bool), np.array([10.0, 20.0]), start=0.0)
    assert (left >= BACK).argmax(axis=0).tolist() == [9, 19]
    assert left[14].tolist() == pytest.approx([1.0, 0.75])
