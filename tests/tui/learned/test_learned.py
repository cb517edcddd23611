"""What a station taught, driven by keys."""

from collections.abc import Callable, Coroutine
from datetime import date
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from store.logbook.opening import logbook_at
from store.model.snapshot import load
from store.model.working_out import board_of
from store.records import Draft, Reading
from store.units import US_UNITS
from store.views.budget import LINES, station_budget
from store.views.learned import learned_lines
from store.vocabulary import LevelMark
from tests.tui.conftest import INSTALLED, TODAY, Book
from tests.tui.driving import NARROW, drive, press
from tui.learned.screen import LearnedScreen


@pytest.fixture
def read_book(book: Book) -> Book:
    """Readings at one station, the last one hardly possible."""
    oak = book.ids["Oak flat"]
    book.write(
        *(
            Draft(date(2015, month, 20), Reading(oak, below_rim_mm=depth_mm))
            for month, depth_mm in ((6, 40.0), (7, 260.0), (8, 330.0))
        ),
        Draft(date(2015, 9, 10), Reading(oak, below_rim_mm=60.0)),
        Draft(date(2015, 9, 11), Reading(oak, mark=LevelMark.DRY)),
    )
    return book


def drive_learned(
    book: Book,
    script: Callable[[Pilot[None], LearnedScreen], Coroutine[Any, Any, None]],
    size: tuple[int, int] = NARROW,
) -> None:
    async def on_screen(pilot: Pilot[None]) -> None:
        await press(pilot, "down", "enter", "L")
        assert isinstance(pilot.app.screen, LearnedScreen)
        await script(pilot, pilot.app.screen)

    drive(book.app(), on_screen, size)


def said(screen: LearnedScreen) -> str:
    """All the screen tells, as drawn, in one line of words."""
    strips = screen.query_one("#told").app.screen._compositor.render_strips()
    text = " ".join("".join(segment.text for segment in strip) for strip in strips)
    return " ".join(text.split())


def test_lessons_doubts_and_budget_stand_on_a_small_screen(read_book):
    with logbook_at(read_book.path, TODAY) as logbook:
        board = board_of(load(logbook))
    oak = read_book.ids["Oak flat"]
    learned, doubted = learned_lines(board.snapshot, board.levels, oak)
    budget = station_budget(board.levels, oak, INSTALLED, TODAY)
    assert doubted

    async def script(_pilot, screen):
        text = said(screen)
        for one in (*learned, *doubted):
            assert one.text in text
        assert any(lesson.taught_on is not None for lesson in learned)
        assert "11 Sep 2015 ! Read dry" in text
        assert "this year so far 5 May 2015 to 1 Oct 2015" in text
        for name, field in LINES:
            shown = round(US_UNITS.volume(getattr(budget, field)), 1) + 0.0
            assert f"{name} {shown:.1f}" in text

    drive_learned(read_book, script, (80, 30))


def test_keys_change_the_days_of_the_budget_the_units_and_the_station(read_book):
    async def script(pilot, screen):
        await press(pilot, "Y")
        assert "the last 30 days 2 Sep 2015 to 1 Oct 2015" in said(screen)
        assert "all in gal" in said(screen)
        await press(pilot, "Y")
        assert "no budget for last year; choose another" in said(screen)
        await press(pilot, "Y", "m")
        assert "all in L" in said(screen)
        await press(pilot, "full_stop")
        heading = str(screen.query_one("#heading", Static).render())
        assert heading.startswith("Given up   South   3 of 4")
        assert "ook" not in str(screen.query_one("#look", Static).render())
        await press(pilot, "comma", "comma")
        assert "Far [saddle]" in said(screen)
        assert "No reading is doubted." in said(screen)
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, LearnedScreen)

    drive_learned(read_book, script)
