"""The station screen, driven by keys on a logbook of three stations."""

from collections.abc import Callable, Coroutine
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.places import places
from store.records import Chore, Contamination, Draft, Note, RampCheck, Reading
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.vocabulary import Cause, ChoreKind
from store.weather.files import ReadOptions
from tests.steady import steady
from tests.tui.driving import NARROW, WIDE, drive, press, settle
from tui.app import BrimbookApp
from tui.check_in.screen import CheckInScreen
from tui.event.screen import EventScreen
from tui.season.screen import SeasonScreen
from tui.station.screen import StationScreen
from tui.station_form.screen import StationForm

RECORD = Path(__file__).parents[2] / "data" / "new_york_daily.csv"
TODAY = date(2015, 10, 1)
STATIONS = """\
tract,station,shape,length_in,width_in,diameter_in,depth_in,apron_area_ft2,access,installed
North,Oak [b],rectangular,48,36,,30,150,foot,2014-05-05
North,Pine,half-drum,34,,23,,20,vehicle,2014-05-05
South,Later,oblong,60,30,,30,150,atv,
"""
NOTE = 'a [note] "said" 🦌 [/b] ' + "long " * 90


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("station")
    lines = RECORD.read_text().splitlines()
    weather = folder / "weather.csv"
    weather.write_text("\n".join([lines[0], *(line for line in lines[1:] if line >= "2014")]))
    sheet = folder / "stations.csv"
    sheet.write_text(STATIONS)
    book = steady(create_logbook(folder / "book.db"))
    book.fixed_today = TODAY
    import_sheet(book, SheetKind.STATIONS, sheet)
    import_weather(book, weather, ReadOptions(), latitude_deg=40.7)
    oak = places(book).find_station("Oak [b]").station_id
    write(
        book,
        "Log",
        [
            Draft(date(2015, 4, 11), Chore(oak, ChoreKind.RAKE, note="roots")),
            Draft(date(2015, 9, 1), Reading(oak, 101.6)),
            Draft(date(2015, 9, 2), RampCheck(oak, True)),
            Draft(date(2015, 9, 3), Note(oak, NOTE)),
        ],
    )
    book.close()
    return folder / "book.db"


@pytest.fixture
def path(built: Path, tmp_path: Path) -> Path:
    copy = tmp_path / "book.db"
    with logbook_at(built) as book:
        book.db.execute("VACUUM INTO ?", [str(copy)])
    return copy


def drive_station(
    path: Path,
    name: str,
    script: Callable[[Pilot[None], StationScreen], Coroutine[Any, Any, None]],
    size: tuple[int, int] = NARROW,
) -> None:
    with logbook_at(path, TODAY) as book:
        station_id = places(book).find_station(name).station_id

    async def on_screen(pilot: Pilot[None]) -> None:
        screen = StationScreen(station_id)
        await pilot.app.push_screen(screen)
        await pilot.pause()
        await script(pilot, screen)

    drive(BrimbookApp(path, today=TODAY), on_screen, size)


def shown(screen: StationScreen, selector: str) -> str:
    return str(screen.query_one(selector, Static).render())


def log_of(screen: StationScreen) -> list[str]:
    log = screen.query_one("#log", OptionList)
    return [str(log.get_option_at_index(index).prompt) for index in range(log.option_count)]


