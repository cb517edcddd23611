"""The log in plain words, and what withdrawing a line takes with it."""

from dataclasses import fields, replace
from datetime import UTC, date, datetime
from typing import get_args

import pytest

from store.logbook.entries import live_entries
from store.logbook.journal import undo, write
from store.logbook.opening import logbook_at
from store.logbook.places import places
from store.records import (
    BearVisit,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    Fact,
    Note,
    Photo,
    RampCheck,
    Reading,
    Sighting,
    StationFacts,
    Withdrawal,
)
from store.views.log_lines import LineKind, log_lines, withdrawal_drafts
from store.vocabulary import (
    Action,
    Cause,
    ChoreKind,
    Decision,
    LevelMark,
    PromptKind,
    Response,
    Strength,
    UseSeen,
)
from tests.store.conftest import TODAY, build, snapshot_on

ID = "s"
NOTE = 'a [b]note[/b] "said" 🦌 ' * 20


def lines_of(snapshot, *whats):
    entries = tuple(
        Entry(
            f"{number:02}", "b", date(2015, 5, 1 + number), datetime(2026, 1, 1, tzinfo=UTC), what
        )
        for number, what in enumerate(whats)
    )
    return log_lines(replace(snapshot, log={ID: entries}), ID)


def test_the_newest_line_comes_first_and_notes_stay_as_written(snapshot):
    note, raked = lines_of(snapshot, Chore(ID, ChoreKind.RAKE, note=NOTE), Note(ID, NOTE))
    assert (note.kind, raked.kind) == (LineKind.NOTE, LineKind.CHORE)
    assert note.note == raked.note == NOTE
    assert raked.what == "Apron raked"


@pytest.mark.parametrize(
    ("what", "said"),
    [
        (Reading(ID, mark=LevelMark.HALF), "Level by eye: half"),
        (RampCheck(ID, in_place=False), "Escape ramp MISSING"),
        (Chore(ID, ChoreKind.FILL), "Tank filled to the rim"),
        (Chore(ID, ChoreKind.FILL, 100.0), "Tank filled"),
        (
            ContaminationSign("e", ID, smell=Strength.STRONG, response=Response.AVOIDED),
            "Looked at the water: smell strong, animals avoided",
        ),
        (BearVisit(ID, 3), "Bear visits: 3"),
        (Photo(ID, "/p [x].jpg", "0" * 64), "Photo"),
        (Sighting(ID, UseSeen.HEAVY, 3.5), "Sign of deer: heavy; Camera: 3.5 animals a day"),
        (
            Contamination("e", ID, Cause.DROWNED_ANIMAL, Action.REMOVED),
            "Fouled: drowned animal; carcass removed",
        ),
    ],
)
def test_what_an_entry_says(snapshot, what, said):
    (line,) = lines_of(snapshot, what)
    assert line.what == said


def test_every_kind_of_entry_about_a_station_has_a_line(snapshot):
    """A kind of record added later must be told too."""
    station_id = snapshot.places.find_station("Beech").station_id
    facts = snapshot.places.stations[station_id]
    given = {
        "station_id": ID,
        "event_id": "e",
        "chore": ChoreKind.RAKE,
        "cause": Cause.DYE,
        "action": Action.LEFT,
        "in_place": True,
        "text": "t",
        "prompt": PromptKind.RAKE,
        "asked": TODAY,
        "decision": Decision.DECLINED,
        "path": "p",
        "sha256": "s",
    }
    for kind in get_args(Fact):
        needed = {f.name for f in fields(kind)}
        if "station_id" not in needed:
            continue
        if kind is StationFacts:
            what = facts
        else:
            what = kind(**{name: value for name, value in given.items() if name in needed})
        assert len(lines_of(snapshot, what)) == 1, kind


def test_amounts_are_kept_apart_from_the_words(snapshot):
    read, filled = lines_of(snapshot, Chore(ID, ChoreKind.FILL, 100.0), Reading(ID, 254.0))
    assert (read.below_rim_mm, read.volume_l) == (254.0, None)
    assert (filled.below_rim_mm, filled.volume_l) == (None, 100.0)


def test_a_later_action_names_its_event(snapshot):
    bailed, _ = lines_of(
        snapshot,
        Contamination("e", ID, Cause.DYE),
        ContaminationAction("e", ID, Action.BAILED, 50.0),
    )
    assert bailed.what == "Bailed (dye of 1 May 2015)"
    assert bailed.volume_l == 50.0


def test_withdrawing_an_event_takes_its_actions_with_it_and_undo_puts_all_back(tmp_path):
    path = tmp_path / "book.db"
    build(path)
    with logbook_at(path, TODAY) as book:
        station_id = places(book).find_station("Beech").station_id
        event = next(
            entry.fact
            for entry in live_entries(book, (Contamination,))
            if entry.fact.station_id == station_id
        )
        action = ContaminationAction(event.event_id, station_id, Action.BAILED)
        write(book, "Bailed", [Draft(date(2015, 7, 8), action)])
        lines = log_lines(snapshot_on(path, TODAY), station_id)
        found = next(line for line in lines if line.kind is LineKind.EVENT)
        drafts = withdrawal_drafts(lines, found, "not here")
        assert {draft.fact for draft in drafts} == {Withdrawal("not here")}
        write(book, "Withdrawn", drafts)
        left = log_lines(snapshot_on(path, TODAY), station_id)
        assert {line.kind for line in lines} - {line.kind for line in left} == {
            LineKind.EVENT,
            LineKind.ACTION,
        }
        undo(book)
        assert [line.what for line in log_lines(snapshot_on(path, TODAY), station_id)] == [
            line.what for line in lines
        ]


def test_withdrawing_an_action_leaves_its_event(snapshot):
    lines = lines_of(
        snapshot,
        Contamination("e", ID, Cause.DYE),
        ContaminationAction("e", ID, Action.BAILED),
    )
    (draft,) = withdrawal_drafts(lines, lines[0], "")
    assert draft == Draft(date(2015, 5, 2), Withdrawal(""), revises="01")
