"""Rows of contamination: the first makes an event, later ones act on it while it is open."""

import pytest

from store.errors import BadLines
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.places import places
from store.model.snapshot import load
from store.records import Contamination, ContaminationAction, Draft
from store.transfer.importing import SheetKind, import_sheet
from store.vocabulary import Action, AnimalSize, Cause

HEAD = "date,station,cause,action,gallons,note"
STORY = (
    "2026-08-20,Oak,drowned animal,seen clear,,",
    "2026-08-03,Oak,drowned animal,carcass removed,,a fawn",
    "2026-08-05,Oak,drowned animal,drained,,",
    "2026-08-05,Oak,drowned animal,refilled,60,",
)


@pytest.fixture
def add(book, save):
    return lambda *lines: import_sheet(book, SheetKind.CONTAMINATION, save(HEAD, *lines))


def _events(book):
    oak = places(book).find_station("Oak").station_id
    return load(book).histories[oak].events


def _actions(event):
    return [taken.action for taken in event.actions]


def test_later_rows_are_work_on_the_event_in_order_of_date(book, add):
    done = add(*STORY)
    assert done.written == 4
    assert "3 rows tell of work on an event" in done.warnings[0]
    (event,) = _events(book)
    assert _actions(event) == [Action.REMOVED, Action.DRAINED, Action.REFILLED, Action.SEEN_CLEAR]
    assert not event.is_open


def test_the_same_file_twice_adds_nothing(book, add):
    add(*STORY)
    before = list(book.db.conn.iterdump())
    done = add(*STORY)
    assert (done.written, done.known, done.warnings) == (0, 4, ())
    assert list(book.db.conn.iterdump()) == before


def test_rows_of_a_later_file_go_to_the_event_of_the_log(book, add):
    add(STORY[1])
    add(*STORY)
    (event,) = _events(book)
    assert len(event.actions) == 4


def test_after_it_was_seen_clear_a_row_is_a_new_event(book, add):
    add(*STORY, "2026-09-01,Oak,drowned animal,,,another")
    first, second = _events(book)
    assert (first.is_open, second.is_open) == (False, True)
    add("2026-09-02,Oak,drowned animal,bailed,20,", "2026-08-10,Oak,drowned animal,left,,again")
    first, second = _events(book)
    assert _actions(second) == [Action.LEFT, Action.BAILED]
    assert Action.LEFT in _actions(first)


def test_another_cause_or_station_is_another_event(book, add):
    add("2026-08-03,Oak,dye,,,", "2026-08-04,Oak,spill,,,", "2026-08-04,North/Spring,dye,,,")
    assert len(live_entries(book, (Contamination,))) == 3
    assert live_entries(book, (ContaminationAction,)) == []


def test_a_row_before_the_find_is_an_event_of_its_own(book, add):
    add("2026-08-03,Oak,dye,,,")
    add("2026-08-01,Oak,dye,,,")
    assert [event.found.day for event in _events(book)] == [1, 3]


def test_an_event_logged_by_hand_with_more_detail_is_known(book, add):
    oak = places(book).find_station("Oak").station_id
    event = Contamination(
        book.new_id(), oak, Cause.DROWNED_ANIMAL, Action.REMOVED, animal_size=AnimalSize.LARGE
    )
    write(book, "Found", [Draft(book.today, event)])
    assert add(f"{book.today},Oak,drowned animal,carcass removed,,").known == 1


def test_bad_rows_are_told_by_their_line_in_the_file(add, refuses):
    said = refuses(BadLines, lambda: add(*STORY, "2026-10-02,Oak,dye,,,", "2026-08-01,Oka,dye,,,"))
    assert "line 6, date: 2026-10-02 is still to come" in said
    assert "line 7, station: There is no station named Oka" in said
