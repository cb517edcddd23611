"""The chart's series of a fouled tank agrees with the dates that are told."""

from datetime import timedelta

import numpy as np
import pytest

from store.contamination.signs import weighted_quantile
from store.model.board import Board
from store.model.recovery import EventRecovery
from store.views.fouling_series import daily_quantiles, habit_series, strength_series


def recovery(board: Board, name: str) -> EventRecovery:
    station = board.snapshot.places.find_station(name)
    return board.recoveries.of_station(station.station_id)[0]


def test_daily_quantiles_are_the_weighted_ones_of_each_day() -> None:
    rng = np.random.default_rng(7)
    values, weights = rng.random((5, 40)), rng.random(40)
    weights /= weights.sum()
    found = daily_quantiles(values, weights)
    for day, row in enumerate(values):
        expected = weighted_quantile(row, weights, (0.1, 0.5, 0.9))
        assert [found[edge][day] for edge in (0.1, 0.5, 0.9)] == list(expected)


def test_the_strength_falls_from_the_find_to_the_threshold(board: Board) -> None:
    found = recovery(board, "North/Oak")
    series = strength_series(found, board.snapshot.cause_priors[found.event.cause])
    assert series is not None
    assert series.first_day == found.event.found
    assert (series.low <= series.median).all()
    assert (series.median <= series.high).all()
    clear = found.clear
    assert clear is not None
    assert clear <= series.last_day
    at_clear = series.median[(clear - series.first_day).days]
    assert at_clear == pytest.approx(series.threshold, rel=0.6)


def test_the_habit_is_back_about_the_day_told(board: Board) -> None:
    found = recovery(board, "North/Oak")
    series = habit_series(found)
    assert series is not None
    assert found.expected is not None
    day = (found.expected + timedelta(days=30) - series.first_day).days
    assert series.median[min(day, len(series.median) - 1)] >= series.threshold
    assert series.median[1] < 1.0


def test_bears_dissolve_nothing_so_there_is_only_a_habit(board: Board) -> None:
    bears = recovery(board, "South/Oak")
    assert strength_series(bears, board.snapshot.cause_priors[bears.event.cause]) is None
    assert habit_series(bears) is not None
