"""A station in other forms, and its seasons looked back on."""

from dataclasses import replace
from datetime import date
from html.parser import HTMLParser

import numpy as np
import pytest

from store.errors import BadValue
from store.model.season_review import review_years, station_season
from store.model.snapshot import supposing
from store.model.what_if import what_if
from store.model.working_out import board_of
from store.records import Chore, Contamination, Draft, Sighting, TankMeasures
from store.reports.review import review_rows
from store.reports.review_html import review_page
from store.reports.what_if import what_if_rows
from store.season.suggestion import Advice, suggestion
from store.units import METRIC_UNITS
from store.views.what_if import Change, changed_facts, tried, usual_forms
from store.vocabulary import Access, Cause, ChoreKind, Exposure, Shape
from tests.store.conftest import TODAY, snapshot_on

LATE = date(2015, 11, 20)


@pytest.fixture(scope="module")
def late_board(book_path, memory):
    return board_of(snapshot_on(book_path, LATE), memory.to_try())


def station(board, name):
    return board.snapshot.places.find_station(name)


def forms(board, name, **others):
    facts = station(board, name)
    made = [(key, replace(facts, **change)) for key, change in others.items()]
    return what_if(board.snapshot, board.levels, facts.station_id, made).variants


def test_more_apron_never_holds_less_and_none_least(board):
    now, none, wide = forms(
        board, "North/Oak", none={"apron_area_m2": 0.0}, wide={"apron_area_m2": 60.0}
    )
    assert (none.wet_days <= now.wet_days).all(), "the same weather and members, less water"
    assert (wide.wet_days >= now.wet_days).all()
    assert none.wet_days.mean() < wide.wet_days.mean()
    assert none.fills.mean() >= now.fills.mean() >= wide.fills.mean()


def test_fills_are_made_only_where_it_stands_dry_and_keep_it_wet(board):
    (now,) = forms(board, "North/Oak")
    assert ((now.fills > 0) | (now.wet_days == now.heavy_days)).all()
    assert (now.brought_l <= now.fills * now.capacity_l + 1e-6).all()
    assert 0.0 <= now.hold_chance <= 1.0


def test_the_same_form_gives_the_same_numbers(board):
    now, same = forms(board, "North/Oak", same={})
    assert np.array_equal(now.wet_days, same.wet_days)
    assert np.array_equal(now.fills, same.fills)


def test_what_is_asked_for_is_one_change(board):
    facts = station(board, "North/Oak")
    wide = changed_facts(facts, Change(length_mm=1500.0, apron_m2=30.0, exposure=Exposure.OPEN))
    assert (wide.tank.length_mm, wide.tank.width_mm) == (1500.0, facts.tank.width_mm)
    assert (wide.apron_area_m2, wide.exposure) == (30.0, Exposure.OPEN)
    round_tank = changed_facts(facts, Change(diameter_mm=900.0, depth_mm=700.0)).tank
    assert round_tank == TankMeasures(Shape.ROUND, 700.0, diameter_mm=900.0)
    with pytest.raises(BadValue, match="give one of them"):
        changed_facts(facts, Change(diameter_mm=900.0, length_mm=1.0))
    with pytest.raises(BadValue):
        changed_facts(facts, Change(depth_mm=-5.0))
    with pytest.raises(BadValue, match="goes with its shape"):
        changed_facts(station(board, "Drum"), Change(depth_mm=700.0))


def test_usual_forms_change_something_and_are_possible(board):
    for facts in board.snapshot.places.stations.values():
        for name, _, made in usual_forms(facts, METRIC_UNITS):
            assert made != facts, name
            assert made.station_id == facts.station_id
            assert not {"gal", "in", "ft2"} & {*name.removeprefix("in ").split()}, name


