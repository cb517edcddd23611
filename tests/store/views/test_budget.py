"""Stretches of days for a budget, as far as a station was modeled."""

from datetime import date

import pytest

from store.errors import BadValue
from store.model.working_out import board_of
from store.views.budget import Period, period_days, station_budget
from tests.store.conftest import TODAY, snapshot_on


def station_id(board, name):
    return board.snapshot.places.find_station(name).station_id


@pytest.mark.parametrize(
    ("period", "days"),
    [
        (Period.THIS_YEAR, (date(2015, 1, 1), TODAY)),
        (Period.LAST_30_DAYS, (date(2015, 9, 13), TODAY)),
        (Period.LAST_YEAR, (date(2014, 1, 1), date(2014, 12, 31))),
    ],
)
def test_a_period_is_one_a_budget_can_be_drawn_up_for_and_it_closes(board, period, days):
    oak = station_id(board, "North/Oak")
    assert period_days(board.levels, oak, period, TODAY) == days
    budget = station_budget(board.levels, oak, *days)
    assert abs(budget.residual_l) < 1e-6


def test_a_period_begins_with_the_install(board):
    drum = station_id(board, "Drum")
    first, last = period_days(board.levels, drum, Period.LAST_YEAR, TODAY)
    assert (first, last) == (date(2014, 5, 12), date(2014, 12, 31))


def test_a_period_before_the_install_or_without_a_level_is_refused(book_path, board, known):
    earlier = board_of(snapshot_on(book_path, date(2014, 8, 1)), known)
    drum = station_id(earlier, "Drum")
    with pytest.raises(BadValue, match="no budget for last year; choose another"):
        period_days(earlier.levels, drum, Period.LAST_YEAR, date(2014, 8, 1))
    with pytest.raises(BadValue, match="no install"):
        period_days(board.levels, station_id(board, "Later"), Period.THIS_YEAR, TODAY)
