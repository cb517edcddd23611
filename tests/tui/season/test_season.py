"""The season screen, driven by keys, and the lines it tells."""

from collections.abc import Callable, Coroutine
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Input, Static

from store.logbook.journal import write
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.places import places
from store.model.snapshot import load
from store.model.working_out import board_of
from store.records import Chore, Contamination, Draft, RampCheck, Reading
from store.season.prompt import Prompt, PromptState
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.units import METRIC_UNITS, US_UNITS
from store.views.log_lines import LineKind
from store.views.timeline import SpanKind, season_timeline
from store.vocabulary import Action, Cause, ChoreKind, PromptKind, WindowKind
from store.weather.files import ReadOptions
from tests.steady import steady
from tests.tui.driving import NARROW, WIDE, drive, press
from tui.app import BrimbookApp
from tui.base.log_marks import CHORE_GLYPHS
from tui.season.screen import SeasonScreen
from tui.season.timeline import SHORT_WINDOWS, SPAN_KINDS, timeline_data
from tui.season.words import LEGEND, WIDE_LEGEND, told_lines
from tui.station.screen import StationScreen
from tui.widgets.timeline import Timeline
from tui.widgets.timeline_data import LEVEL_GLYPHS, SPAN_GLYPHS, UNSURE_GLYPH, Mark

RECORD = Path(__file__).parents[2] / "data" / "new_york_daily.csv"
TODAY = date(2015, 10, 1)
STATIONS = """\
tract,station,shape,length_in,width_in,diameter_in,depth_in,apron_area_ft2,access,installed
North,Oak [b],rectangular,48,36,,30,150,foot,2014-05-05
North,Pine,half-drum,34,,23,,20,vehicle,2014-05-05
South,Fern,round,,,37,30,100,vehicle,2014-05-05
"""
NOTE = 'a [note] "said" 🦌 [/b]'


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("season")
    lines = RECORD.read_text().splitlines()
    weather = folder / "weather.csv"
    weather.write_text("\n".join([lines[0], *(line for line in lines[1:] if line >= "2014")]))
    sheet = folder / "stations.csv"
    sheet.write_text(STATIONS)
    book = steady(create_logbook(folder / "book.db"))
    import_sheet(book, SheetKind.STATIONS, sheet)
    import_weather(book, weather, ReadOptions(), latitude_deg=40.7)
    oak, pine, fern = (
        places(book).find_station(name).station_id for name in ("Oak [b]", "Pine", "Fern")
    )
    write(
        book,
        "Log",
        [
            Draft(date(2015, 4, 11), Chore(oak, ChoreKind.RAKE, note=NOTE)),
            Draft(date(2015, 9, 1), Reading(oak, 101.6)),
            Draft(
                date(2015, 8, 3),
                Contamination(book.new_id(), pine, Cause.DROWNED_ANIMAL, Action.REMOVED),
            ),
            Draft(date(2015, 9, 28), RampCheck(fern, False)),
            Draft(date(2015, 9, 30), Reading(fern, 25.4)),
        ],
    )
    book.close()
    return folder / "book.db"


@pytest.fixture(scope="module")
def timeline(path):
    with logbook_at(path, TODAY) as book:
        return season_timeline(board_of(load(book)))


def drive_season(
    path: Path,
    script: Callable[[Pilot[None], SeasonScreen], Coroutine[Any, Any, None]],
    size: tuple[int, int] = NARROW,
) -> None:
    with logbook_at(path, TODAY) as book:
        station_id = places(book).find_station("Pine").station_id

    async def on_screen(pilot: Pilot[None]) -> None:
        screen = SeasonScreen(station_id)
        await pilot.app.push_screen(screen)
        await pilot.pause()
        await script(pilot, screen)

    drive(BrimbookApp(path, today=TODAY), on_screen, size)


def told(screen: SeasonScreen) -> str:
    return str(screen.query_one("#told", Static).render())


def names(screen: SeasonScreen) -> list[str]:
    return [row.name for row in screen._widget.data.rows]


def test_it_opens_on_today_and_the_station_and_tells_what_stands_there(path):
    async def script(pilot, screen):
        assert screen._widget.cursor_day == TODAY
        assert names(screen) == ["Oak [b]", "Pine", "Fern"]
        await pilot.pause()
        text = told(screen)
        assert text.startswith("Pine, North  28 Sep to Sun 4 Oct 2015")
        assert "Fouled by drowned animal" in text
        assert "Carcass: " in text
        await pilot.press("down")
        assert "Put the escape ramp back" in told(screen)
        regions = [screen.query_one(name).region for name in ("#timeline", "#told", "#legend")]
        assert [region.right for region in regions] == [80] * 3
        assert regions[-1].bottom == 23
        assert regions[0].height >= 16

    drive_season(path, script)


def test_enter_opens_the_station_and_t_there_comes_back(path):
    async def script(pilot, screen):
        await pilot.press("up", "enter")
        assert isinstance(pilot.app.screen, StationScreen)
        assert "Oak [b]" in str(pilot.app.screen.query_one("#heading", Static).render())
        await pilot.press("t")
        assert pilot.app.screen is screen

    drive_season(path, script)


def test_only_stations_due_in_the_window_at_the_cursor(path):
    async def script(pilot, screen):
        await pilot.press("right", "right", "asterisk")
        assert names(screen) == ["Pine"]  # Fern is full, Oak stands out of reach
        assert "Mid-October fill" in str(screen.query_one("#legend", Static).render())
        await pilot.press("asterisk")
        assert len(names(screen)) == 3
        screen._widget.move_to(0, date(2014, 2, 10))
        await pilot.pause()
        await pilot.press("asterisk")
        assert len(names(screen)) == 3

    drive_season(path, script)


