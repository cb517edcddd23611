"""All that is due on one screen, driven by keys."""

from dataclasses import replace
from datetime import date

import pytest
from textual.widgets import Static

from store.records import Chore, Draft, RampCheck, Reading
from store.vocabulary import ChoreKind, LevelMark
from tests.tui.driving import drive, press
from tui.due.screen import DueScreen, DueTable
from tui.station.screen import StationScreen

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
    table = pilot.app.screen.query_one(DueTable)
    return [
        [cell.plain.strip() for cell in table.get_row_at(row)] for row in range(table.row_count)
    ]


def test_what_is_due_stands_with_its_water(dry_book):
    async def steps(pilot):
        await press(pilot, "d")
        assert isinstance(pilot.app.screen, DueScreen)
        rows = cells(pilot)
        assert rows[0][-1] == "!See to the escape ramp", "danger comes first"
        fills = [row for row in rows if row[-1].endswith("Fill the tank")]
        assert len(fills) == 2
        for row in fills:
            gallons, pounds = (float(cell.replace(",", "")) for cell in row[3:5])
            assert gallons > 20.0
            assert pounds == pytest.approx(8.34 * gallons, rel=0.02)
        assert "2 fills: " in shown(pilot, "#totals")
        assert "8.34 lb a gallon" not in shown(pilot, "#why")
        await press(pilot, "down")
        while "Fill" not in shown(pilot, "#why"):
            await press(pilot, "down")
        assert "8.34 lb a gallon" in shown(pilot, "#why")

    drive(dry_book.app(), steps)


def test_one_key_sorts_by_tract_and_enter_opens_the_station(dry_book):
    async def steps(pilot):
        await press(pilot, "d", "s")
        assert shown(pilot, "#totals").startswith("by tract")
        tracts = [row[0] for row in cells(pilot)]
        assert tracts == sorted(tracts)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, StationScreen)
        await press(pilot, "escape", "m")
        assert " kg" in shown(pilot, "#totals")
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, DueScreen)

    drive(dry_book.app(), steps)


def test_nothing_due_says_where_to_look(book):
    for name in ("Far [saddle]", "Oak flat", "Rocks"):
        book.write(Draft(book.today, Chore(book.ids[name], ChoreKind.RETIRE)))

    async def steps(pilot):
        await press(pilot, "d")
        assert shown(pilot, "#nothing").startswith("Nothing is due.")
        assert not pilot.app.screen.query_one(DueTable).display

    drive(book.app(), steps)
