"""Saving what is entered, however often the key is pressed."""

import asyncio

from textual.app import App
from textual.screen import Screen

from tests.tui.driving import drive, press
from tui.base.leave_question import EntryScreen, LeaveQuestion


class Entry(EntryScreen):
    """Counts how often it is saved."""

    def __init__(self):
        super().__init__()
        self.count, self.go_on = 0, asyncio.Event()

    def unsaved(self):
        return "what was typed"

    async def saved(self):
        self.count += 1
        await self.go_on.wait()
        return True


def drive_entry(script):
    async def on_screen(pilot):
        below, entry = Screen(), Entry()
        await pilot.app.push_screen(below)
        await pilot.app.push_screen(entry)
        await script(pilot, entry)
        assert pilot.app.screen is below
        assert entry.count == 1

    app = App()
    app.board = None
    drive(app, on_screen)


def test_a_save_under_way_or_over_is_not_begun_again():
    async def script(_, entry):
        saving = [asyncio.create_task(entry.action_save()) for _ in range(3)]
        await asyncio.sleep(0)
        entry.go_on.set()
        await asyncio.gather(*saving)
        await entry.action_save()

    drive_entry(script)


def test_leaving_asks_and_a_late_save_closes_the_question_too():
    async def script(pilot, entry):
        saving = asyncio.create_task(entry.action_save())
        entry.action_back()
        await pilot.pause()
        assert isinstance(pilot.app.screen, LeaveQuestion)
        entry.go_on.set()
        await saving
        await pilot.pause()

    drive_entry(script)


def test_the_answer_to_save_saves_and_leaves():
    async def script(pilot, entry):
        entry.go_on.set()
        entry.action_back()
        await press(pilot, "s")

    drive_entry(script)
