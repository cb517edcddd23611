"""Lists that are drawn anew, or have no room, while keys and clicks come in."""

import pytest
from rich.style import Style
from textual import events
from textual.app import App
from textual.command import CommandList

from tests.tui.driving import drive, press, settle
from tui.base.steady_list import SteadyList

AT = (1, 1, 0, 0, 1, False, False, False, 1, 1)
"""Where a click lands, and how."""


class Lists(App):
    def __init__(self):
        super().__init__()
        self.heard = []

    def compose(self):
        yield SteadyList("one", "two")

    def on_option_list_option_selected(self, message):
        self.heard.append(message.option_index)


@pytest.mark.parametrize(("option", "heard"), [(1, [1]), (2, []), (9, [])])
def test_a_click_on_a_line_that_is_gone_by_now_is_for_nobody(option, heard):
    app = Lists()

    async def steps(pilot):
        where = app.query_one(SteadyList)
        where.post_message(events.Click(where, *AT, style=Style(meta={"option": option})))
        await settle(pilot)

    drive(app, steps)
    assert app.heard == heard


def test_a_list_without_room_is_not_paged():
    app = Lists()

    async def steps(pilot):
        where = app.query_one(SteadyList)
        where.focus()
        where.styles.height = 0
        where.clear_options().add_options(["one", "two"])
        where.highlighted = 1
        await press(pilot, "pagedown", "pageup")
        assert where.highlighted == 1

    drive(app, steps)


def test_the_palette_is_left_once(book):
    async def steps(pilot):
        pilot.app.action_command_palette()
        await pilot.pause()
        palette = pilot.app.screen
        for _ in range(3):
            palette.dismiss()
        await pilot.pause()
        assert len(pilot.app.screen_stack) == 2
        assert palette not in pilot.app.screen_stack

    drive(book.app(), steps)


def test_the_palette_takes_pages_and_clicks_while_nothing_is_found(book):
    async def steps(pilot):
        pilot.app.action_command_palette()
        pilot.app.action_command_palette()
        await pilot.pause()
        await press(pilot, "pagedown", "pageup", "z", "pagedown", "backspace", "pageup")
        gone = events.Click(None, *AT, style=Style(meta={"option": 999}))
        pilot.app.screen.query_one(CommandList).post_message(gone)
        await press(pilot, "escape")
        assert len(pilot.app.screen_stack) == 2

    drive(book.app(), steps)
