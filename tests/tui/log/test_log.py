"""The whole log: finding, reading, taking back, and correcting at the station."""

from datetime import date

import pytest
from textual.widgets import Input, OptionList, Static

from store.records import Draft, GaugeReading, Note, Reading
from store.units import US_UNITS
from tests.tui.driving import drive, press
from tui.base.correction import CorrectionScreen
from tui.log.screen import LogScreen
from tui.log.words import row
from tui.station.screen import StationScreen
from tui.widgets.line_list import LineList

LONG = "Wasps [b] nest under the rim. " + "word " * 120 + "END"


@pytest.fixture
def logged(book):
    oak, rocks = book.ids["Oak flat"], book.ids["Rocks"]
    book.write(
        Draft(date(2015, 6, 20), Reading(oak, 457.2)),
        Draft(date(2015, 7, 1), Note(rocks, LONG)),
        Draft(date(2015, 7, 2), Note(oak, "Two does at dusk")),
    )
    return book


def said(screen, selector):
    return str(screen.query_one(selector, Static).render())


async def find(pilot, words):
    await press(pilot, "slash")
    pilot.app.screen.query_one("#find", Input).value = words
    await press(pilot, "enter")


def test_words_are_found_read_whole_and_taken_back(logged):
    async def steps(pilot):
        await press(pilot, "Z")
        screen = pilot.app.screen
        assert type(screen) is LogScreen
        assert "Log of all stations" in said(screen, "#status")
        await find(pilot, "wasp")
        assert "1 of " in said(screen, "#status")
        assert said(screen, "#entry").endswith("END")
        await press(pilot, "Z")
        assert not screen.query_one(LineList).display
        await press(pilot, "escape", "asterisk")
        assert screen.query_one(LineList).display
        assert "Log of Rocks: 1 of " in said(screen, "#status")
        await press(pilot, "x", "enter")
        assert "0 of " in said(screen, "#status")
        assert said(screen, "#entry") == "Nothing has that."
        await press(pilot, "u")
        assert "1 of " in said(screen, "#status")
        await press(pilot, "escape", "escape")
        assert type(pilot.app.screen) is not LogScreen

    drive(logged.app(), steps)


def test_an_entry_leads_to_its_station_and_is_corrected_there(logged):
    async def steps(pilot):
        await press(pilot, "Z")
        await find(pilot, "oak level read")
        await press(pilot, "enter")
        station = pilot.app.screen
        assert type(station) is StationScreen
        assert station._chart.cursor_day == date(2015, 6, 20)
        log = station.query_one("#log", OptionList)
        assert "18.0 in" in str(log.get_option_at_index(log.highlighted).prompt)
        await press(pilot, "enter")
        screen = pilot.app.screen
        assert type(screen) is CorrectionScreen
        assert "never corrected" in said(screen, "#history")
        level = screen.query_one("#row-level")
        assert level.editor.has_focus
        level.editor.value = "45 in"
        await press(pilot, "enter")
        assert pilot.app.screen is screen, "it is deeper than the tank"
        level.editor.value = "16 in"
        await press(pilot, "enter")
        assert pilot.app.screen is station
        assert "16.0 in" in str(log.get_option_at_index(log.highlighted).prompt)
        await press(pilot, "enter")
        history = said(pilot.app.screen, "#history")
        assert "18.0 in below the rim   until " in history
        assert history.endswith("as it stands now")
        pilot.app.screen.query_one("#row-level").editor.value = "-1"
        await press(pilot, "f2")
        assert "cannot be above it" in said(pilot.app.screen, "#row-level .said")
        await press(pilot, "escape", "x")
        assert pilot.app.screen is station
        await press(pilot, "u")
        assert [entry.fact.below_rim_mm for entry in logged.entries(Reading)] == [457.2]

    drive(logged.app(), steps)


def test_a_line_says_as_much_as_there_is_room_for(logged):
    async def steps(pilot):
        await press(pilot, "Z")
        screen = pilot.app.screen
        for width in (78, 138):
            lines = [row(one, width, US_UNITS, of_all=True) for one in screen._found]
            assert max(line.cell_len for line in lines) == width
            assert all("Rocks" in line.plain for line in lines if "Wasps" in line.plain)

    drive(logged.app(), steps)


def test_a_rain_gauge_stands_in_the_log_of_all_and_is_corrected_and_withdrawn(logged):
    north = logged.ids["North"]
    day = date(2015, 9, 30)
    logged.write(Draft(day, GaugeReading(north, 25.4)))

    async def steps(pilot):
        await press(pilot, "Z")
        log = pilot.app.screen
        await find(pilot, "rain gauge")
        assert said(log, "#entry").startswith("North   Wed 30 Sep 2015")
        assert said(log, "#entry").endswith("Rain gauge read, 1.00 in")
        await press(pilot, "enter")
        assert pilot.app.screen is log, "a gauge has no page of a station"
        await press(pilot, "semicolon")
        assert type(pilot.app.screen) is CorrectionScreen
        pilot.app.screen.rows["rain"].editor.value = "12 mm"
        await press(pilot, "enter")
        assert said(log, "#entry").endswith("Rain gauge read, 0.47 in")
        await press(pilot, "semicolon")
        assert "1.00 in   until " in said(pilot.app.screen, "#history")
        pilot.app.screen.rows["rain"].editor.value = "3"
        await press(pilot, "ctrl+q")

    async def taken_up(pilot):
        await press(pilot, "y")
        assert pilot.app.screen.texts["rain"] == "3"
        await press(pilot, "escape", "x", "Z")
        await find(pilot, "rain gauge")
        await press(pilot, "x", "enter")
        assert not logged.entries(GaugeReading)

    drive(logged.app(), steps)
    (entry,) = logged.entries(GaugeReading)
    assert entry.fact.rain_mm == pytest.approx(12.0)
    drive(logged.app(), taken_up)
