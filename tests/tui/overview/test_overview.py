"""The morning screen, driven by keys on a real logbook."""

import sqlite3
from dataclasses import replace
from datetime import date

from textual.widgets import Input, Static

from store.logbook.journal import undo, write
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.settings import unit_system
from store.records import (
    Chore,
    Contamination,
    Draft,
    RampCheck,
    Reading,
    StationFacts,
    TractFacts,
)
from store.units import UnitSystem
from store.vocabulary import Cause, ChoreKind, LevelMark, PromptKind
from tests.tui.conftest import INSTALLED, TANK
from tests.tui.driving import WIDE, drive, press, settle
from tui.app import BrimbookApp
from tui.check_in.screen import CheckInScreen
from tui.first_steps.screen import FirstStepsScreen
from tui.overview.screen import OverviewScreen, StationTable
from tui.station_form.screen import StationForm

TODAY = date(2015, 10, 1)
FILL_DAY = date(2015, 10, 12)
ODD = "t [/b] \"x\" 'y' 🦌 漢"


def names(pilot):
    """The stations shown, without the lines of tracts over them."""
    table = pilot.app.screen.query_one(StationTable)
    cells = [table.get_row_at(row)[0].plain for row in range(table.row_count)]
    return [cell[1:] for cell in cells if cell.startswith(" ")]


def status(pilot):
    return str(pilot.app.screen.query_one("#status", Static).content)


def test_stations_are_sorted_found_and_shown_by_tract(make_book):
    book = make_book({"North": ("Oak", "Beech"), "South": ("Alder",)})
    oak = book.ids["Oak"]
    book.write(Draft(TODAY, Chore(oak, ChoreKind.DRAIN)))

    async def steps(pilot):
        assert names(pilot) == ["Beech", "Oak", "Alder"]
        await pilot.press("S")
        assert names(pilot)[0] == "Oak", "the lowest level first"
        await pilot.press("g")
        assert names(pilot) == ["Oak", "Beech"]
        assert "North only" in status(pilot)
        await pilot.press("escape", "slash", *"alder", "enter")
        assert names(pilot) == ["Alder"]
        assert "named 'alder'" in status(pilot)
        await pilot.press("escape")
        assert len(names(pilot)) == 3

    drive(book.app(), steps)


def test_an_empty_logbook_says_what_to_do_and_takes_every_key(tmp_path):
    """A field that is not seen must not swallow keys after a screen was closed."""
    path = tmp_path / "book.db"
    create_logbook(path).close()

    async def steps(pilot):
        assert isinstance(pilot.app.screen, FirstStepsScreen)
        await press(pilot, "escape")
        assert pilot.app.screen.query_one("#first-steps").display
        for opens in ("N", "question_mark", "N"):
            await press(pilot, opens)
            assert not isinstance(pilot.app.screen, OverviewScreen)
            await press(pilot, "escape")
            assert isinstance(pilot.app.screen, OverviewScreen)
        await pilot.press("c")
        assert isinstance(pilot.app.screen, OverviewScreen), "no stations, no check-in"
        assert pilot.app.screen.query_one("#filter", Input).value == ""
        await press(pilot, "N")
        assert isinstance(pilot.app.screen, StationForm)

    drive(BrimbookApp(path, today=TODAY), steps)


def test_odd_names_are_shown_as_they_were_typed(make_book):
    book = make_book({"North": (ODD,)})

    async def steps(pilot):
        assert names(pilot) == [ODD]
        assert ODD in str(pilot.app.screen.query_one("#detail", Static).content)

    drive(book.app(), steps, WIDE)


def test_undo_and_redo_from_the_overview(make_book):
    book = make_book({"North": ("Oak",)})
    book.write(Draft(TODAY, Chore(book.ids["Oak"], ChoreKind.RAKE)))

    async def steps(pilot):
        await press(pilot, "u")
        assert not [e for e in book.entries(Chore) if e.fact.chore is ChoreKind.RAKE]
        await press(pilot, "U")
        assert [e for e in book.entries(Chore) if e.fact.chore is ChoreKind.RAKE]

    drive(book.app(), steps)


def test_a_station_undone_elsewhere_while_checking_in_is_let_go(make_book):
    book = make_book({"North": ("Oak",)})

    async def steps(pilot):
        await pilot.press("c", "2")
        assert isinstance(pilot.app.screen, CheckInScreen)
        await press(pilot, "u")
        assert book.entries(Chore), "u does nothing while something is unsaved"
        with logbook_at(book.path, TODAY) as logbook:
            while book.entries(Chore):
                undo(logbook)
        pilot.app.refresh_board()
        await settle(pilot)
        await press(pilot, "S", "enter")

    drive(book.app(), steps)


