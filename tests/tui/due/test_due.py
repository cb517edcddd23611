"""All that is due on one screen, driven by keys."""

from dataclasses import replace
from datetime import date

import pytest
from textual.widgets import Static

from store.records import Chore, Draft, RampCheck, Reading, StationFacts
from store.units import METRIC_UNITS, US_UNITS
from store.vocabulary import ChoreKind, LevelMark
from tests.tui.conftest import TANK
from tests.tui.driving import drive, press, typed
from tui import words
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
        await press(pilot, "w")
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
        assert shown(pilot, "#later").startswith("Later   ")
        assert "April: rake" in shown(pilot, "#later")
        assert "8.34 lb a gallon" not in shown(pilot, "#why")
        await press(pilot, "down")
        while "Fill" not in shown(pilot, "#why"):
            await press(pilot, "down")
        line = pilot.app.screen._here
        load = words.water(line.volume_l, US_UNITS)
        said = " ".join(shown(pilot, "#why").split())
        assert f"Hauling water: {load} before tank and trailer. Stay under" in said
        assert "a gallon" not in said, "the job's own number says it"
        assert said.count("Hauling water") == said.count(" lb") == 1
        await press(pilot, "m")
        said = " ".join(shown(pilot, "#why").split())
        assert f"Hauling water: {words.water(line.volume_l, METRIC_UNITS)} before" in said
        assert " kg before" in said
        assert " lb" not in said
        assert " gal" not in said

    drive(dry_book.app(), steps)


def test_an_install_and_a_cover_taken_off_say_what_open_water_does_to_a_child(book):
    book = replace(book, today=OCTOBER)
    book.write(
        Draft(OCTOBER, StationFacts("n" * 36, book.ids["North"], "New pond", TANK, 14.0)),
        Draft(date(2015, 9, 28), Chore(book.ids["Rocks"], ChoreKind.COVER)),
    )

    async def steps(pilot):
        await press(pilot, "w")
        seen = {}
        for row in cells(pilot):
            said = " ".join(shown(pilot, "#why").split())
            seen[row[-1].lstrip("!*")] = said
            await press(pilot, "down")
        for work in ("Install the tank", "Take the cover off"):
            assert seen[work].count("A small child can drown") == 1, seen
        assert "call 811" in seen["Install the tank"]

    drive(book.app(), steps)


def test_one_key_sorts_by_tract_and_enter_opens_the_station(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "S")
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
        await press(pilot, "w")
        assert shown(pilot, "#nothing").startswith("Nothing is due.")
        assert not pilot.app.screen.query_one(DueTable).display

    drive(book.app(), steps)


def named(pilot, mark):
    """The station and work of the lines with that mark."""
    return [(row[1], row[-1][1:]) for row in cells(pilot) if row[-1].startswith(mark)]


async def to_a_fill(pilot):
    await press(pilot, "w")
    while "Fill" not in shown(pilot, "#why"):
        await press(pilot, "down")


def test_a_fill_is_done_where_it_is_asked_and_undone(dry_book):
    async def steps(pilot):
        await to_a_fill(pilot)
        line = pilot.app.screen._here
        await press(pilot, "y", *"120", "enter")
        assert (line.label, "Fill the tank") not in named(pilot, "*")
        (fill,) = [
            entry.fact
            for entry in pilot.app.board.snapshot.log[line.prompt.station_id]
            if isinstance(entry.fact, Chore) and entry.fact.chore is ChoreKind.FILL
        ]
        assert fill.volume_l == pytest.approx(454.2, abs=0.1)
        await press(pilot, "u")
        assert (line.label, "Fill the tank") in named(pilot, "*")

    drive(dry_book.app(), steps)


def test_put_off_and_declined_it_stands_at_the_end_with_its_reason(dry_book):
    async def steps(pilot):
        await to_a_fill(pilot)
        line = pilot.app.screen._here
        await press(pilot, "p")
        await typed(pilot, "2015-10-12")
        assert "choose a day from tomorrow on" in shown(pilot, "#field .said")
        await press(pilot, "escape", "p")
        await typed(pilot, "2015-10-15")
        assert (line.label, "Fill the tank") in named(pilot, ">")
        (put_off,) = [row for row in cells(pilot) if row[-1] == ">Fill the tank"]
        assert put_off[2] == "15 Oct"
        await press(pilot, "u", "n")
        await typed(pilot, "acorns")
        last = cells(pilot)[-1]
        assert (last[1], last[-1]) == (line.label, "xFill the tank")
        assert "1 fill: " in shown(pilot, "#totals")
        await press(pilot, "end", *["down"] * 20)
        assert "Declined on 12 October 2015: acorns." in shown(pilot, "#why")

    drive(dry_book.app(), steps)


def test_a_danger_is_not_declined_and_what_needs_more_says_where(dry_book):
    async def steps(pilot):
        await press(pilot, "w", "n")
        await typed(pilot, "no")
        assert "it cannot be declined" in shown(pilot, "#field .said")
        await press(pilot, "escape", "y")
        assert not any(work.endswith("escape ramp") for _, work in named(pilot, "!"))
        checks = [row for row in cells(pilot) if "fouled" in row[-1]]
        assert not checks or "enters what was done" in shown(pilot, "#field .said")

    drive(dry_book.app(), steps)
