"""The season's rows: which tasks each station has, spans, and what is told at a day."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from store.model.ensembles import DAYS_AHEAD
from store.model.snapshot import supposing
from store.model.working_out import board_of
from store.records import Chore, ContaminationAction, Draft, RampCheck
from store.season.cautions import DIGGING, HAULING
from store.season.prompt import PromptState, plain_date
from store.views.timeline import SpanKind, season_timeline
from store.views.timeline_cell import cell_detail, due_rows_at
from store.vocabulary import Action, ChoreKind, PromptKind
from tests.store.conftest import TODAY, snapshot_on

OCTOBER = date(2015, 10, 15)


@pytest.fixture(scope="module")
def timeline(board):
    return season_timeline(board)


def row_of(timeline, name):
    return next(row for row in timeline.rows if name in (row.label, row.station.name))


def tasks_of(row, year):
    return {
        task.kind: task.state
        for task in row.tasks
        if task.last is not None and task.last.year == year
    }


def spans_of(row, kind):
    return [(span.first, span.last) for span in row.spans if span.kind is kind]


def changed(snapshot, known, name, *drafts):
    station_id = snapshot.places.find_station(name).station_id
    log = [Draft(day, what(station_id)) for day, what in drafts]
    after = season_timeline(board_of(supposing(snapshot, station_id, log), known))
    return after, row_of(after, name)


def chore(kind):
    return lambda station_id: Chore(station_id, kind)


def test_all_stations_stand_by_tract_and_name(timeline):
    assert [(row.tract, row.label) for row in timeline.rows] == [
        ("North", "Beech"),
        ("North", "Fern"),
        ("North", "North/Oak"),
        ("South", "Drum"),
        ("South", "Later"),
        ("South", "South/Oak"),
    ]


def test_it_spans_last_year_and_the_whole_season_to_come(timeline, book_path, known):
    assert (timeline.first_day, timeline.last_day) == (
        date(2014, 1, 1),
        TODAY + timedelta(days=DAYS_AHEAD),
    )
    asked = {task.kind for task in row_of(timeline, "Beech").tasks if task.first.year == 2016}
    assert {PromptKind.RAKE, PromptKind.CHECK} <= asked
    today = date(2014, 11, 20)
    later = season_timeline(board_of(snapshot_on(book_path, today), known))
    assert later.last_day == today + timedelta(days=DAYS_AHEAD)


def test_a_station_not_installed_is_asked_for_an_install_and_nothing_else(book_path, known):
    timeline = season_timeline(board_of(snapshot_on(book_path, date(2015, 5, 6)), known))
    later = row_of(timeline, "Later")
    assert tasks_of(later, 2015) == {PromptKind.INSTALL: PromptState.DUE}
    assert PromptKind.INSTALL not in tasks_of(row_of(timeline, "Beech"), 2015)
    told = cell_detail(timeline, later, date(2015, 5, 6), date(2015, 5, 6))
    assert told.cautions[0] is DIGGING
    assert [window.name for window in told.windows] == ["May installs, soil still moist"]


def test_a_station_on_foot_is_never_asked_to_be_filled(timeline):
    assert PromptKind.FILL not in {task.kind for task in row_of(timeline, "Fern").tasks}
    drum = row_of(timeline, "Drum")
    assert tasks_of(drum, 2015)[PromptKind.FILL] is PromptState.DUE
    assert cell_detail(timeline, drum, OCTOBER, OCTOBER).cautions[0] is HAULING


def test_raked_is_done_and_not_raked_is_skipped_in_autumn_and_overdue_in_may(
    timeline, book_path, known
):
    april = (date(2015, 4, 1), date(2015, 4, 30))
    oak, unraked = row_of(timeline, "North/Oak"), row_of(timeline, "South/Oak")
    assert tasks_of(oak, 2015)[PromptKind.RAKE] is PromptState.DONE
    assert april not in [(span.first, span.last) for span in oak.spans]
    assert april in spans_of(unraked, SpanKind.SKIPPED)
    today = date(2015, 5, 20)
    may = row_of(season_timeline(board_of(snapshot_on(book_path, today), known)), "South/Oak")
    assert (april[0], today) in spans_of(may, SpanKind.OVERDUE)


def test_a_rake_ends_the_task_at_the_other_station(snapshot, known):
    _, row = changed(snapshot, known, "South/Oak", (date(2015, 4, 20), chore(ChoreKind.RAKE)))
    assert tasks_of(row, 2015)[PromptKind.RAKE] is PromptState.DONE
    assert date(2015, 4, 20) in [mark.on for mark in row.marks]


def test_contamination_reaches_from_the_find_to_the_expected_day(timeline, board):
    beech = row_of(timeline, "Beech")
    (recovery,) = board.recoveries.of_station(beech.station.station_id)
    ((first, last),) = spans_of(beech, SpanKind.CONTAMINATED)
    assert first == date(2015, 7, 6)
    assert last == (recovery.expected or timeline.last_day)
    told = cell_detail(timeline, beech, date(2015, 8, 1), date(2015, 8, 1))
    assert "safety unknown" in told.spans[0].text
    assert told.cautions[0].subject == "Carcass"


def test_an_event_seen_clear_ends_that_day_and_needs_no_caution_any_more(snapshot, known):
    beech = snapshot.places.find_station("Beech")
    event_id = snapshot.histories[beech.station_id].events[0].event_id
    timeline, row = changed(
        snapshot,
        known,
        "Beech",
        (
            date(2015, 9, 9),
            lambda station_id: ContaminationAction(event_id, station_id, Action.SEEN_CLEAR),
        ),
    )
    assert spans_of(row, SpanKind.CONTAMINATED) == [(date(2015, 7, 6), date(2015, 9, 9))]
    assert not cell_detail(timeline, row, date(2015, 8, 1), date(2015, 8, 1)).cautions


def test_a_cover_reaches_to_the_day_it_came_off_or_to_today(snapshot, known):
    on, off, again = date(2014, 11, 20), date(2015, 4, 2), date(2015, 10, 1)
    _, row = changed(
        snapshot,
        known,
        "South/Oak",
        (on, chore(ChoreKind.COVER)),
        (off, chore(ChoreKind.UNCOVER)),
        (again, chore(ChoreKind.COVER)),
    )
    assert spans_of(row, SpanKind.COVERED) == [(on, off), (again, TODAY)]


def test_a_cover_goes_with_a_retired_tank(snapshot, known):
    on, retired = date(2015, 5, 1), date(2015, 8, 1)
    _, row = changed(
        snapshot,
        known,
        "South/Oak",
        (on, chore(ChoreKind.COVER)),
        (retired, chore(ChoreKind.RETIRE)),
    )
    assert spans_of(row, SpanKind.COVERED) == [(on, retired)]


def test_dry_spells_are_the_models_and_dry_ahead_begins_tomorrow(timeline, board):
    drum = row_of(timeline, "Drum")
    modeled = board.levels.by_station[drum.station.station_id].dry_spells()
    assert modeled
    assert spans_of(drum, SpanKind.DRY) == modeled
    assert all(first > TODAY for first, _ in spans_of(drum, SpanKind.DRY_AHEAD))


def test_a_standing_task_is_told_of_today_alone(snapshot, known):
    timeline, row = changed(
        snapshot,
        known,
        "Fern",
        (date(2015, 8, 3), lambda station_id: RampCheck(station_id, in_place=False)),
    )
    (ramp,) = row.standing
    assert ramp.endangers
    yesterday = TODAY - timedelta(days=1)
    assert ramp in cell_detail(timeline, row, yesterday, TODAY).tasks
    assert ramp not in cell_detail(timeline, row, yesterday, yesterday).tasks


def test_a_retired_station_keeps_its_marks_and_loses_its_tasks(snapshot, known):
    _, row = changed(snapshot, known, "South/Oak", (date(2015, 10, 1), chore(ChoreKind.RETIRE)))
    assert row.marks
    assert {task.state for task in row.tasks} <= {PromptState.DONE}


def test_marks_run_forward_and_keep_within_the_timeline(timeline):
    for row in timeline.rows:
        days = [mark.on for mark in row.marks]
        assert days == sorted(days)
        assert all(timeline.first_day <= day <= timeline.last_day for day in days)


def test_only_rows_with_open_work_in_the_window_are_due(timeline):
    due = {row.station.name for row in due_rows_at(timeline, OCTOBER, OCTOBER)}
    assert "Drum" in due
    assert "Later" not in due
    assert due_rows_at(timeline, date(2014, 4, 10), date(2014, 4, 10)) == ()


def test_without_a_window_the_days_themselves_count(snapshot, known):
    today = date(2015, 6, 10)
    timeline = season_timeline(board_of(replace(snapshot, today=today), known))
    due = {row.label for row in due_rows_at(timeline, today, today)}
    assert "South/Oak" in due  # its April raking is overdue until the end of June


def test_fouling_is_drawn_to_use_again_and_tells_when_the_water_is_clear(timeline, board):
    oak = board.snapshot.places.find_station("North/Oak")
    (found,) = board.recoveries.of_station(oak.station_id)
    assert found.clear is not None
    assert found.expected is not None
    (span,) = (
        span for span in row_of(timeline, "North/Oak").spans if span.kind is SpanKind.CONTAMINATED
    )
    assert span.last == max(found.expected, TODAY)
    assert f"water clear about {plain_date(found.clear)}" in span.text
    assert f"in use again about {plain_date(found.expected)}" in span.text


def test_levels_of_any_day_are_those_of_the_model(board, timeline):
    oak = row_of(timeline, "North/Oak")
    levels, future = (
        by_id[oak.station.station_id] for by_id in (board.levels.by_station, board.ahead)
    )
    now = oak.level_on(TODAY)
    assert now is not None
    assert now.share == pytest.approx(float(levels.share[-1]))
    for after in (7, 10, 200, DAYS_AHEAD - 1):
        day = future.first_day + timedelta(days=after)
        low, median, high = np.quantile(future.share[after], (0.1, 0.5, 0.9))
        found = oak.level_on(day)
        assert found is not None
        assert found.share == pytest.approx(median, abs=0.06)
        assert found.spread == pytest.approx(high - low, abs=0.08)
    assert oak.level_on(levels.first_day - timedelta(days=1)) is None
    assert oak.level_on(future.first_day + timedelta(days=DAYS_AHEAD)) is None
