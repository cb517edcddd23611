"""What can be done while the model is still at work: all that the log alone says."""

import threading
from datetime import date

import pytest
from textual.widgets import Static

from store.model.levels import levels_of
from store.model.working_out import board_of
from store.records import Contamination, Draft, Reading
from store.vocabulary import Cause
from tests.tui.driving import drive, press
from tui.check_in.screen import CheckInScreen
from tui.contamination.screen import ContaminationScreen
from tui.due.screen import DueScreen
from tui.event.screen import EventScreen
from tui.overview.screen import OverviewScreen, StationTable
from tui.season.screen import SeasonScreen
from tui.station.screen import StationScreen


def shown(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).render())


@pytest.fixture
def slow(book, monkeypatch):
    """A logbook whose model works until it is let go on."""
    go_on = threading.Event()

    def levels_when_let(snapshot, memory=None):
        go_on.wait(60.0)
        return levels_of(snapshot, memory)

    monkeypatch.setattr("store.model.working_out.levels_of", levels_when_let)
    book.write(
        Draft(date(2015, 9, 20), Contamination("e" * 36, book.ids["Rocks"], Cause.DYE)),
    )
    return book, go_on


async def until(pilot, true):
    """Wait for something, but not for ever."""
    for _ in range(1000):
        if true():
            await pilot.pause()
            return
        await pilot.pause(0.01)
    pytest.fail("it never came")


async def pressed(pilot, *keys):
    await pilot.press(*keys)
    await pilot.pause()


def run(app, steps, go_on):
    """As `drive`, but not waiting for the model to begin with."""
    import asyncio

    async def whole():
        async with app.run_test(size=(80, 24)) as pilot:
            try:
                await until(pilot, lambda: pilot.app.board is not None)
                await steps(pilot)
            finally:
                go_on.set()

    asyncio.run(whole())


def test_every_station_and_every_key_is_there_before_the_model(slow):
    book, go_on = slow

    async def steps(pilot):
        app = pilot.app
        assert isinstance(app.screen, OverviewScreen)
        assert not app.board.worked_out
        assert app.screen.query_one(StationTable).row_count == 4 + 2, "and two tracts"
        assert "being worked out" in shown(pilot, "#status")
        for key, screen in (
            ("c", CheckInScreen),
            ("e", EventScreen),
            ("t", SeasonScreen),
            ("enter", StationScreen),
            ("w", DueScreen),
            ("E", ContaminationScreen),
        ):
            await pressed(pilot, key)
            assert isinstance(app.screen, screen), key
            await pressed(pilot, "escape")
        await pressed(pilot, "w")
        assert shown(pilot, "#totals") == "", "nothing is said before it is known"
        await pressed(pilot, "escape")

    run(book.app(), steps, go_on)


def test_what_is_saved_meanwhile_is_kept_and_the_model_comes_after(slow):
    book, go_on = slow

    async def steps(pilot):
        await pressed(pilot, "c", "2", "s")
        await until(pilot, lambda: book.entries(Reading))
        go_on.set()
        await until(pilot, lambda: pilot.app.board.worked_out)
        assert "weather to" in shown(pilot, "#status")

    run(book.app(), steps, go_on)


def test_an_open_event_is_not_said_to_be_over_before_the_model_has_spoken(slow):
    book, go_on = slow

    async def steps(pilot):
        table = pilot.app.screen.query_one(StationTable)
        rocks = book.ids["Rocks"]
        table.move_cursor(row=table.get_row_index(rocks))
        await pilot.pause()
        assert "when the model says so" in shown(pilot, "#detail")

    run(book.app(), steps, go_on)
    drive(book.app(), lambda pilot: press(pilot, "t"))


def test_levels_come_before_the_dates(book, monkeypatch):
    """They are there, and nothing is said of what lies ahead, while that is worked out."""
    go_on = threading.Event()

    def board_when_let(*asked):
        go_on.wait(60.0)
        return board_of(*asked)

    monkeypatch.setattr("store.model.working_out.board_of", board_when_let)

    async def steps(pilot):
        app = pilot.app
        await until(pilot, lambda: app.board.levels.by_station)
        assert "dates are being worked out" in shown(pilot, "#status")
        row = app.screen.query_one(StationTable).get_row(book.ids["Oak flat"])
        assert "█" in str(row[1]), "its level is drawn"
        for key, screen in (("c", CheckInScreen), ("t", SeasonScreen), ("enter", StationScreen)):
            await pressed(pilot, key)
            assert isinstance(app.screen, screen), key
            await pressed(pilot, "escape")
        go_on.set()
        await until(pilot, lambda: app.board.worked_out)
        assert "weather to" in shown(pilot, "#status")

    run(book.app(), steps, go_on)