def test_facts_log_and_chart_stand_on_a_small_screen(path):
    async def script(_pilot, screen):
        assert "Oak [b]   North   1 of 3" in shown(screen, "#heading")
        facts = shown(screen, "#facts")
        for said in ("Rectangular 48 x 36, 30 in deep, 224 gal", "150 ft2", "foot", "40.70 N"):
            assert said in facts
        log = log_of(screen)
        assert NOTE in log[0]
        assert "Level read, 4.0 in below the rim" in log[2]
        assert "Apron raked: roots" in log[3]
        data = screen._chart.data
        assert (data.first_day, data.last_day) == (date(2015, 1, 1), date(2015, 11, 10))
        past = slice(None, (TODAY - data.first_day).days + 1)
        bands = zip(data.high[past], data.values[past], data.low[past], strict=True)
        assert all(high <= value <= low for high, value, low in bands)
        assert max(low - high for high, low in zip(data.high, data.low, strict=True)) > 1.0
        assert [reading.value for reading in data.readings] == [pytest.approx(4.0)]
        for selector in ("#chart", "#facts", "#log"):
            region = screen.query_one(selector).region
            assert region.right <= 80
            assert region.bottom <= 24

    drive_station(path, "Oak [b]", script)


def test_arrows_move_the_chart_across_and_the_log_up_and_down(path):
    async def script(pilot, screen):
        await pilot.press("left", "left", "right", "down")
        assert screen._chart.cursor_day == TODAY - timedelta(days=1)
        assert screen.query_one("#log", OptionList).highlighted == 1
        await pilot.press("left_square_bracket", "d", "enter")
        assert screen._chart.cursor_day == TODAY
        await pilot.press("d")
        question = pilot.app.screen
        question.query_one(Input).value = "oct 20"
        await pilot.press("enter")
        assert screen._chart.cursor_day == date(TODAY.year, 10, 20), "ahead, not a year ago"
        await pilot.press("d")
        question = pilot.app.screen
        question.query_one(Input).value = "1999-01-01"
        await pilot.press("enter")
        said = str(question.query_one("#wrong", Static).content)
        assert said.startswith("'1999-01-01' is not among the days shown; type one from ")
        await pilot.press("escape")
        assert pilot.app.screen is screen

    drive_station(path, "Oak [b]", script)


def test_every_key_of_the_screen_is_explained(path):
    async def script(_pilot, screen):
        actions = set()
        for active in screen.active_bindings.values():
            if active.binding.id is not None:
                assert active.binding.tooltip, active.binding
                actions.add(active.binding.action)
        assert {"chart_days(-1)", "cursor_down", "withdraw", "undo"} <= actions

    drive_station(path, "Oak [b]", script)


def test_withdrawing_asks_first_and_can_be_undone(path):
    async def script(pilot, screen):
        before = log_of(screen)
        await pilot.press("down", "down", "x", "x", "escape")
        assert pilot.app.screen is screen
        assert log_of(screen) == before
        await press(pilot, "x", *"typo", "enter")
        assert log_of(screen) == [line for line in before if "Level read" not in line]
        assert screen._chart.data.readings == ()
        with logbook_at(path, TODAY) as book:
            assert not live_entries(book, (Reading,))
            reasons = book.db.execute("SELECT reason FROM withdrawal").fetchall()
        assert reasons == [("typo",)]
        await press(pilot, "u")
        assert log_of(screen) == before

    drive_station(path, "Oak [b]", script)


def test_keys_lead_to_other_screens_and_stations_and_without_a_level_it_says_why(path):
    async def script(pilot, screen):
        for key, kind in (
            ("c", CheckInScreen),
            ("e", EventScreen),
            ("F", StationForm),
            ("t", SeasonScreen),
        ):
            await pilot.press(key)
            assert isinstance(pilot.app.screen, kind)
            pilot.app.pop_screen()
            await pilot.pause()
        await pilot.press("full_stop")
        assert "Pine" in shown(screen, "#heading")
        await pilot.press("comma", "comma")
        assert "Later" in shown(screen, "#heading")
        assert not screen._chart.display
        said = shown(screen, "#no-level")
        assert "no install" in said
        assert "Press F" in said
        await press(pilot, "x", "enter")
        assert "no longer in the logbook" in shown(screen, "#heading")
        assert not screen.query_one("#top").display

    drive_station(path, "Oak [b]", script)


