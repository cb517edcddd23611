"""The chain on real weather: files in, prompts and recoveries out."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from store.contamination.choices import Way
from store.model.ensembles import DAYS_AHEAD
from store.model.prompt_inputs import read_on
from store.model.snapshot import supposing
from store.model.working_out import board_of
from store.records import Chore, ContaminationAction, Draft, Reading
from store.reports.contamination import event_rows
from store.reports.due import due_rows
from store.views.overview import overview
from store.vocabulary import Action, ChoreKind, LevelMark, PromptKind
from tests.store.conftest import TODAY, snapshot_on


def station(board, name):
    return board.snapshot.places.find_station(name)


def kinds(board, name):
    return {prompt.kind for prompt in board.prompts[station(board, name).station_id]}


def test_only_stations_in_reach_are_asked_to_be_filled(board):
    assert PromptKind.FILL in kinds(board, "Drum")
    for name in ("Beech", "Fern"):
        assert PromptKind.FILL not in kinds(board, name)


def test_an_odd_reading_stands_on_its_own_day(snapshot, memory, board):
    """A tank of which the model makes little else is shown as it was read, and no look asked."""
    for name in ("Drum", "Beech"):
        own = station(board, name).station_id
        before = board.levels.by_station[own].share[-1]
        mark = LevelMark.DRY if before > 0.5 else LevelMark.THREE_QUARTERS
        read = supposing(snapshot, own, [Draft(TODAY, Reading(own, mark=mark))])
        after = board_of(read, memory.to_try())
        assert after.levels.by_station[own].share[-1] == pytest.approx(
            read_on(read, own, TODAY), abs=0.001
        )
        assert after.outlooks[own].look is None
        dry = [p for p in after.prompts[own] if p.kind is PromptKind.RUN_DRY]
        assert all("by today's reading" in p.text for p in dry if p.first <= TODAY)
        assert after.outlooks[own].read_share is not None


def test_raking_in_april_is_asked_of_those_not_raked(book_path, known):
    spring = board_of(snapshot_on(book_path, date(2015, 4, 20)), known)
    assert PromptKind.RAKE in kinds(spring, "Beech")
    assert PromptKind.RAKE not in kinds(spring, "North/Oak"), "raked on 12 April"


def test_a_station_without_a_tank_is_asked_to_be_dug_in_in_may(book_path, known):
    may = board_of(snapshot_on(book_path, date(2015, 5, 8)), known)
    assert kinds(may, "Later") == {PromptKind.INSTALL}
    assert PromptKind.INSTALL not in kinds(may, "Beech")


def test_futures_start_from_today_and_differ_by_course(board):
    beech = board.ahead[station(board, "Beech").station_id]
    assert beech.first_day == TODAY + timedelta(days=1)
    assert beech.volume_l.shape[0] == DAYS_AHEAD
    today_l = board.levels.by_station[station(board, "Beech").station_id].volume_l[-1]
    assert np.abs(beech.volume_l[0] - today_l).min() < 10.0
    assert np.ptp(beech.volume_l[60]) > 10.0


def test_a_short_record_is_said_to_be_short(board):
    basis = board.ahead[station(board, "Beech").station_id].basis
    assert "courses invented like" in basis
    assert "fewer than 10" in basis


def test_the_same_day_gives_the_same_numbers(board, snapshot):
    again = board_of(snapshot)
    for station_id, future in board.ahead.items():
        assert np.array_equal(future.volume_l, again.ahead[station_id].volume_l)
    assert again.prompts == board.prompts


def test_a_drowned_animal_takes_months_by_rain_and_weeks_when_bailed(board):
    """Common practice, no source: six months or more by rain, weeks when bailed."""
    (event,) = board.recoveries.of_station(station(board, "North/Oak").station_id)
    waiting, refilled = event.outlook.waiting, event.way(Way.REFILL)
    assert waiting.used.median is None or (waiting.used.median - event.event.found).days > 150
    assert (refilled.used.median - TODAY).days < 42
    assert refilled.cost.loads >= 2
    assert waiting.chance < refilled.chance


def test_no_refill_is_offered_where_no_vehicle_gets(board):
    (event,) = board.recoveries.of_station(station(board, "Beech").station_id)
    assert event.way(Way.REFILL) is None
    assert event.way(Way.DRAIN) is not None


def test_bear_use_breaks_the_habit_not_the_water(board):
    (event,) = board.recoveries.of_station(station(board, "South/Oak").station_id)
    assert event.expected is not None
    assert 14 < (event.expected - event.event.found).days < 60


def test_water_is_clear_before_it_is_used_again(board):
    for event in board.recoveries.by_event.values():
        for choice in event.outlook.choices:
            if choice.used.median is not None:
                assert choice.clear.median <= choice.used.median


def test_bailing_and_refilling_in_the_log_brings_the_date_forward(board, snapshot, known):
    oak = station(board, "North/Oak").station_id
    (before,) = board.recoveries.of_station(oak)
    drafts = [
        Draft(TODAY, ContaminationAction(before.event.event_id, oak, action))
        for action in (Action.BAILED, Action.REFILLED, Action.BAILED, Action.REFILLED)
    ]
    (after,) = board_of(supposing(snapshot, oak, drafts), known).recoveries.of_station(oak)
    assert (after.expected - TODAY).days < 42
    assert before.expected is None or after.expected < before.expected


def test_a_tank_seen_clear_is_no_longer_open(board, snapshot, known):
    beech = station(board, "Beech").station_id
    (event,) = board.recoveries.of_station(beech)
    clear = ContaminationAction(event.event.event_id, beech, Action.SEEN_CLEAR)
    assert not board_of(
        supposing(snapshot, beech, [Draft(TODAY, clear)]), known
    ).recoveries.of_station(beech)


def test_a_retired_station_has_no_future_and_no_prompts(board, snapshot, known):
    drum = station(board, "Drum").station_id
    retire = Draft(TODAY - timedelta(days=3), Chore(drum, ChoreKind.RETIRE))
    without = board_of(supposing(snapshot, drum, [retire]), known)
    assert drum not in without.ahead
    assert without.prompts[drum] == ()


def test_without_weather_recovery_is_a_rule_of_thumb(snapshot, known):
    bare = board_of(replace(snapshot, weather={}), known)
    assert not bare.levels.by_station
    bases = {recovery.outlook.basis for recovery in bare.recoveries.by_event.values()}
    assert bases == {"rule of thumb, no weather"}


def test_the_overview_has_a_row_for_every_station(board):
    rows = {row.label: row for row in overview(board)}
    assert set(rows) == {"North/Oak", "Beech", "Fern", "Drum", "South/Oak", "Later"}
    assert rows["North/Oak"].last_rake == date(2015, 4, 12)
    assert rows["North/Oak"].days_since_look == 21
    assert rows["Beech"].event.cause == "drowned animal"
    assert rows["Later"].level is None
    assert "no install" in rows["Later"].no_level
    assert 0.0 <= rows["Fern"].level.share <= 1.0


def test_printed_prompts_and_events(snapshot, known):
    due = due_rows(snapshot, memory=known)
    assert {"station", "prompt", "state", "text"} <= set(due.columns)
    assert any(row[2] == "fill" for row in due.rows)
    events = event_rows(snapshot, memory=known)
    by_station = {row[0]: dict(zip(events.columns, row, strict=True)) for row in events.rows}
    assert by_station["Beech"]["expected_refilled"] is None, "out of reach: no refill offered"
    assert by_station["South/Oak"]["cause"] == "bear use"
    assert "safety unknown" in events.notes[0]


@pytest.mark.parametrize("day", [date(2015, 10, 21), date(2015, 10, 28)])
def test_inside_the_heavy_use_weeks_a_way_out_is_wanted_before_they_end(book_path, day, known):
    """Not by a day already past, which no work can meet."""
    inside = board_of(snapshot_on(book_path, day), known)
    (event,) = inside.recoveries.of_station(station(inside, "North/Oak").station_id)
    assert event.wanted == date(2015, 11, 10)
    assert event.way(Way.REFILL).chance > 0.2
