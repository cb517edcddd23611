"""The outlook, driven by keys, and its drawing."""

import asyncio
import threading
from collections.abc import Callable, Coroutine
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Static
from textual.worker import get_current_worker

from store.logbook.opening import logbook_at
from store.model.board import Board
from store.model.snapshot import load
from store.model.working_out import board_of
from store.records import Chore, Draft, Reading
from store.views.outlook import outlooks, planned_fill
from store.vocabulary import ChoreKind
from tests.tui.conftest import TODAY, Book
from tests.tui.driving import NARROW, WIDE, drive, press
from tui.learned.screen import LearnedScreen
from tui.outlook.screen import OutlookScreen
from tui.outlook.strip import (
    DATE_ROOM,
    LEVEL_ROOM,
    NO_CHANCE,
    dry_bars,
    marked_days,
    spaced,
)
from tui.station.screen import StationScreen
from tui.words import chance

HEAVY_USE_ENDS = date(2015, 11, 10)


@pytest.fixture
def low_book(book: Book) -> Book:
    """One station nearly empty, so that its chances are neither nothing nor certain."""
    book.write(Draft(date(2015, 9, 30), Reading(book.ids["Oak flat"], below_rim_mm=600.0)))
    return book


@pytest.fixture
def board(low_book: Book) -> Board:
    with logbook_at(low_book.path, TODAY) as logbook:
        return board_of(load(logbook))


def drive_outlook(
    book: Book,
    script: Callable[[Pilot[None], OutlookScreen], Coroutine[Any, Any, None]],
    size: tuple[int, int] = NARROW,
) -> None:
    async def on_screen(pilot: Pilot[None]) -> None:
        await press(pilot, "O")
        assert isinstance(pilot.app.screen, OutlookScreen)
        await script(pilot, pilot.app.screen)

    drive(book.app(), on_screen, size)


def said(screen: OutlookScreen, selector: str) -> str:
    return str(screen.query_one(selector, Static).render())


def rows(screen: OutlookScreen) -> list[list[list[str]]]:
    """Every row as cells, every cell as lines."""
    table = screen._table
    return [
        [str(cell).split("\n") for cell in table.get_row_at(index)]
        for index in range(table.row_count)
    ]


def figures(row: list[list[str]], line: int = 0) -> list[str]:
    return [cell[line].strip() for cell in row[1:]]


def expected(board: Board, name: str, until: date, fill_l: float | None = -1.0) -> list[str]:
    """The chances of a station as the store has them; without a fill unless told."""
    facts = board.snapshot.places.find_station(name)
    fills = None
    if fill_l != -1.0:
        fills = {facts.station_id: planned_fill(board.snapshot, facts.station_id, until, fill_l)}
    (found,) = outlooks(board.snapshot, board.levels, until, fills, [facts.station_id])
    return [
        chance(found.hold_chance),
        chance(float(found.dry_chance[-1])),
        chance(found.ever_dry_chance),
    ]


def test_every_station_in_service_has_its_chances_on_a_small_screen(low_book, board):
    async def script(_pilot, screen):
        assert "Outlook to Tue 10 Nov 2015 (end of heavy use)" in said(screen, "#status")
        found = rows(screen)
        assert [row[0] for row in found] == [["Far [saddle]"], ["Oak flat"], ["Rocks"]]
        for row, name in zip(found, ("Far [saddle]", "Oak flat", "Rocks"), strict=True):
            assert figures(row)[:3] == expected(board, name, HEAVY_USE_ENDS)
        table = screen._table
        assert sum(column.width for column in table.columns.values()) + 1 == 80
        strip = said(screen, "#strip")
        assert strip.startswith("Far [saddle], North")
        *drawn, basis = strip.split("\n")
        assert basis.startswith("Heavy use 20 Oct to 10 Nov.")
        assert "396 days of record" in basis
        assert "safe" not in strip.casefold()
        assert all(cell_len(line) <= 78 for line in drawn)
        assert screen.query_one("#strip").region.bottom <= 23

    drive_outlook(low_book, script)


def test_the_last_day_moves_by_weeks_or_is_typed_and_stays_within_a_year(low_book, board):
    async def script(pilot, screen):
        await press(pilot, "right_square_bracket")
        assert "Tue 17 Nov 2015" in said(screen, "#status")
        assert figures(rows(screen)[1])[:3] == expected(board, "Oak flat", date(2015, 11, 17))
        await press(pilot, "d", *"2015-10-20", "enter")
        holds, *_, needed = figures(rows(screen)[1])
        assert holds == "-"
        assert "(" in needed
        assert "end after the chosen day" in said(screen, "#strip")
        await pilot.press("d", "7", "enter")
        assert "'7' is not a date" in said(screen, "#field .said")
        await press(pilot, "escape", *["left_square_bracket"] * 3)
        assert "Fri 2 Oct 2015" in said(screen, "#status")
        assert figures(rows(screen)[0])[-1] == "-"
        await pilot.press("left_square_bracket")
        assert "from tomorrow to a year ahead" in said(screen, "#field .said")

    drive_outlook(low_book, script)


