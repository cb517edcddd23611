"""What an outlook may be asked for."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from store.errors import BadValue
from store.model.snapshot import supposing
from store.model.working_out import board_of
from store.records import Chore, Draft
from store.views.outlook import (
    nearest_end,
    outlook_stations,
    outlooks,
    planned_fill,
    typed_end,
)
from store.vocabulary import ChoreKind
from tests.store.conftest import TODAY

LAST_HEAVY_USE_DAY = date(2015, 11, 10)


def test_the_next_heavy_use_weeks_end_after_today(snapshot):
    assert snapshot.heavy_use_end == LAST_HEAVY_USE_DAY
    on_the_last = replace(snapshot, today=LAST_HEAVY_USE_DAY)
    assert on_the_last.heavy_use_end == date(2016, 11, 10)
    until = on_the_last.heavy_use_end
    assert nearest_end(until, LAST_HEAVY_USE_DAY) == until


def test_an_end_is_taken_from_tomorrow_to_a_year_ahead():
    tomorrow, farthest = TODAY + timedelta(days=1), TODAY + timedelta(days=366)
    assert nearest_end(TODAY, TODAY) == tomorrow
    assert nearest_end(date.max, TODAY) == farthest
    assert typed_end(farthest.isoformat(), TODAY) == farthest
    for text in (TODAY.isoformat(), (farthest + timedelta(days=1)).isoformat()):
        with pytest.raises(BadValue, match=r"choose a day from tomorrow to 2016-10-12"):
            typed_end(text, TODAY)
    with pytest.raises(BadValue, match=r"not a date; write it as"):
        typed_end("13/10", TODAY)


def test_an_end_that_is_taken_is_one_that_prospects_take(snapshot, board):
    oak = snapshot.places.find_station("North/Oak").station_id
    for day in (date.min, date.max):
        until = nearest_end(day, TODAY)
        fill = planned_fill(snapshot, oak, until, 50.0)
        (found,) = outlooks(snapshot, board.levels, until, {oak: fill}, [oak])
        assert (found.until, found.fill) == (until, fill)
        assert found.top_up_on == snapshot.top_up_day(oak)


@pytest.mark.parametrize(
    ("today", "until", "on"),
    [
        (date(2015, 8, 1), date(2015, 11, 10), date(2015, 10, 8)),
        (date(2015, 8, 1), date(2015, 8, 20), date(2015, 8, 1)),
        (TODAY, date(2015, 11, 10), date(2015, 10, 13)),
        (date(2015, 10, 20), date(2015, 11, 10), date(2015, 10, 21)),
        (date(2015, 10, 21), date(2015, 11, 10), date(2015, 10, 22)),
    ],
)
def test_a_fill_comes_on_the_day_for_topping_up_or_today(snapshot, today, until, on):
    oak = snapshot.places.find_station("North/Oak").station_id
    assert planned_fill(replace(snapshot, today=today), oak, until, None).on == on


@pytest.mark.parametrize("volume_l", [0.0, -1.0])
def test_a_fill_of_nothing_is_refused(snapshot, volume_l):
    oak = snapshot.places.find_station("North/Oak").station_id
    with pytest.raises(BadValue, match="more than 0"):
        planned_fill(snapshot, oak, LAST_HEAVY_USE_DAY, volume_l)


def test_retired_stations_have_no_outlook_and_those_without_a_level_stay(snapshot, known):
    fern = snapshot.places.find_station("Fern").station_id
    retired = supposing(snapshot, fern, [Draft(TODAY, Chore(fern, ChoreKind.RETIRE))])
    names = [facts.name for facts in outlook_stations(board_of(retired, known))]
    assert "Fern" not in names
    assert "Later" in names
