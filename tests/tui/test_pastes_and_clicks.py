"""Pastes and clicks come as they come, whatever the screen is doing."""

from textual import events
from textual.widgets import DataTable, Input

from tests.tui.driving import drive, press, settle
from tui.base.key_line import KeyLine
from tui.season.screen import SeasonScreen
from tui.station.screen import StationScreen


def test_a_paste_does_not_steer_the_terminal(book):
    async def steps(pilot):
        await press(pilot, "slash")
        pilot.app.post_message(events.Paste("Oak\x1b[2J\x07"))
        await settle(pilot)
        assert pilot.app.screen.query_one(Input).value == "Oak\ufffd[2J\ufffd"

    drive(book.app(), steps)


def test_clicks_on_headings_rows_and_keys_do_what_their_keys_do(book):
    async def steps(pilot):
        table, line = pilot.app.screen.query_one(DataTable), pilot.app.screen.query_one(KeyLine)
        assert "by tract" in str(pilot.app.screen.query_one("#status").content)
        await pilot.click(table, offset=(3, 0))
        assert "by level" in str(pilot.app.screen.query_one("#status").content)
        start = 0
        for shown in line.shown:
            if shown.words == "Timeline":
                await pilot.click(line, offset=(start + 1, 0))
                break
            start += shown.width
        await settle(pilot)
        assert isinstance(pilot.app.screen, SeasonScreen)
        await press(pilot, "escape")
        for _ in range(2):
            await pilot.click(table, offset=(3, 2))
        await settle(pilot)
        assert isinstance(pilot.app.screen, StationScreen)
        assert table.cursor_row == 1

    drive(book.app(), steps)


def test_a_click_on_what_was_taken_away_since_it_was_drawn_is_for_nobody(book):
    async def steps(pilot):
        status = pilot.app.screen.query_one("#status")
        at = (1, status.region.y)
        assert pilot.app.get_widget_at(*at)[0] is status
        parent, status._parent = status._parent, None
        for kind in (events.MouseDown, events.MouseUp):
            pilot.app.post_message(kind(None, *at, 0, 0, 1, False, False, False, *at))
        await pilot._wait_for_screen()
        status._parent = parent

    drive(book.app(), steps)
