"""Correcting an entry: in place from the log, and what is typed outlives the program."""

import os
import signal
from dataclasses import replace
from datetime import date

import pytest
from textual.widgets import Static

from store.records import Draft, Note, Reading, StationFacts, Withdrawal
from store.unsaved import UnsavedFile
from tests.tui.driving import drive, press, settle
from tests.tui.test_unsaved_work import _in_terminal, _read_until, kept_beside
from tui.base.correction import CorrectionScreen
from tui.base.unsaved_question import UnsavedQuestion
from tui.log.screen import LogScreen
from tui.station_form.screen import StationForm

DAY = date(2015, 6, 20)


@pytest.fixture
def read(book):
    """A level of 18 in is the latest of the log."""
    book = replace(book, today=DAY)
    book.write(Draft(DAY, Reading(book.ids["Oak flat"], 457.2)))
    return book


def said(screen, selector):
    return str(screen.query_one(selector, Static).render())


async def type_level(pilot, text):
    await press(pilot, "Z")
    await press(pilot, "semicolon")
    screen = pilot.app.screen
    assert type(screen) is CorrectionScreen
    screen.rows["level"].editor.value = text
    await settle(pilot)


def leave_typed(book, text, *before):
    async def steps(pilot):
        await press(pilot, *before)
        await type_level(pilot, text)
        await press(pilot, "ctrl+q")

    drive(book.app(), steps)
    assert len(kept_beside(book.path)) == 1
    (entry,) = book.entries(Reading)
    assert entry.fact.below_rim_mm == 457.2, "nothing of it was saved"
    return entry


def test_one_key_corrects_in_the_log_and_comes_back_to_the_entry(read):
    async def steps(pilot):
        await type_level(pilot, "16 in")
        assert "never corrected" in said(pilot.app.screen, "#history")
        await press(pilot, "f2")
        log = pilot.app.screen
        assert type(log) is LogScreen
        assert "16.0 in below the rim" in said(log, "#entry")
        shown = [one.words for one in log.query_one("KeyLine").shown]
        assert {"Correct", "Station", "Withdraw"} <= {*shown}
        await press(pilot, "semicolon")
        assert "18.0 in below the rim   until " in said(pilot.app.screen, "#history")
        await press(pilot, "escape", "x", "enter")
        assert not read.entries(Reading)
        await press(pilot, "u", "u")
        assert [entry.fact.below_rim_mm for entry in read.entries(Reading)] == [457.2]

    drive(read.app(), steps)


def test_ctrl_q_keeps_a_correction_and_the_next_start_offers_it(read):
    leave_typed(read, "16 in")

    async def take_up(pilot):
        assert isinstance(pilot.app.screen, UnsavedQuestion)
        asked = " ".join(str(part.content) for part in pilot.app.screen.query(Static))
        assert "The correction of 20 Jun 2015, Level read, 18.0 in below the rim" in asked
        await press(pilot, "y")
        screen = pilot.app.screen
        assert type(screen) is CorrectionScreen
        assert screen.texts["level"] == "16 in"
        await press(pilot, "f2")
        (entry,) = read.entries(Reading)
        assert entry.fact.below_rim_mm == pytest.approx(406.4)
        assert not kept_beside(read.path)

    drive(read.app(), take_up)


def test_it_is_shown_again_in_the_units_it_was_typed_in(read):
    leave_typed(read, "40", "m")

    async def take_up(pilot):
        await press(pilot, "escape", "m")
        await press(pilot, "Z")
        await press(pilot, "semicolon", "y")
        screen = pilot.app.screen
        assert type(screen) is CorrectionScreen
        assert screen.texts["level"] == "40"
        await press(pilot, "f2")
        (entry,) = read.entries(Reading)
        assert entry.fact.below_rim_mm == pytest.approx(400.0)

    drive(read.app(), take_up)


def test_a_correction_of_what_was_taken_back_says_so_and_can_be_dropped(read):
    entry = leave_typed(read, "16 in")
    read.write(Draft(DAY, Withdrawal(), revises=entry.entry_id))

    async def steps(pilot):
        await press(pilot, "y")
        assert "taken back or corrected meanwhile" in said(pilot.app.screen, "#status")
        told = [one.message for one in pilot.app._notifications]
        assert any("cannot be taken up" in one for one in told)
        await press(pilot, "ctrl+q")

    drive(read.app(), steps, notifications=True)

    async def drop(pilot):
        assert isinstance(pilot.app.screen, UnsavedQuestion)
        await press(pilot, "x")
        assert not kept_beside(read.path)

    drive(read.app(), drop)


def test_a_closed_terminal_loses_no_correction(book):
    today = date(2015, 10, 1)
    book.write(Draft(today, Note(book.ids["Rocks"], "bank wet")))
    child, terminal = _in_terminal(book.path)
    try:
        _read_until(terminal, "Rocks")
        os.write(terminal, b"Z")
        _read_until(terminal, "Log of all stations")
        os.write(terminal, b";")
        _read_until(terminal, "as oct 14")
        os.write(terminal, b" and soft")
        _read_until(terminal, "soft")
    finally:
        os.kill(child, signal.SIGHUP)
        os.waitpid(child, 0)
        os.close(terminal)
    (kept,) = UnsavedFile(book.path).take_over().unsaved
    assert (kept.where, kept.typed["texts"]["text"]) == ("correction", "bank wet and soft")


def test_facts_say_what_was_changed_and_one_key_opens_their_form(book):
    rocks = book.ids["Rocks"]
    (entered,) = [one for one in book.entries(StationFacts) if one.fact.station_id == rocks]
    facts = replace(entered.fact, apron_area_m2=20.0, bear_country=True)
    book.write(Draft(book.today, facts, revises=entered.entry_id))

    async def steps(pilot):
        await press(pilot, "Z", "semicolon")
        screen = pilot.app.screen
        assert type(screen) is CorrectionScreen
        history = " ".join(said(screen, "#history").split())
        assert "Station's facts entered until " in history
        assert "facts changed: apron 215.3 ft2, was 150.7 ft2; bear country yes, was no" in history
        await press(pilot, "F")
        assert type(pilot.app.screen) is StationForm
        await press(pilot, "escape", "escape")
        assert type(pilot.app.screen) is LogScreen

    drive(book.app(), steps)
