"""Every screen in plain characters, without colours and resized: one walk through all."""

from collections.abc import Awaitable, Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import DataTable

from store.logbook.opening import logbook_at, working_copy
from store.model.board import Board
from store.model.snapshot import load
from store.model.working_out import board_of
from tests.tui.driving import drive, resize, settle
from tui.app import BrimbookApp
from tui.base.board_screen import BoardScreen
from tui.base.doors import DOORS
from tui.base.key_line import KeyLine
from tui.kept import kept_results
from tui.widgets.signs import Signs

DEMO = Path(__file__).parents[2] / "demo.db"
DAY = date(2025, 10, 12)
FOULED = "Quarry rim"
SIZES = ((60, 20), (130, 40), (80, 24))


@pytest.fixture(scope="module")
def board() -> Board:
    with working_copy(DEMO) as copy, logbook_at(copy, DAY) as logbook:
        return board_of(load(logbook), kept_results())


@pytest.fixture
def plain_demo(board: Board, monkeypatch: pytest.MonkeyPatch) -> Iterator[BrimbookApp]:
    """The demo in plain characters and no colours; nothing is worked out anew or written."""
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setattr("store.model.working_out.board_of", lambda *_: board)
    with working_copy(DEMO) as copy:
        yield BrimbookApp(copy, today=DAY, signs=Signs.PLAIN)


def shown(pilot: Pilot[None]) -> list[str]:
    """The lines of the screen as the terminal gets them."""
    return [strip.text for strip in pilot.app.screen._compositor.render_strips()]


async def through_all(pilot: Pilot[None], look: Callable[[str], Awaitable[None]]) -> None:
    """Open every screen on a fouled station, look, and go back."""
    app = pilot.app
    assert isinstance(app, BrimbookApp)
    assert app.board is not None
    here = app.board.snapshot.places.find_station(FOULED).station_id
    await look("overview")
    for name, door in DOORS.items():
        app.open_screen(name, *([here] if door.takes_station else []))
        await settle(pilot)
        assert isinstance(app.screen, BoardScreen)
        await look(name)
        app.screen.action_back()
        await settle(pilot)
    for name, open_it in (("help", app.action_help), ("palette", app.action_command_palette)):
        open_it()
        await settle(pilot)
        await look(name)
        app.pop_screen()
        await settle(pilot)


def test_every_screen_is_ascii_in_plain_characters_and_takes_another_size(plain_demo):
    seen: dict[str, str] = {}
    cursors: list[str] = []

    async def steps(pilot: Pilot[None]) -> None:
        async def look(name: str) -> None:
            lines = shown(pilot)
            wrong = {one for line in lines for one in line if not one.isascii()}
            assert not wrong, f"{name}: {wrong}"
            seen[name] = "\n".join(lines)
            table = pilot.app.focused
            if isinstance(table, DataTable) and table.row_count:
                row = table.content_region.y + table.header_height + table.cursor_row
                (strip,) = pilot.app.screen._compositor.render_strips()[row : row + 1]
                words = [part.style for part in strip if part.text.strip("# :")]
                assert all(style and style.reverse for style in words), f"{name}: no cursor"
                other = 2 if name == "overview" else int(not table.cursor_row)
                if table.row_count > other:
                    await pilot.click(table, offset=(4, table.header_height + other))
                    assert table.cursor_row == other, f"{name}: the click chose no row"
                cursors.append(name)
            width, height = SIZES[len(seen) % len(SIZES)]
            await resize(pilot, width, height)
            strips = pilot.app.screen._compositor.render_strips()
            assert len(strips) == height, name
            assert {strip.cell_length for strip in strips} == {width}, name
            for line in pilot.app.screen.query(KeyLine):
                assert line.region.bottom == height, name
                assert strips[-1].text.strip(), name
                assert sum(one.width for one in line.shown) <= 80, f"{name}: keys are cut"

        await through_all(pilot, look)

    drive(plain_demo, steps)
    assert {"overview", "due", "outlook", "contamination", "review"} <= {*cursors}
    assert "###" in seen["overview"], "the gauges are drawn"
    assert ":::" in seen["station"], "the band is drawn"
    assert "xxxx" in seen["season"], "the fouled stretches are drawn"
