"""The site of a tank looked at, by keys."""

from dataclasses import replace
from datetime import date

import pytest
from textual.widgets import Static

from store.records import Chore, Draft, SiteCheck, StationFacts, TankMeasures
from store.season.site import SITE_POINTS, TOO_SHALLOW, TOO_SMALL, weak_points
from store.vocabulary import ChoreKind, Shape
from tests.tui.driving import drive, press
from tui.site_check.screen import SiteCheckScreen

MAY = date(2015, 5, 4)


@pytest.fixture
def planned(book):
    """A station without a tank, in the window for installs."""
    book = replace(book, today=MAY)
    tank = TankMeasures(Shape.ROUND, depth_mm=600.0, diameter_mm=700.0)
    facts = StationFacts("n" * 36, book.ids["North"], "New pond", tank, apron_area_m2=14.0)
    book.write(Draft(MAY, facts))
    return book


def shown(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).render())


async def to_the_install(pilot):
    await press(pilot, "w")
    while "New pond" not in shown(pilot, "#why"):
        await press(pilot, "down")
    await press(pilot, "y")
    assert isinstance(pilot.app.screen, SiteCheckScreen)


def test_an_install_asked_for_opens_the_site_and_is_recorded_with_it(planned):
    async def steps(pilot):
        await to_the_install(pilot)
        assert "10 not looked at" in shown(pilot, "#status")
        await press(pilot, "y", "n", "y", "N")
        assert "1 weak, 7 not looked at   dug in today" in shown(pilot, "#status")
        await press(pilot, "enter")
        assert shown(pilot, "#status").endswith("dug in today, water not known")
        await press(pilot, "s")
        assert not isinstance(pilot.app.screen, SiteCheckScreen)
        log = [entry.fact for entry in pilot.app.board.snapshot.log["n" * 36]]
        assert SiteCheck("n" * 36, rim=True, bank=False, approach=True) in log
        assert Chore("n" * 36, ChoreKind.INSTALL) in log
        pilot.app.open_screen("site_check", "n" * 36)
        await press(pilot, "x", "N", "s")
        log = [entry.fact for entry in pilot.app.board.snapshot.log["n" * 36]]
        checks = [fact for fact in log if isinstance(fact, SiteCheck)]
        assert checks == [SiteCheck("n" * 36, bank=False, approach=True)], "revised, not doubled"
        await press(pilot, "u", "u")
        log = [entry.fact for entry in pilot.app.board.snapshot.log["n" * 36]]
        assert [type(fact) for fact in log] == [StationFacts]

    drive(planned.app(), steps)


@pytest.mark.parametrize(
    ("typed", "litres", "said"),
    [("", None, "water not known"), ("0", 0.0, "dry"), ("40", 151.4, "with 40 gal")],
)
def test_an_install_asks_for_the_water_in_the_new_tank(planned, typed, litres, said):
    async def steps(pilot):
        await to_the_install(pilot)
        await press(pilot, "N", *typed, "enter")
        assert shown(pilot, "#status").endswith(f"dug in today, {said}")
        cost = shown(pilot, "#cost")
        assert cost.count("A small child can drown") == 1
        await press(pilot, "s")
        (installed,) = [
            entry.fact
            for entry in pilot.app.board.snapshot.log["n" * 36]
            if isinstance(entry.fact, Chore)
        ]
        assert installed.volume_l == (None if litres is None else pytest.approx(litres, abs=0.1))
        level = pilot.app.board.levels.by_station.get("n" * 36)
        assert level is not None

    drive(planned.app(), steps)


def test_water_that_a_new_tank_cannot_hold_is_refused_and_an_install_taken_back(planned):
    async def steps(pilot):
        await to_the_install(pilot)
        await press(pilot, "N", *"400", "enter")
        assert "It must be from 0 to 61, not 400." in shown(pilot, "#field .said")
        await press(pilot, "escape", "N")
        assert "dug in" not in shown(pilot, "#status")
        assert "A small child" not in shown(pilot, "#cost")
        await press(pilot, "escape")
        assert not isinstance(pilot.app.screen, SiteCheckScreen), "nothing is entered"

    drive(planned.app(), steps)


def test_water_typed_and_not_saved_is_offered_again(planned):
    async def leave(pilot):
        await to_the_install(pilot)
        await press(pilot, "N", *"40", "ctrl+q")

    async def take_up(pilot):
        await press(pilot, "y")
        assert "dug in today" in shown(pilot, "#status")
        assert pilot.app.screen.field.text == "40"
        await press(pilot, "enter")
        assert "with 40 gal" in shown(pilot, "#status"), pilot.app.focused
        await press(pilot, "ctrl+q")

    async def again(pilot):
        await press(pilot, "y")
        assert "dug in today, with 40 gal" in shown(pilot, "#status")
        assert pilot.app.screen.field.asking is None

    for steps in (leave, take_up, again):
        drive(planned.app(), steps)


def test_the_cursor_says_what_a_weak_point_costs_and_whom_to_ask(planned):
    async def steps(pilot):
        await to_the_install(pilot)
        for point in SITE_POINTS:
            assert point.cost in " ".join(shown(pilot, "#cost").split("\n"))
            assert "no, by its measures" in shown(pilot, "#cost")
            await press(pilot, "down")
        assert "811" in shown(pilot, "#cost")

    drive(planned.app(), steps)


def test_answers_are_not_dropped_unasked(planned):
    async def steps(pilot):
        await to_the_install(pilot)
        await press(pilot, "n", "escape")
        assert "Not saved yet" in str(pilot.app.screen.query_one(".title", Static).render())
        await press(pilot, "escape", "x", "up", "x", "escape")
        assert not isinstance(pilot.app.screen, SiteCheckScreen)

    drive(planned.app(), steps)


def test_every_point_is_a_column_of_the_entry():
    columns = {
        name for name in SiteCheck.__dataclass_fields__ if name not in ("station_id", "note")
    }
    assert {point.name for point in SITE_POINTS} == columns


def test_measures_are_weak_points_of_their_own():
    assert weak_points(None, 762.0, 420.0) == ()
    assert weak_points(None, 600.0, 231.0) == (TOO_SMALL, TOO_SHALLOW)
    assert weak_points(None, 762.0, None) == ()
    (rim, *_) = SITE_POINTS
    assert weak_points(SiteCheck("s", rim=False, bank=True), 762.0, 420.0) == (rim,)
