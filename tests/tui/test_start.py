"""A start has the register on screen before it loads what only a key or the model needs."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tui.routes import UNSAVED_ROUTES

ROOT = Path(__file__).parents[2]
START = """
import asyncio, json, sys, threading
from datetime import date
from pathlib import Path
import tui.cli
from tui.app import BrimbookApp
from tui.session import LogbookSession

path, today = Path(sys.argv[1]), date.fromisoformat(sys.argv[2])
app = BrimbookApp(path, today=today)
boards, found, pressed = LogbookSession.boards, [], threading.Event()

def watched(session, *, at_once):
    for board in boards(session, at_once=at_once):
        yield board
        if not found:
            strips = app.screen._compositor.render_strips()
            found.extend([sorted(sys.modules), [strip.text for strip in strips]])
            pressed.wait(60.0)

LogbookSession.boards = watched

async def run():
    async with app.run_test(size=(80, 24)) as pilot:
        while not found:
            await asyncio.sleep(0.001)
        await pilot.press("enter", "Z")
        found.append([type(screen).__name__ for screen in app.screen_stack[1:]])
        pressed.set()

asyncio.run(run())
print(json.dumps(found))
"""


@pytest.fixture
def before_the_model(book, tmp_path):
    """A program of its own when the model would begin: its modules, the lines on screen, and
    the screens that are open after two keys."""
    done = subprocess.run(
        [sys.executable, "-c", START, str(book.path), str(book.today)],
        cwd=ROOT,
        env=os.environ | {"XDG_CACHE_HOME": str(tmp_path / "cache"), "PYTHONPATH": str(ROOT)},
        check=True,
        capture_output=True,
        text=True,
    )
    return json.loads(done.stdout)


def test_the_register_is_drawn_before_numpy_the_model_and_other_screens_load(before_the_model):
    loaded, lines, _ = before_the_model
    assert any("Rocks" in line for line in lines)
    assert "tui.overview.screen" in loaded
    assert {"numpy", "store.model.levels", "store.model.working_out"}.isdisjoint(loaded)
    screens = {kind.__module__ for kind in UNSAVED_ROUTES.values()}
    assert len(screens) > 15
    assert screens.isdisjoint(loaded)


def test_a_key_pressed_then_loads_its_own_screen_and_is_not_lost(before_the_model):
    *_, opened = before_the_model
    assert opened == ["OverviewScreen", "StationScreen", "LogScreen"]