def test_zoom_and_wide_screens_keep_the_day(path):
    async def script(pilot, screen):
        assert screen._widget.days_per_column == 2
        await pilot.press("plus")
        assert screen._widget.days_per_column == 1
        assert "Thu 1 Oct 2015" in told(screen)
        assert "I install" in str(screen.query_one("#legend", Static).render())

    drive_season(path, script, WIDE)


def test_marks_carry_notes_as_written_and_the_gravest_standing_task(timeline):
    data = timeline_data(timeline, timeline.rows, US_UNITS)
    oak, _, fern = data.rows
    assert any(mark.glyph == "R" and mark.label == f"Apron raked: {NOTE}" for mark in oak.marks)
    (standing,) = [mark for mark in fern.marks if mark.day == TODAY]
    assert (standing.glyph, standing.kind) == ("!", "contamination")
    assert any(mark.label == "Level read, 4.0 in below the rim" for mark in oak.marks)


def test_every_kind_is_drawn_and_every_window_named():
    assert {SPAN_KINDS.get(kind, kind.value) for kind in SpanKind} <= set(SPAN_GLYPHS)
    assert set(SHORT_WINDOWS) == set(WindowKind)
    assert set(CHORE_GLYPHS) == set(ChoreKind)
    assert len({*CHORE_GLYPHS.values()}) == len(ChoreKind)


def test_legends_fit_and_hold_the_widgets_glyphs():
    assert [cell_len(line) <= 80 for line in LEGEND.split("\n")] == [True, True]
    assert all(cell_len(line) <= 140 for line in WIDE_LEGEND.split("\n"))
    for sign in (LEVEL_GLYPHS[0], LEVEL_GLYPHS[-1], UNSURE_GLYPH):
        assert sign in LEGEND
    for glyph in SPAN_GLYPHS.values():
        assert glyph in LEGEND
        assert glyph in WIDE_LEGEND


def test_every_key_of_the_timeline_is_explained():
    assert all(binding.tooltip for binding in Timeline.BINDINGS)


@pytest.mark.parametrize(("width", "height"), [(78, 6), (138, 7), (30, 4)])
def test_told_lines_keep_to_their_room_and_the_caution_stays(timeline, width, height):
    pine = timeline.rows[1]
    text = told_lines(timeline, pine, date(2015, 9, 28), date(2015, 10, 4), US_UNITS, width, height)
    lines = str(text).split("\n")
    assert len(lines) <= height
    assert all(cell_len(line) <= width for line in lines)
    assert any(line.startswith("Carcass:") for line in lines)


@pytest.mark.parametrize(
    ("units", "said"), [(US_UNITS, "26 gal, 220 lb"), (METRIC_UNITS, "100 L, 100 kg")]
)
def test_hauling_is_said_of_the_fill_that_stands_there(timeline, units, said):
    fern = timeline.rows[2]
    fill = Prompt(
        fern.station.station_id, PromptKind.FILL, PromptState.DUE, TODAY, TODAY, "Fill.",
        volume_l=100.0,
    )  # fmt: skip
    row = replace(fern, tasks=(fill,), spans=())
    text = str(told_lines(timeline, row, TODAY, TODAY, units, 78, 9))
    assert f"Hauling water: {said} before tank and trailer." in " ".join(text.split())
    assert "a gallon" not in text


def test_a_day_without_anything_says_so(timeline):
    day = date(2014, 2, 10)
    text = told_lines(timeline, timeline.rows[0], day, day, US_UNITS, 78, 6)
    assert str(text).endswith("Nothing stands here.")


def test_a_mark_of_each_kind_of_line_can_be_drawn(timeline):
    kinds = {mark.kind for row in timeline.rows for mark in row.marks}
    assert kinds == {LineKind.CHORE, LineKind.READING, LineKind.EVENT, LineKind.RAMP}
    data = timeline_data(timeline, timeline.rows, US_UNITS)
    marks = [mark for row in data.rows for mark in row.marks]
    assert all(isinstance(mark, Mark) and cell_len(mark.glyph) == 1 for mark in marks)


def test_keys_go_from_window_to_window_and_a_year_back(path):
    async def steps(pilot):
        await press(pilot, "t")
        screen, widget = pilot.app.screen, pilot.app.screen.query_one(Timeline)
        starts = []
        for _ in range(3):
            await press(pilot, "full_stop")
            starts.append(widget.cursor_day)
        assert starts == [date(2015, 10, 8), date(2015, 10, 19), date(2015, 10, 20)]
        await press(pilot, "comma", "comma")
        assert widget.cursor_day == date(2015, 10, 8)
        await press(pilot, "Y")
        assert widget.cursor_day == date(2014, 10, 8)
        assert widget.data.first_day == date(2014, 1, 1)
        await press(pilot, "Y")
        assert widget.cursor_day == date(2014, 10, 8), "the log goes back no farther"
        screen._years_back = 0
        screen.show(pilot.app.board)
        assert widget.cursor_day == widget.data.first_day == date(2015, 1, 1)
        await press(pilot, "d")
        pilot.app.screen.query_one(Input).value = "2014-10-08"
        await press(pilot, "enter")
        assert widget.cursor_day == date(2014, 10, 8), "that year is laid out now"
        assert widget.data.first_day == date(2014, 1, 1)
        await press(pilot, "g")
        assert {row.name for row in widget.data.rows} == {"Oak [b]", "Pine"}
        assert "North alone." in str(screen.query_one("#legend", Static).render())
        await press(pilot, "g", "g")
        assert len(widget.data.rows) == 3

    drive(BrimbookApp(path, today=TODAY), steps)
