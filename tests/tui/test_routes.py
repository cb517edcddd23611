"""Every door leads somewhere."""

import asyncio

import pytest

from tui.app import BrimbookApp
from tui.base.doors import DOORS
from tui.overview.screen import OverviewScreen
from tui.routes import ROUTES


def test_every_door_has_a_screen_and_every_screen_a_door():
    assert DOORS.keys() == ROUTES.keys()


@pytest.mark.parametrize("name", DOORS)
def test_a_door_opens_its_screen_which_is_left_once(book, name):
    async def run():
        app = BrimbookApp(book.path, today=book.today)
        async with app.run_test() as pilot:
            await app.workers.wait_for_complete()
            await pilot.pause()
            app.screen.action_open(name)
            await pilot.pause()
            opened = app.screen
            assert type(opened) is ROUTES[name]
            opened.action_back()
            opened.action_back()
            await pilot.pause()
            assert type(app.screen) is OverviewScreen

    asyncio.run(run())
