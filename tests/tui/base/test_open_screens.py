"""Leaving screens: once, whole, and with what is open over them."""

from textual.app import App
from textual.containers import Vertical
from textual.screen import Screen
from textual.widgets import Label

from tests.tui.driving import drive
from tui.base.open_screens import close, is_open


class Nested(Screen):
    """Looks for its part when it is mounted."""

    found = False

    def compose(self):
        with Vertical(), Vertical():
            yield Label("x", id="part")

    def on_mount(self):
        self.found = bool(self.query_one("#part"))


def drive_app(script):
    drive(App(), script)


def test_a_screen_left_at_once_is_put_together_first():
    async def script(pilot):
        screen = Nested()
        pilot.app.push_screen(screen)
        close(screen)
        assert is_open(screen)
        await pilot.pause()
        assert screen.found
        assert not is_open(screen)

    drive_app(script)


def test_a_screen_waits_to_be_left_for_the_one_that_opens_over_it():
    async def script(pilot):
        below, screen, over = pilot.app.screen, Screen(), Nested()
        await pilot.app.push_screen(screen)
        pilot.app.push_screen(over)
        close(screen)
        close(screen)
        await pilot.pause()
        assert over.found
        assert pilot.app.screen is below

    drive_app(script)
