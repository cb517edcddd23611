"""What is pasted may come from anywhere."""

from textual import events
from textual.widgets import Input

from tests.tui.driving import drive, press, settle


def test_a_paste_does_not_steer_the_terminal(book):
    async def steps(pilot):
        await press(pilot, "slash")
        pilot.app.post_message(events.Paste("Oak\x1b[2J\x07"))
        await settle(pilot)
        assert pilot.app.screen.query_one(Input).value == "Oak\ufffd[2J\ufffd"

    drive(book.app(), steps)
