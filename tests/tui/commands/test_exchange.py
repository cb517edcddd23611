"""Text, merging and the log, by command."""

import json
from dataclasses import replace
from datetime import date

import pytest
from click.testing import CliRunner

from store.errors import Refused
from store.logbook.backups import copy_to
from store.logbook.entries import held_entries, live_entries
from store.logbook.journal import redo, undo, write
from store.logbook.opening import logbook_at
from store.records import Chore, Draft, Note, Reading, StationFacts, TractFacts
from store.vocabulary import ChoreKind
from tests.tui.conftest import TANK
from tui.cli import main


def run(*args, fails=False):
    result = CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")
    assert result.exit_code == (1 if fails else 0), result.stderr
    return result.stderr if fails else result.stdout


def test_a_logbook_goes_out_as_text_and_comes_back(book, tmp_path):
    file, again = tmp_path / "book.jsonl", tmp_path / "again.db"
    assert run("text", book.path, "--out", file) == f"Wrote {file}.\n"
    assert f"Made {again}" in run("from-text", file, again)
    assert run("text", again) == file.read_text() == run("text", book.path)


@pytest.mark.parametrize("cut", [0, 40, 200])
def test_a_damaged_text_makes_nothing(book, tmp_path, cut):
    file, again = tmp_path / "book.jsonl", tmp_path / "again.db"
    run("text", book.path, "--out", file)
    file.write_bytes(file.read_bytes()[:cut])
    assert run("from-text", file, again, fails=True).startswith("Error: book.jsonl")
    assert not again.exists()


@pytest.fixture
def apart(book, tmp_path):
    """A logbook and a copy of it; both changed one reading, and each added one."""
    oak, rocks = book.ids["Oak flat"], book.ids["Rocks"]
    book.write(Draft(date(2015, 9, 1), Reading(oak, 254.0)))
    theirs = replace(book, path=tmp_path / "theirs.db")
    copy_to(book.path, theirs.path)
    (reading,) = book.entries(Reading)
    book.write(Draft(reading.day, Reading(oak, 127.0), reading.entry_id))
    book.write(Draft(date(2015, 9, 2), Reading(rocks, 25.4)))
    theirs.write(Draft(reading.day, Reading(oak, 508.0), reading.entry_id))
    theirs.write(Draft(date(2015, 9, 3), Reading(rocks, 50.8)))
    return book, theirs


def readings(book):
    return [entry.fact.below_rim_mm for entry in book.entries(Reading)]


def test_merging_brings_in_all_and_shows_what_both_changed(apart):
    mine, theirs = apart
    before = theirs.path.read_bytes()
    rows = json.loads(run("merge", mine.path, theirs.path, "--dry-run", "--as", "json"))
    assert readings(mine) == [127.0, 25.4]
    assert [row["what"] for row in rows] == ["comes in", "comes in", "conflict: reading"]
    shown = {name: rows[-1][name] for name in ("about", "where", "mine", "theirs", "holds")}
    assert shown == {
        "about": "2015-09-01",
        "where": "Oak flat",
        "mine": "below rim 5.0 in",
        "theirs": "below rim 20.0 in",
        "holds": "theirs",
    }
    assert json.loads(run("merge", mine.path, theirs.path, "--as", "json")) == rows
    assert readings(mine) == [508.0, 25.4, 50.8]
    assert theirs.path.read_bytes() == before
    assert run("merge", mine.path, theirs.path, "--as", "csv").splitlines()[1:] == []
    run("restore", mine.path)
    assert readings(mine) == [127.0, 25.4], "the whole merge is taken back"


def test_undo_after_a_merge_brings_back_the_change_that_stood_before(apart):
    mine, theirs = apart
    run("merge", mine.path, theirs.path)
    with logbook_at(mine.path, mine.today) as logbook:
        undo(logbook)
        assert readings(mine) == [508.0, 25.4]
        undo(logbook)
        assert readings(mine) == [127.0, 25.4]
        redo(logbook)
        assert readings(mine) == [508.0, 25.4]
        (held,) = [e for e in live_entries(logbook, (Reading,)) if e.fact.below_rim_mm == 508.0]
        write(
            logbook, "Settle", [Draft(held.day, Reading(held.fact.station_id, 99.0), held.entry_id)]
        )
        lost = next(
            entry_id
            for (entry_id,) in logbook.db.execute(
                "SELECT entry_id FROM reading WHERE below_rim_mm = 127.0"
            )
        )
        with pytest.raises(Refused, match="changed meanwhile"):
            write(logbook, "Stale", [Draft(held.day, Reading(held.fact.station_id, 1.0), lost)])
    assert readings(mine) == [99.0, 25.4]


def test_a_text_is_merged_as_the_logbook_is(apart, tmp_path):
    mine, theirs = apart
    run("text", theirs.path, "--out", tmp_path / "theirs.jsonl")
    run("merge", mine.path, tmp_path / "theirs.jsonl")
    assert readings(mine) == [508.0, 25.4, 50.8]


def test_contradictions_are_told_and_bar_no_other_work(apart):
    mine, theirs = apart
    for one in (mine, theirs):
        with logbook_at(one.path, one.today) as logbook:
            tract = TractFacts(logbook.new_id(), "West", latitude_deg=40.0)
            write(logbook, "A tract", [Draft(one.today, tract)])
    mine.write(Draft(date(2015, 9, 2), Chore(mine.ids["Rocks"], ChoreKind.RETIRE)))
    result = CliRunner().invoke(main, ["merge", str(mine.path), str(theirs.path)])
    assert result.exit_code == 0
    assert "There is a tract named West already" in result.stderr
    assert "Rocks was retired on 2015-09-02" in result.stderr
    assert readings(mine) == [508.0, 25.4, 50.8]
    mine.write(Draft(date(2015, 9, 5), Note(mine.ids["Oak flat"], "goes on")))


def test_what_is_about_a_station_taken_back_is_kept_and_does_not_count(apart):
    mine, theirs = apart
    with logbook_at(theirs.path, mine.today) as logbook:
        station = StationFacts(logbook.new_id(), mine.ids["North"], "New", TANK, 14.0)
        write(logbook, "New", [Draft(mine.today, station)])
    run("merge", mine.path, theirs.path)
    theirs.write(Draft(mine.today, Reading(station.station_id, 10.0)))
    with logbook_at(mine.path, mine.today) as logbook:
        undo(logbook)
    result = CliRunner().invoke(main, ["merge", str(mine.path), str(theirs.path)])
    assert (
        "1 entry is about a tract, a station or an event that somebody took back" in result.stderr
    )
    assert 10.0 not in readings(mine)
    assert run("levels", mine.path, "--today", mine.today)
    with logbook_at(mine.path, mine.today) as logbook:
        assert 10.0 in [e.fact.below_rim_mm for e in held_entries(logbook, (Reading,))]


def test_an_entry_altered_by_hand_is_no_reason_to_lose_either(apart, tmp_path):
    mine, theirs = apart
    file = tmp_path / "theirs.jsonl"
    run("text", theirs.path, "--out", file)
    file.write_text(file.read_text().replace('"below_rim_mm":254.0', '"below_rim_mm":255.0'))
    assert "they say different things" in run("merge", mine.path, file, fails=True)
    assert readings(mine) == [127.0, 25.4]
