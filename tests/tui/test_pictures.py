"""How the screens look, as pictures; the README shows some of them.

Look at a picture before accepting a changed one with --snapshot-update.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from store.logbook.opening import create_logbook, logbook_at, working_copy
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.snapshot import load
from store.model.working_out import board_of
from tests.tui.driving import NARROW, WIDE, Steps, press, settle
from tui.app import BrimbookApp
from tui.themes import LIGHT

DEMO = Path(__file__).parents[2] / "demo.db"
DAY = date(2025, 10, 12)
NEW_ID = "01900000-0000-7000-8000-000000000001"
MEMORY = FilterCache()
"""The stations of the demo, followed once for all pictures."""


@pytest.fixture(scope="module")
def board() -> Board:
    """The board of the demo, worked out once for all pictures: none of them writes."""
    with working_copy(DEMO) as copy, logbook_at(copy, DAY) as logbook:
        return board_of(load(logbook), MEMORY)


@pytest.fixture
def demo(board: Board, monkeypatch: pytest.MonkeyPatch) -> Iterator[BrimbookApp]:
    """The demo; what is new has one id, since an event's draws are seeded by its own."""
    monkeypatch.setattr("tui.session._make_id", lambda _moment: NEW_ID)
    monkeypatch.setattr("store.model.working_out.board_of", lambda *_: board)
    with working_copy(DEMO) as copy:
        app = BrimbookApp(copy, today=DAY)
        app.session.memory = MEMORY
        yield app


def pressing(*keys: str) -> Steps:
    """Wait for the board, press keys one by one, and wait for what they start.

    Cursors then stand still: a slow machine would take the picture between two blinks.
    """

    async def run(pilot: Pilot[None]) -> None:
        await settle(pilot)
        assert pilot.app.board is not None
        for key in keys:
            await press(pilot, key)
        for line in pilot.app.screen.query(Input):
            line.cursor_blink = False

    return run


SCREENS = {
    "overview": (),
    "station": ("down", "enter"),
    "check_in": ("c", "2", "h", "r", "enter"),
    "event": ("down", "down", "down", "e", "1", "x"),
    "due": ("w",),
    "work_day": ("w", "W"),
    "kit": ("w", "W", "F"),
    "season": ("t",),
    "contamination": ("E",),
    "outlook": ("O",),
    "learned": ("down", "down", "down", "enter", "L"),
    "form": ("N",),
    "import": ("I",),
    "windows": ("t", "F"),
    "site": (*["down"] * 6, "enter", "K"),
    "review": ("R", *["down"] * 2),
    "help": ("question_mark",),
}


@pytest.mark.parametrize("screen", SCREENS)
def test_narrow(snap_compare, demo, screen):
    assert snap_compare(demo, terminal_size=NARROW, run_before=pressing(*SCREENS[screen]))


@pytest.mark.parametrize("screen", ["overview", "station", "season"])
def test_wide(snap_compare, demo, screen):
    assert snap_compare(demo, terminal_size=WIDE, run_before=pressing(*SCREENS[screen]))


def test_light(snap_compare, demo):
    async def run(pilot: Pilot[None]) -> None:
        await settle(pilot)
        pilot.app.theme = LIGHT.name
        await settle(pilot)

    assert snap_compare(demo, terminal_size=NARROW, run_before=run)


def test_without_colour(snap_compare, demo, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    bare = BrimbookApp(demo.session.path, today=DAY)
    assert snap_compare(bare, terminal_size=NARROW, run_before=pressing())


def test_empty_logbook(snap_compare, tmp_path):
    create_logbook(tmp_path / "book.db").close()
    app = BrimbookApp(tmp_path / "book.db", today=DAY)
    assert snap_compare(app, terminal_size=NARROW, run_before=pressing("escape"))
