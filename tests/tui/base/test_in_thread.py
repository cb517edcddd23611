"""Work in a thread: shown while it is wanted, dropped when it comes too late."""

import asyncio
import threading

from textual.app import App
from textual.screen import Screen

from store.errors import BadValue
from tests.tui.driving import drive
from tui.base.in_thread import work_out, work_through
from tui.base.open_screens import close


def drive_screen(script):
    async def on_screen(pilot):
        screen = Screen()
        await pilot.app.push_screen(screen)
        await script(pilot, screen)

    drive(App(), on_screen)


async def ended(worker):
    while not worker.is_finished:
        await asyncio.sleep(0.01)


def test_answers_are_shown_as_they_come_and_an_error_ends_them():
    said = []

    def steps():
        yield threading.current_thread() is threading.main_thread()
        raise BadValue("no more")

    async def script(_, screen):
        await ended(work_through(screen, "steps", steps(), said.append, said.append))

    drive_screen(script)
    assert [str(one) for one in said] == ["False", "no more"]


def test_an_answer_that_is_not_wanted_any_more_is_dropped():
    said = []

    async def script(_, screen):
        await ended(work_out(screen, "one", lambda: 1, said.append, said.append, lambda: False))
        await ended(work_out(screen, "one", lambda: 2, said.append, said.append, lambda: True))

    drive_screen(script)
    assert said == [2]


def test_newer_work_of_the_same_name_ends_what_runs():
    said, begun, go_on = [], threading.Event(), threading.Event()

    def slowly():
        begun.set()
        go_on.wait(20)
        return "old"

    async def script(_, screen):
        old = work_out(screen, "work", slowly, said.append, said.append)
        await asyncio.to_thread(begun.wait, 20)
        new = work_out(screen, "work", lambda: "new", said.append, said.append)
        go_on.set()
        await ended(new)
        await ended(old)

    drive_screen(script)
    assert said == ["new"]


def test_what_reaches_a_screen_that_was_left_is_dropped():
    said = []

    async def script(pilot, screen):
        answered = work_out(screen, "work", lambda: "late", said.append, said.append)
        pilot.app._screen_stack.remove(screen)
        await ended(answered)
        pilot.app._screen_stack.append(screen)
        await ended(work_out(screen, "work", lambda: "there", said.append, said.append))

    drive_screen(script)
    assert said == ["there"]


def test_a_screen_is_left_once_with_what_is_open_over_it():
    answers = []

    async def script(pilot, screen):
        asked, over = Screen(), Screen()
        pilot.app.push_screen(asked, answers.append)
        await pilot.app.push_screen(over)
        for _ in range(3):
            close(asked, "yes")
        await pilot.pause()
        assert pilot.app.screen is screen

    drive_screen(script)
    assert answers == ["yes"]


def test_work_that_waits_for_a_pause_is_not_begun_before_it():
    begun, said = [], []

    async def script(_, screen):
        for number in range(3):
            last = work_out(
                screen, "one", lambda n=number: begun.append(n), said.append, said.append,
                after_s=0.05,
            )  # fmt: skip
            await asyncio.sleep(0.005)
        await ended(last)

    drive_screen(script)
    assert begun == [2]
    assert said == [None]
