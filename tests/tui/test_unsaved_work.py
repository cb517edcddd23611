"""What is typed and not saved outlives the program, on every screen where things are entered."""

import os
import pty
import re
import select
import shutil
import signal
import sys
import time
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from textual.widgets import Static

from store.records import Note, Reading
from store.unsaved import UnsavedFile
from store.vocabulary import Cause, LevelMark, WindowKind
from tests.tui.driving import drive, press, settle
from tui.base.unsaved_question import UnsavedQuestion
from tui.check_in.screen import CheckInScreen
from tui.contamination.cause_values import CauseValuesScreen
from tui.event.screen import EventScreen
from tui.overview.screen import OverviewScreen
from tui.season_settings.screen import SeasonSettingsScreen
from tui.site_check.screen import SiteCheckScreen
from tui.station_form.screen import StationForm
from tui.work_day.kit_screen import KitScreen

PATIENCE_S = 20.0


def kept_beside(path):
    return sorted(one.name for one in path.parent.glob(f".{path.name}.unsaved-*"))


async def go_to(pilot, screen):
    await pilot.app.push_screen(screen)
    await settle(pilot)
    return screen


@pytest.fixture(scope="module")
def left_once(made_once, tmp_path_factory):
    """A logbook left with something unsaved on each screen at once."""
    made = made_once({"North": ("Far [saddle]", "Oak flat"), "South": ("Given up", "Rocks")})
    path = tmp_path_factory.mktemp("left") / "book.db"
    book = replace(made, path=Path(shutil.copy(made.path, path)))

    async def steps(pilot):
        app, station = pilot.app, book.ids["Rocks"]
        check_in = await go_to(pilot, CheckInScreen(station))
        check_in.action_mark(LevelMark.HALF.value)
        check_in.action_note()
        await press(pilot, *"ice [on")
        event = await go_to(pilot, EventScreen(station))
        event.action_cause(Cause.DEAD_FISH.value)
        event.action_days_dead()
        await press(pilot, "3")
        form = await go_to(pilot, StationForm(station))
        form.rows["name"].editor.value = "Rocks two"
        form.rows["depth"].editor.value = "30 c"
        new = await go_to(pilot, StationForm())
        new.rows["name"].editor.value = "Pit"
        kit = await go_to(pilot, KitScreen())
        kit.rows["tank_l"].editor.value = "150 L"
        season = await go_to(pilot, SeasonSettingsScreen())
        season._table.action_cursor_down()
        await press(pilot, "enter", "ctrl+u", *"may 1 to")
        site = await go_to(pilot, SiteCheckScreen(station))
        site.action_answer(False)
        await go_to(pilot, CauseValuesScreen(Cause.DYE))
        await press(pilot, "enter", "ctrl+u", "7")
        assert not app.unsaved_work.waiting
        await press(pilot, "ctrl+q")

    drive(book.app(), steps)
    assert len(kept_beside(book.path)) == 1
    assert not book.entries(Reading), "nothing of it was saved"
    return book


@pytest.fixture
def left(left_once, tmp_path):
    folder = shutil.copytree(left_once.path.parent, tmp_path / "left")
    return replace(left_once, path=folder / left_once.path.name)


def test_all_that_was_typed_is_offered_and_shown_again(left):
    """The latest at the start, the others where their screens are opened."""

    async def steps(pilot):
        app, station = pilot.app, left.ids["Rocks"]
        assert isinstance(app.screen, UnsavedQuestion)
        said = " ".join(str(part.content) for part in app.screen.query(Static))
        assert Cause.DYE.value in said
        assert "7 more wait until the screen is opened" in said
        await press(pilot, "y")
        assert isinstance(app.screen, CauseValuesScreen)
        assert app.screen.field.text == "7"
        assert app.focused is app.screen.field.line, "typing goes on where it stopped"
        for opened in (
            CheckInScreen(),
            EventScreen(left.ids["Oak flat"]),
            StationForm(station),
            StationForm(),
            KitScreen(),
            SeasonSettingsScreen(),
            SiteCheckScreen(station),
        ):
            await go_to(pilot, opened)
            assert isinstance(app.screen, UnsavedQuestion), opened
            await press(pilot, "y")
            assert app.screen is opened
            await settle(pilot)
            seen = {
                CheckInScreen: lambda one: (
                    one._sheet.stations[station].mark, one.field.asking, one.field.text
                ) == (LevelMark.HALF, "note", "ice [on"),
                EventScreen: lambda one: (
                    one._sheet.station_id, one._sheet.new_cause, one.field.asking, one.field.text
                ) == (station, Cause.DEAD_FISH, "days dead", "3"),
                StationForm: lambda one: (one.texts["name"], one.texts["depth"]) in (
                    ("Rocks two", "30 c"), ("Pit", "")
                ),
                KitScreen: lambda one: one.texts["tank_l"] == "150 L",
                SeasonSettingsScreen: lambda one: (
                    one.field.text, one._table.here
                ) == ("may 1 to", list(WindowKind)[1].value),
                SiteCheckScreen: lambda one: list(one._answers.values()).count(False) == 1,
            }  # fmt: skip
            assert seen[type(opened)](opened), opened
        assert not app.unsaved_work.waiting
        await press(pilot, "ctrl+q")

    drive(left.app(), steps)
    assert len(kept_beside(left.path)) == 1
    assert len(UnsavedFile(left.path).take_over().unsaved) == 8, "taken up is not saved"


