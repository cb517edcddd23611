"""A new logbook from nothing to a tank with levels, led by the screen and no manual."""

from datetime import date

import pytest
from textual.widgets import Static

from store.logbook.opening import create_logbook, logbook_at
from store.logbook.places import places
from store.model.snapshot import load
from store.units import UnitSystem
from tests.tui.conftest import WEATHER
from tests.tui.driving import drive, press, settle
from tui.app import BrimbookApp
from tui.first_steps.screen import FirstStepsScreen
from tui.first_steps.steps import Step
from tui.importing.screen import ImportScreen
from tui.overview.screen import OverviewScreen
from tui.station_form.screen import StationForm

TODAY = date(2015, 10, 1)


@pytest.fixture
def empty(tmp_path):
    path = tmp_path / "book.db"
    create_logbook(path).close()
    return path


def said(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).content)


def test_the_steps_lead_to_a_tank_with_weather(empty):
    async def steps(pilot):
        app = pilot.app
        guide = app.screen
        assert isinstance(guide, FirstStepsScreen)
        assert guide._table.here == Step.TRACT, "units are shown, and may stay"
        await press(pilot, "enter", *"North", "enter", *"4x", "enter")
        assert "'4x' is not a number" in said(pilot, ".said")
        await press(pilot, "ctrl+u", *"91", "enter")
        assert "from -90 to 90" in said(pilot, ".said")
        await press(pilot, "ctrl+u", *"40.7", "enter")
        assert guide._table.here == Step.TANK
        await press(pilot, "enter")
        assert isinstance(app.screen, StationForm)
        assert app.screen.texts["tract"] == "North"
        assert app.screen.texts["depth"] == "30", "of a usual tank"
        assert app.screen.focused is app.screen.rows["name"].editor
        await press(pilot, *"Pit")
        app.screen.rows["apron"].editor.value = "150"
        app.screen.rows["installed"].editor.value = "may 5"
        await press(pilot, "f2")
        assert app.screen is guide
        assert guide._table.here == Step.WEATHER
        await press(pilot, "enter")
        assert isinstance(app.screen, ImportScreen)
        app.screen.rows["path"].editor.value = str(WEATHER)
        await press(pilot, "f2")
        await press(pilot, "escape")
        assert app.screen is guide
        assert "That is all it takes" in said(pilot, "#meaning")
        await press(pilot, "escape")
        assert isinstance(app.screen, OverviewScreen)

    drive(BrimbookApp(empty, today=TODAY), steps)
    with logbook_at(empty, TODAY) as book:
        snapshot = load(book)
    (pit,) = snapshot.places.stations.values()
    assert snapshot.places.tract_of(pit).latitude_deg == 40.7
    assert snapshot.weather_of(pit) is not None


def test_it_can_be_left_at_any_step_and_what_was_saved_stays(empty):
    """Weather first: it waits for the tract."""

    async def leave(pilot):
        await press(pilot, "down", "down", "enter")
        said_beside = pilot.app.screen.rows["tract"].query_one(".said", Static)
        assert "the first tract that you add" in str(said_beside.content)
        pilot.app.screen.rows["path"].editor.value = str(WEATHER)
        await press(pilot, "f2")
        await press(pilot, "escape")
        table = pilot.app.screen._table
        assert pilot.app.screen._lines[Step.WEATHER].done
        table.move_cursor(row=0)
        await press(pilot, "enter")
        await settle(pilot)
        assert pilot.app.board.snapshot.units.system is UnitSystem.METRIC
        await press(pilot, "down", "enter", *"West", "escape", "escape")
        assert isinstance(pilot.app.screen, OverviewScreen)

    async def come_back(pilot):
        assert isinstance(pilot.app.screen, FirstStepsScreen)
        await press(pilot, "enter", *"West", "enter", "enter")
        assert pilot.app.screen._table.here == Step.TANK

    drive(BrimbookApp(empty, today=TODAY), leave)
    drive(BrimbookApp(empty, today=TODAY), come_back)
    with logbook_at(empty, TODAY) as book:
        snapshot, known = load(book), places(book)
    (tract,) = known.tracts.values()
    assert (tract.name, tract.latitude_deg) == ("West", None)
    assert snapshot.weather[tract.tract_id].record_name == WEATHER.stem
