"""What is read in one stretch is of one moment, and what is written waits its turn."""

import pytest

from store.errors import Refused
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import logbook_at
from store.records import Draft, Note
from tests.store.logbook.durability import TODAY, make_book


@pytest.fixture
def path(tmp_path):
    return tmp_path / "book.db"


def notes(logbook):
    return [entry.fact.text for entry in live_entries(logbook, (Note,))]


def test_what_another_writes_meanwhile_is_seen_afterwards(path):
    stations = make_book(path)
    with logbook_at(path, TODAY) as mine, logbook_at(path, TODAY) as theirs:
        with mine.reading():
            assert notes(mine) == []
            write(theirs, "Note", [Draft(TODAY, Note(stations[0], "new"))])
            assert notes(mine) == []
        assert notes(mine) == ["new"]


def write_half(logbook, station):
    with logbook.writing():
        write(logbook, "Note", [Draft(TODAY, Note(station, "half"))])
        raise Refused("no")


def test_after_a_failure_nothing_of_it_stands_and_the_next_can_write(path):
    stations = make_book(path)
    with logbook_at(path, TODAY) as mine, logbook_at(path, TODAY) as theirs:
        with pytest.raises(Refused, match="no"):
            write_half(mine, stations[0])
        write(theirs, "Note", [Draft(TODAY, Note(stations[0], "whole"))])
        assert notes(mine) == ["whole"]