def test_saving_or_dropping_leaves_nothing_kept(book):
    async def type_in(pilot):
        await go_to(pilot, CheckInScreen(book.ids["Rocks"]))
        await press(pilot, "3", "ctrl+q")

    async def later_then_save(pilot):
        assert isinstance(pilot.app.screen, UnsavedQuestion)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, OverviewScreen)
        await go_to(pilot, CheckInScreen())
        await press(pilot, "y")
        await pilot.app.screen.action_save()
        assert not kept_beside(book.path)
        await go_to(pilot, EventScreen(book.ids["Rocks"]))
        pilot.app.screen.action_cause(Cause.DYE.value)
        await pilot.app.unsaved_work.keep()
        assert kept_beside(book.path)
        await press(pilot, "escape", "x")
        await pilot.app.unsaved_work.keep()
        assert not kept_beside(book.path)
        await press(pilot, "ctrl+q")

    drive(book.app(), type_in)
    assert kept_beside(book.path)
    drive(book.app(), later_then_save)
    (reading,) = book.entries(Reading)
    assert reading.fact.mark is LevelMark.THREE_QUARTERS
    assert not kept_beside(book.path)


def test_what_is_about_something_gone_waits_and_can_be_dropped(left):
    damaged = left.path.with_name(f".{left.path.name}.unsaved-0-0.json")
    damaged.write_text("{")

    async def steps(pilot):
        await press(pilot, "x")
        work = pilot.app.unsaved_work
        assert len(work.waiting) == 7
        event = work.waiting_for("event", None)
        event.typed["is_open"] = True
        await go_to(pilot, EventScreen(left.ids["Oak flat"]))
        await press(pilot, "y")
        assert pilot.app.screen._sheet.is_empty
        assert event in work.waiting
        said = [one.message for one in pilot.app._notifications]
        assert any("its event is over" in one for one in said)
        assert any("damaged" in one and ".damaged" in one for one in said)

    drive(left.app(), steps, notifications=True)
    assert damaged.with_name(damaged.name + ".damaged").read_text() == "{"


def test_an_error_nobody_foresaw_keeps_what_was_typed(book, tmp_path, monkeypatch):
    monkeypatch.setattr("tui.failure.platformdirs.user_log_path", lambda _: tmp_path)

    async def steps(pilot):
        await go_to(pilot, CheckInScreen(book.ids["Rocks"]))
        await press(pilot, "2")
        pilot.app.call_later(lambda: 1 / 0)
        await settle(pilot)

    with pytest.raises(ZeroDivisionError):
        drive(book.app(), steps)
    (kept,) = UnsavedFile(book.path).take_over().unsaved
    assert kept.where == "check_in"


def _in_terminal(path):
    """The program in a terminal of its own; gives its pid and the other side of the terminal."""
    child, terminal = pty.fork()
    if child == 0:  # pragma: no cover - the program itself
        os.environ.update(TERM="xterm-256color", COLUMNS="80", LINES="24")
        os.execv(sys.executable, [sys.executable, "-m", "tui", str(path), "--today", "2015-10-01"])
    return child, terminal


def _read_until(terminal, wanted):
    seen, end = "", time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        ready, _, _ = select.select([terminal], [], [], 0.2)
        if ready:
            with suppress(OSError):
                seen += os.read(terminal, 65536).decode(errors="replace")
        if wanted in re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", seen):
            return
    raise AssertionError(f"{wanted!r} was not shown")


@pytest.mark.parametrize("end", [signal.SIGHUP, signal.SIGKILL, None])
def test_a_killed_program_or_closed_terminal_loses_nothing_typed(book, end):
    """None is the terminal that goes away."""
    child, terminal = _in_terminal(book.path)
    try:
        _read_until(terminal, "Rocks")
        os.write(terminal, b"c")
        _read_until(terminal, "Check-in of")
        os.write(terminal, b"\x1b[B" * 2 + b"o")
        _read_until(terminal, "Note")
        os.write(terminal, b"bank wet")
        deadline = time.monotonic() + PATIENCE_S
        if end is signal.SIGKILL:
            while not kept_beside(book.path) and time.monotonic() < deadline:
                time.sleep(0.1)
            time.sleep(1.2)
        else:
            _read_until(terminal, "wet")
    finally:
        if end is None:
            os.close(terminal)
        else:
            os.kill(child, end)
        os.waitpid(child, 0)
        if end is not None:
            os.close(terminal)
    (kept,) = UnsavedFile(book.path).take_over().unsaved
    assert kept.typed["field"] == {"asking": "note", "text": "bank wet"}
    assert not book.entries(Note)


def test_it_ends_though_nobody_reads_its_terminal_any_more(book):
    """A terminal full of what was drawn and not read holds up whoever writes to it."""
    child, terminal = _in_terminal(book.path)
    try:
        _read_until(terminal, "Rocks")
        for _ in range(60):
            os.write(terminal, b"ttt\x1b")
            time.sleep(0.02)
        os.kill(child, signal.SIGHUP)
        end = time.monotonic() + PATIENCE_S
        while not os.waitpid(child, os.WNOHANG)[0]:
            assert time.monotonic() < end, "it still runs"
            time.sleep(0.1)
    finally:
        with suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        os.close(terminal)
