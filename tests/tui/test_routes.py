"""Every door leads somewhere."""

from tests.tui.driving import drive
from tui.base.doors import DOORS
from tui.overview.screen import OverviewScreen
from tui.routes import ROUTES


def test_every_door_has_a_screen_and_every_screen_a_door():
    assert DOORS.keys() == ROUTES.keys()


def test_a_door_opens_its_screen_which_is_left_once(book):
    async def steps(pilot):
        for name in DOORS:
            pilot.app.screen.action_open(name)
            await pilot.pause()
            opened = pilot.app.screen
            assert type(opened) is ROUTES[name], name
            opened.action_back()
            opened.action_back()
            await pilot.pause()
            assert type(pilot.app.screen) is OverviewScreen, name

    drive(book.app(), steps)


def test_leaving_while_a_screen_opens_waits_for_it(book):
    async def steps(pilot):
        for name in ("contamination", "due", "outlook"):
            pilot.app.open_screen(name)
        pilot.app.exit()
        assert pilot.app.is_running
        await pilot.pause()
        assert not pilot.app.is_running

    drive(book.app(), steps)
