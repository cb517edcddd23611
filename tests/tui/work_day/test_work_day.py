"""A day of work planned by keys, at 80 by 24."""

from dataclasses import replace
from datetime import date

import pytest
from textual.widgets import Static

from store.logbook.opening import create_logbook, logbook_at
from store.logbook.settings import keep_setting
from store.model.work_kit import SETTING, WorkKit, work_kit
from store.records import Draft, RampCheck, Reading
from store.vocabulary import LevelMark
from tests.tui.driving import drive, press, settle
from tui.app import BrimbookApp
from tui.due.screen import DueScreen
from tui.station.screen import StationScreen
from tui.work_day.keys import WorkTable
from tui.work_day.kit_screen import KitScreen
from tui.work_day.screen import WorkDayScreen

OCTOBER = date(2015, 10, 12)


@pytest.fixture
def dry_book(book):
    """Two tanks read dry in the fill window, one of them with its ramp gone."""
    book = replace(book, today=OCTOBER)
    oak = book.ids["Oak flat"]
    book.write(
        Draft(OCTOBER, Reading(oak, mark=LevelMark.DRY)),
        Draft(OCTOBER, Reading(book.ids["Rocks"], mark=LevelMark.DRY)),
        Draft(OCTOBER, RampCheck(oak, in_place=False)),
    )
    return book


def shown(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).render())


def cells(pilot):
    table = pilot.app.screen.query_one(WorkTable)
    return [
        [cell.plain.strip() for cell in table.get_row_at(row)] for row in range(table.row_count)
    ]


async def type_in(pilot, key, text):
    """Open the field by a key and enter a text in one go."""
    await press(pilot, key)
    pilot.app.screen.field.line.value = text
    await press(pilot, "enter")


async def go_to(pilot, stop):
    """Move the cursor from the top down to a stop."""
    await press(pilot, "ctrl+home")
    for _ in range(pilot.app.screen.query_one(WorkTable).row_count):
        if stop in shown(pilot, "#strip"):
            return
        await press(pilot, "down")
    raise AssertionError(f"no row is about {stop}")


def stops(pilot):
    return {row[1] for row in cells(pilot) if "Fill" in row[-1] or "escape ramp" in row[-1]}


def test_the_day_opens_from_due_with_loads_weights_hours_and_chances(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W")
        assert isinstance(pilot.app.screen, WorkDayScreen)
        assert stops(pilot) == {"Oak flat", "Rocks"}
        loads = [row for row in cells(pilot) if row[-1].startswith("Take on")]
        for row in loads:
            assert 0.0 < float(row[2]) <= 45.0
            assert float(row[3]) <= 507.0
        status = shown(pilot, "#status")
        assert "Mon 12 Oct 2015   2 stops" in status
        assert f"in {len(loads)} loads" in status
        assert "of 507 lb" in status
        assert "an assumed kit: heaviest load 419 of 507 lb" in status
        fill = next(row for row in cells(pilot) if "Fill" in row[-1])
        before, after = (float(part.strip("<>% ")) for part in fill[4].split(" to "))
        assert before < after
        notes = shown(pilot, "#notes")
        assert "No coordinates are known" in notes
        heaviest = max(float(row[2]) for row in loads)
        assert notes.startswith(f"Hauling water: {heaviest:.0f} gal, ")
        assert notes.count("Hauling water: ") == 1
        assert "Hauling" not in shown(pilot, "#strip")
        assert "Towing: " in notes
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, DueScreen)

    drive(dry_book.app(), steps)