@pytest.mark.parametrize(
    ("access", "hold", "fills", "changes", "fouled", "used", "advice"),
    [
        (Access.FOOT, 0.9, 0.1, {Advice.ENLARGE: 1.0}, 0.0, True, Advice.LEAVE),
        (Access.FOOT, 0.9, 0.1, {}, 0.0, False, Advice.MOVE),
        (Access.FOOT, 0.5, 1.0, {Advice.RESCULPT: 0.9, Advice.ENLARGE: 0.7}, 0, None,
         Advice.RESCULPT),
        (Access.ATV, 0.5, 1.0, {Advice.ENLARGE: 0.6}, 0.0, True, Advice.KEEP_FILLING),
        (Access.FOOT, 0.5, 1.0, {Advice.ENLARGE: 0.6}, 0.0, True, Advice.LEAVE),
        (Access.FOOT, 0.1, 3.0, {Advice.ENLARGE: 0.2}, 0.0, False, Advice.GIVE_UP),
        (Access.FOOT, 0.1, 3.0, {}, 0.0, True, Advice.MOVE),
        (Access.ATV, 0.1, 3.0, {Advice.DEEPEN: 0.3}, 0.0, True, Advice.DEEPEN),
        (Access.ATV, 0.95, 0.0, {}, 0.5, True, Advice.MOVE),
    ],
)  # fmt: skip
def test_suggestions(access, hold, fills, changes, fouled, used, advice):
    found = suggestion(access, hold, fills, changes, fouled_share=fouled, used=used)
    assert found.advice is advice
    assert found.text.startswith(advice.value.capitalize())
    assert "%" in found.why


def test_a_season_counts_what_the_log_says(late_board, known):
    snapshot = late_board.snapshot
    oak = next(
        key for key, history in snapshot.histories.items()
        if not history.events and history.retired is None and key in late_board.ahead
    )  # fmt: skip
    drafts = [
        Draft(date(2015, 10, 12), Chore(oak, ChoreKind.FILL)),
        Draft(date(2015, 10, 25), Sighting(oak, camera_per_day=3.0)),
        Draft(date(2015, 10, 25), Chore(oak, ChoreKind.RAKE)),
        Draft(date(2015, 11, 1), Contamination("e" * 36, oak, Cause.DYE)),
    ]
    board = board_of(supposing(snapshot, oak, drafts), known)
    before = station_season(snapshot, late_board.levels, oak, 2015)
    after = station_season(board.snapshot, board.levels, oak, 2015)
    assert after.heavy_days == 22
    assert after.wet_days is not None
    low, middle, high = after.wet_days
    assert 0 <= low <= middle <= high <= 22
    assert len(after.fills) == len(before.fills) + 1
    fill = after.fills[-1]
    assert fill.litres is not None
    assert 0.0 <= fill.litres <= late_board.levels.of(oak).station.tank.capacity_l
    assert fill.brought_days is not None
    assert 0.0 <= fill.brought_days <= 22.0
    assert after.visits == before.visits + 3
    assert after.quiet_visits == before.quiet_visits + 2
    assert after.fouled_days == before.fouled_days + (LATE - date(2015, 11, 1)).days
    assert after.fouled_heavy_days == before.fouled_heavy_days + 10
    assert after.animals_a_day == 3.0


def test_years_are_those_a_station_stood_in(board):
    for station_id, history in board.snapshot.histories.items():
        years = review_years(board.snapshot, station_id)
        assert (history.installed is None) == (not years)
        assert all(year <= TODAY.year for year in years)


def test_rows_and_page_say_the_same(late_board, monkeypatch):
    once = tried(late_board, station(late_board, "North/Oak").station_id)
    monkeypatch.setattr("store.reports.review_html.tried", lambda _board, _station: once)
    monkeypatch.setattr("store.reports.review_html.board_of", lambda _snapshot, _memory: late_board)
    monkeypatch.setattr("store.reports.review.board_of", lambda _snapshot, _memory: late_board)
    rows = review_rows(late_board.snapshot).rows
    assert len(rows) > 4
    page = review_page(late_board.snapshot).decode()

    class Reader(HTMLParser):
        headings = 0

        def handle_starttag(self, tag, _attrs):
            self.headings += tag == "h2"

    reader = Reader()
    reader.feed(page)
    assert reader.headings == 1 + len({row[0] for row in rows})
    assert "<script" not in page
    assert review_rows(late_board.snapshot, 1999).notes[-1].startswith("No station stood")


def test_a_station_can_be_asked_by_name(snapshot, board, monkeypatch):
    monkeypatch.setattr("store.reports.what_if.board_of", lambda _snapshot, _memory: board)
    found = what_if_rows(snapshot, "North/Oak")
    assert found.rows[0][0] == "as it is"
    said = tried(board, station(board, "North/Oak").station_id).suggestion
    assert said is not None
    assert found.notes[-1] == f"{said.text}."