def test_a_wide_screen_has_the_facts_beside_the_chart(path):
    async def script(_pilot, screen):
        chart, side = screen._chart.region, screen.query_one("#side").region
        assert side.x >= chart.right
        assert screen.query_one("#log").region.y >= chart.bottom
        assert chart.height > 15

    drive_station(path, "Pine", script, WIDE)


def test_metric_units_reach_chart_facts_and_log(path):
    async def script(pilot, screen):
        await press(pilot, "m")
        assert screen._chart.data.y_label == "cm below the rim"
        assert "121.9 x 91.4, 76.2 cm deep, 850 L" in shown(screen, "#facts")
        assert "10.2 cm below the rim" in log_of(screen)[2]

    drive_station(path, "Oak [b]", script)


def test_a_log_without_room_is_not_paged(book):
    async def steps(pilot):
        await press(pilot, "enter")
        await pilot.resize_terminal(20, 4)
        await press(pilot, "down", "pagedown", "pageup")
        assert type(pilot.app.screen) is StationScreen

    drive(book.app(), steps)


def test_all_that_is_due_a_doubt_and_a_summary_stand_in_words(book):
    oak = book.ids["Oak flat"]
    book.write(
        *(Draft(date(2015, month, 5), Reading(oak, 100.0)) for month in (7, 8, 9)),
        Draft(date(2015, 9, 25), Reading(oak, 740.0)),
        Draft(date(2015, 9, 25), RampCheck(oak, False)),
        Draft(date(2015, 9, 26), Contamination("0" * 36, oak, Cause.DYE)),
    )

    async def steps(pilot):
        pilot.app.open_screen("station", oak)
        await pilot.pause()
        screen = pilot.app.screen
        due = shown(screen, "#due").split("\n")
        asked = pilot.app.board.prompts[oak]
        assert len(due) == len(asked) > 1
        assert any(line.startswith("! due: See to the escape ramp") for line in due)
        assert any("! dye 26 Sep: water clear" in line for line in due)
        assert any("! Doubted: Read 29.1 in" in line for line in log_of(screen))
        said = shown(screen, "#summary")
        for part in ("below the rim (80% band ", "highest ", "lowest ", "Last rain "):
            assert part in said
        assert "A small child can drown" in shown(screen, "#facts")
        assert "30.0 in deep" in shown(screen, "#picture")
        await press(pilot, "m")
        assert "76.2 cm deep" in shown(screen, "#picture")
        assert " cm)" in shown(screen, "#summary")

    drive(book.app(), steps)


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (160, 50)])
def test_level_work_and_a_stretch_of_the_log_stand_there_without_scrolling(book, size):
    oak = book.ids["Oak flat"]
    days = [date(2015, month, 5) for month in (6, 7, 8)]
    book.write(
        *(Draft(day, Reading(oak, 100.0)) for day in days),
        *(Draft(day, RampCheck(oak, True)) for day in days),
        Draft(date(2015, 9, 25), RampCheck(oak, False)),
        Draft(date(2015, 9, 26), Contamination("0" * 36, oak, Cause.DYE)),
    )

    async def steps(pilot):
        pilot.app.open_screen("station", oak)
        await settle(pilot)
        screen = pilot.app.screen
        assert shown(screen, "#due").count("\n") >= 1
        assert screen.query_one("#log").content_size.height >= 6
        assert screen.query_one("#log").region.bottom < size[1]
        for part, whole in (("summary", "course"), ("facts", "side"), ("picture", "side")):
            inner, outer = (screen.query_one(f"#{one}").region for one in (part, whole))
            assert inner.height > 1, part
            assert inner.bottom <= outer.bottom, part
        assert screen.query_one("#chart").size.height >= 6
        await press(pilot, *["left"] * 5)
        told = shown(screen, "#told")
        assert told.startswith("Sat 26 Sep 2015  ")
        assert "! Fouled: dye" in told, "the line at the cursor has the whole width"

    drive(book.app(), steps, size)