def test_limits_leave_stops_out_and_say_why(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W", "J", "0", "enter")
        assert "At most 0 loads" in shown(pilot, "#status")
        assert stops(pilot) == set()
        assert "Not done: With Rocks besides, the day would take" in shown(pilot, "#notes")
        await type_in(pilot, "J", "2.5")
        assert "whole number" in shown(pilot, ".said")
        await press(pilot, "escape")
        await type_in(pilot, "J", "")
        assert "No limits" in shown(pilot, "#status")
        await type_in(pilot, "H", "1.5")
        await press(pilot, "m")
        assert "of 230 kg" in shown(pilot, "#status")
        await type_in(pilot, "G", "200")
        assert "At most 1.5 hours, 200 L" in shown(pilot, "#status")
        assert "instead of" in shown(pilot, "#notes")

    drive(dry_book.app(), steps)


def test_the_day_can_be_chosen_and_is_never_past(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W", "[")
        assert "Mon 12 Oct 2015" in shown(pilot, "#status")
        await press(pilot, "]", "]")
        assert "Wed 14 Oct 2015" in shown(pilot, "#status")
        await type_in(pilot, "d", "2015-10-01")
        assert "2015-10-01 is past" in shown(pilot, ".said")
        await press(pilot, "escape")
        await type_in(pilot, "d", "2015-10-25")
        assert "Sun 25 Oct 2015" in shown(pilot, "#status")
        assert "quiet weeks" in shown(pilot, "#notes")

    drive(dry_book.app(), steps)


def test_a_stop_can_be_left_out_and_taken_in_again(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W")
        await go_to(pilot, "Rocks, South")
        await press(pilot, "x")
        assert stops(pilot) == {"Oak flat"}
        assert "Left out by you: Rocks" in shown(pilot, "#notes")
        await press(pilot, "X")
        assert stops(pilot) == {"Oak flat", "Rocks"}
        await go_to(pilot, "Oak flat, North")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, StationScreen)

    drive(dry_book.app(), steps)


def test_the_sheet_is_written_and_never_over_a_file_unasked(dry_book, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    there = tmp_path / "sheet-2015-10-12.html"
    there.write_text("mine")

    async def steps(pilot):
        await press(pilot, "w", "W", "f2", "enter")
        assert there.read_text() == "mine"
        assert "exists; Enter again writes over it" in shown(pilot, ".said")
        await press(pilot, "enter")
        assert "Work on 12 October 2015" in there.read_text()
        await type_in(pilot, "f2", "no/where.html")
        assert "cannot be written" in shown(pilot, ".said")

    drive(dry_book.app(), steps)


def test_what_is_hauled_with_is_typed_once_and_kept(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W", "F")
        assert isinstance(pilot.app.screen, KitScreen)
        assert "assumed; put in your own" in shown(pilot, "#status")
        await press(pilot, "tab", "tab", "ctrl+u", "0")
        assert "! The payload must be more than 0" in shown(pilot, "#row-payload_kg .said")
        await press(pilot, "tab", "ctrl+u", "tab", "ctrl+u", *"2 m", "f2")
        assert "Hauling tank is empty" in shown(pilot, "#row-tank_l .said")
        assert "'2 m' is not a number of lb, kg" in shown(pilot, "#row-tank_kg .said")
        assert pilot.app.screen.focused is pilot.app.screen.rows["payload_kg"].editor
        await press(pilot, "tab", "tab", "ctrl+u", *"9 kg", "shift+tab", "shift+tab", "f2")
        assert isinstance(pilot.app.screen, KitScreen), "nothing wrong is kept"
        await press(pilot, "ctrl+u", *"900", "tab", "ctrl+u", *"100 gal", "f2")
        assert isinstance(pilot.app.screen, WorkDayScreen)
        assert "of 900 lb" in shown(pilot, "#status")
        assert "your kit: heaviest load" in shown(pilot, "#status")
        await press(pilot, "u")
        assert "an assumed kit" in shown(pilot, "#status")
        await press(pilot, "U")
        assert "of 900 lb" in shown(pilot, "#status")

    drive(dry_book.app(), steps)
    with logbook_at(dry_book.path) as logbook:
        kit = work_kit(logbook)
    assert kit.payload_kg == pytest.approx(900.0 * 0.45359237)
    assert kit.tank_l == pytest.approx(378.5411784)
    assert kit.tank_kg == 9.0, "typed in another unit than the one shown"
    assert kit.pump_l_per_min == WorkKit().pump_l_per_min, "to the last bit"


def test_leaving_the_kit_unchanged_asks_nothing(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "W", "F", "escape")
        assert isinstance(pilot.app.screen, WorkDayScreen)
        await press(pilot, "F", "tab", *"x", "escape")
        assert not isinstance(pilot.app.screen, WorkDayScreen)
        await press(pilot, "x")
        assert isinstance(pilot.app.screen, WorkDayScreen)

    drive(dry_book.app(), steps)


def test_a_kit_spoilt_by_another_program_is_said_and_can_be_entered_again(dry_book):
    with logbook_at(dry_book.path) as logbook:
        keep_setting(logbook, SETTING, '{"payload_kg": -1}')

    async def steps(pilot):
        await press(pilot, "w", "W")
        assert "! What the logbook keeps of your vehicle" in shown(pilot, "#status")
        await press(pilot, "F", "f2")
        assert "your kit: " in shown(pilot, "#status")

    drive(dry_book.app(), steps)


def test_an_empty_logbook_has_nothing_to_do(tmp_path):
    async def steps(pilot):
        pilot.app.screen.action_open("work_day")
        await settle(pilot)
        assert "0 stops" in shown(pilot, "#status")
        assert "Nothing is due" in shown(pilot, "#strip")
        await press(pilot, "x", "X", "]", "enter")
        assert isinstance(pilot.app.screen, WorkDayScreen)

    create_logbook(tmp_path / "empty.db").close()
    drive(BrimbookApp(tmp_path / "empty.db", today=OCTOBER), steps)