def test_a_fill_stands_beside_the_chances_without_it(low_book, board):
    async def script(pilot, screen):
        without = figures(rows(screen)[1])
        await press(pilot, "down", "f", *"50", "enter")
        row = rows(screen)[1]
        assert row[0] == ["Oak flat", " + 50 gal"]
        assert figures(row) == without
        litres = 50 * 3.785411784
        assert figures(row, 1)[:3] == expected(board, "Oak flat", HEAVY_USE_ENDS, litres)
        assert figures(row, 1)[-1] == "brought 8 Oct"
        assert "with 50 gal:" in said(screen, "#strip")
        await press(pilot, "f", "enter")
        row = rows(screen)[1]
        assert row[0][1] == " + to the rim"
        assert figures(row, 1)[:3] == expected(board, "Oak flat", HEAVY_USE_ENDS, None)
        assert figures(row, 1)[0] != without[0]
        await pilot.press("f", "0", "enter")
        assert "more than 0" in said(screen, "#field .said")
        await pilot.press("escape", "x")
        assert [len(row[0]) for row in rows(screen)] == [1, 1, 1]

    drive_outlook(low_book, script)


def test_sorting_keeps_the_cursor_on_its_station_and_keys_lead_on(low_book, board):
    async def script(pilot, screen):
        await pilot.press("S")
        assert screen.station_id == low_book.ids["Far [saddle]"]
        holds = [figures(row)[0] for row in rows(screen)]
        assert rows(screen)[0][0] == ["Oak flat"]
        assert holds[0] == expected(board, "Oak flat", HEAVY_USE_ENDS)[0]
        await pilot.press("L")
        assert isinstance(pilot.app.screen, LearnedScreen)
        await pilot.press("escape", "enter")
        assert isinstance(pilot.app.screen, StationScreen)
        await pilot.press("O")
        assert pilot.app.screen is screen
        shown = [active for active in screen.active_bindings.values() if active.binding.show]
        assert len({active.binding.action for active in shown}) <= 7
        named = [a.binding for a in screen.active_bindings.values() if a.binding.id is not None]
        assert all(binding.tooltip for binding in named)

    drive_outlook(low_book, script)


def test_a_station_without_a_level_says_why_and_a_wide_screen_names_tracts(book):
    book.write(Draft(TODAY, Chore(book.ids["Rocks"], ChoreKind.RETIRE)))

    async def script(pilot, screen):
        found = rows(screen)
        assert [row[0] for row in found] == [["Far [saddle]"], ["Oak flat"]]
        assert [row[1] for row in found] == [["North"], ["North"]]
        assert sum(column.width for column in screen._table.columns.values()) + 1 == 140
        await press(pilot, "m")
        headings = [str(column.label) for column in screen._table.columns.values()]
        assert headings[-1].strip() == "L to fill on 8 Oct"

    drive_outlook(book, script, WIDE)


def test_leaving_ends_the_work(low_book, monkeypatch):
    going, asked = threading.Event(), []

    def endless(*_args):
        going.wait(5)
        asked.append(get_current_worker().is_cancelled)
        yield from ()

    monkeypatch.setattr("tui.outlook.screen.outlooks", endless)

    async def steps(pilot: Pilot[None]) -> None:
        await pilot.press("O", "escape")
        going.set()
        await pilot.pause()
        while not asked:
            await asyncio.sleep(0.01)

    drive(low_book.app(), steps)
    assert asked == [True]


def test_chances_are_never_told_as_certain():
    assert [chance(share) for share in (0.0, 0.004, 0.006, 0.5, 0.994, 1.0, None)] == [
        *("<1%", "<1%", "1%", "50%", "99%", ">99%", "-"),
    ]


def test_bars_rise_with_the_chance_and_show_the_worst_day_of_a_column():
    assert dry_bars(np.array([0.0, 0.01, 0.5, 1.0]), 4, 1) == [f"{NO_CHANCE}▁▄█"]
    assert dry_bars(np.array([0.0, 0.5, 1.0, 0.0]), 2, 2) == [" █", "██"]
    assert dry_bars(np.array([0.5]), 3, 2) == ["   ", "███"]


@pytest.mark.parametrize("days", [1, 2, 29, 70, 71, 366])
@pytest.mark.parametrize("width", [LEVEL_ROOM, 70, 130])
def test_marks_begin_tomorrow_end_on_the_last_day_and_never_overlap(days, width):
    first = date(2015, 10, 2)
    dates = marked_days(first, days, width)
    for marks, room in ((dates, DATE_ROOM), (spaced(dates, width, LEVEL_ROOM), LEVEL_ROOM)):
        assert (marks[0], marks[-1][1]) == ((0, 0), days - 1)
        assert set(marks) <= set(dates)
        begins = [column for column, _ in marks[:-1]]
        assert all(after - before >= room for before, after in pairwise(begins))
        assert len(marks) < 3 or begins[-1] + room <= width - room
    between = [first + timedelta(days=day) for _, day in dates[1:-1]]
    assert all((day - first).days % 7 == 0 if days <= 70 else day.day == 1 for day in between)
    assert between or width < 70 or days < 29