def test_units_are_kept_and_a_locked_logbook_is_told(make_book):
    book = make_book({"North": ("Oak",)})

    async def steps(pilot):
        await press(pilot, "m")
        with logbook_at(book.path) as logbook:
            assert unit_system(logbook) is UnitSystem.METRIC
        book.path.chmod(0o444)
        await press(pilot, "m")
        told = [notice.message for notice in pilot.app._notifications]
        assert any("read-only" in message for message in told)
        book.path.chmod(0o644)

    drive(book.app(), steps)


def test_what_another_program_wrote_is_seen(make_book):
    book = make_book({"North": ("Oak",)})

    async def steps(pilot):
        assert not pilot.app.session.changed()
        book.write(Draft(TODAY, Chore(book.ids["Oak"], ChoreKind.RAKE)))
        assert pilot.app.session.changed()
        pilot.app._look_for_news()
        await settle(pilot)
        assert not pilot.app.session.changed()
        assert pilot.app.board.snapshot.histories[book.ids["Oak"]].last_rake == TODAY

    drive(book.app(), steps)


def test_a_damaged_logbook_is_told_not_crashed_on(make_book, monkeypatch):
    book = make_book({"North": ("Oak",)})

    async def steps(pilot):
        def torn(*_):
            raise sqlite3.DatabaseError("database disk image is malformed")

        monkeypatch.setattr("tui.session.load", torn)
        pilot.app.refresh_board()
        await settle(pilot)
        told = [notice.message for notice in pilot.app._notifications]
        assert any("malformed" in message for message in told)

    drive(book.app(), steps)


def line(pilot, name):
    table = pilot.app.screen.query_one(StationTable)
    rows = [table.get_row_at(row) for row in range(table.row_count)]
    (found,) = [row for row in rows if row[0].plain.strip() == name]
    return [cell.plain.strip() for cell in found]


def test_the_cursor_steps_over_tracts_and_their_lines_sum_up(make_book):
    book = make_book({"North": ("Oak", "Beech"), "South": ("Alder",)})

    async def steps(pilot):
        table = pilot.app.screen.query_one(StationTable)
        heads = [table.get_row_at(row)[0].plain for row in range(table.row_count)]
        assert heads == ["North", " Beech", " Oak", "South", " Alder"]
        seen = []
        for _ in range(4):
            seen.append(pilot.app.screen.station_id)
            await press(pilot, "down")
        assert seen == [book.ids[name] for name in ("Beech", "Oak", "Alder", "Alder")]
        for _ in range(4):
            await press(pilot, "up")
        assert pilot.app.screen.station_id == book.ids["Beech"]
        table.move_cursor(row=3)
        await press(pilot, "e")
        assert isinstance(pilot.app.screen, OverviewScreen), "a tract is no station"
        await press(pilot, "down")
        assert pilot.app.screen.station_id == book.ids["Alder"]

    drive(book.app(), steps)


def test_what_matters_first_stands_in_the_line_and_above(make_book):
    book = replace(make_book({"North": ("Oak", "Beech"), "South": ("Alder",)}), today=FILL_DAY)
    oak = book.ids["Oak"]
    book.write(
        Draft(FILL_DAY, Reading(oak, mark=LevelMark.DRY)),
        Draft(FILL_DAY, RampCheck(oak, in_place=False)),
        Draft(FILL_DAY, Contamination("e" * 36, book.ids["Alder"], Cause.DYE)),
    )

    async def steps(pilot):
        row = line(pilot, "Oak")
        assert row[2] == "DRY"
        assert row[-1].startswith("!ramp +")
        fills = [one for one in pilot.app.board.prompts[oak] if one.kind is PromptKind.FILL]
        assert fills
        totals = str(pilot.app.screen.query_one("#totals", Static).content)
        assert "fouled" in totals
        assert " lb)" in totals
        assert len(totals) <= 80
        assert line(pilot, "North")[-1].startswith("1 fill, ")

    drive(book.app(), steps)


def test_without_weather_the_list_shows_what_was_read(tmp_path):
    path = tmp_path / "dry.db"
    logbook = create_logbook(path)
    logbook.fixed_today = TODAY
    tract, oak = logbook.new_id(), logbook.new_id()
    write(
        logbook,
        "Set up",
        [
            Draft(TODAY, TractFacts(tract, "North")),
            Draft(TODAY, StationFacts(oak, tract, "Oak", TANK, apron_area_m2=14.0)),
            Draft(INSTALLED, Chore(oak, ChoreKind.INSTALL)),
            Draft(TODAY, Reading(oak, mark=LevelMark.THREE_QUARTERS)),
        ],
    )
    logbook.close()

    async def steps(pilot):
        table = pilot.app.screen.query_one(StationTable)
        assert "3/4" in " ".join(str(cell) for cell in table.get_row_at(0))
        detail = " ".join(str(pilot.app.screen.query_one("#detail", Static).content).split())
        assert "read three quarters, Thu 1 Oct 2015. Oak: North has no weather" in detail

    drive(BrimbookApp(path, today=TODAY), steps)
