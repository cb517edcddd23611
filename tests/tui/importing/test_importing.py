"""Importing files on the screen: told at once, cancelled at will, all or nothing."""

import asyncio
import threading
from datetime import date
from pathlib import Path

import pytest
from textual.widgets import Static

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import logbook_at
from store.logbook.places import places
from store.records import Draft, Reading, StationFacts, TankMeasures, TractFacts
from store.vocabulary import Shape
from store.weather.readers.recognise import read_weather
from tests.new_logbook import new_logbook
from tests.store.fetching.server import first_then, serving, slow, whole
from tests.tui.driving import drive, settle
from tui.app import BrimbookApp
from tui.base.path_line import completion, path_from
from tui.importing import steps as importing
from tui.importing.screen import ImportScreen
from tui.widgets.form_row import FormRow

TODAY = date(2026, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)
SAMPLE = (Path(__file__).parents[2] / "store/weather/readers/samples/archive_wide.csv").read_bytes()
HEAD = "date,tmin_c,tmax_c,rain_mm\n"


@pytest.fixture
def path(tmp_path):
    """One tract, North, with one station, Oak."""
    book = new_logbook(tmp_path / "book.db")
    book.fixed_today = TODAY
    tract_id = book.new_id()
    oak = StationFacts(book.new_id(), tract_id, "Oak", TANK, apron_area_m2=14.0)
    write(book, "Set up", [Draft(TODAY, TractFacts(tract_id, "North", 42.0)), Draft(TODAY, oak)])
    book.close()
    return book.path


def drive_importing(path, steps):
    async def on_screen(pilot):
        await pilot.app.push_screen(ImportScreen())
        await pilot.pause()
        await steps(pilot.app, _Import(pilot))

    drive(BrimbookApp(path, today=TODAY), on_screen, notifications=True)


class _Import:
    def __init__(self, pilot):
        self.pilot = pilot
        self.screen = pilot.app.screen

    def row(self, key):
        return self.screen.query_one(f"#row-{key}", FormRow)

    async def start(self, **texts):
        for key, text in texts.items():
            self.row(key).editor.value = str(text)
        await self.pilot.pause()
        await self.pilot.press("f2")

    async def run(self, **texts):
        await self.start(**texts)
        await settle(self.pilot)

    def told(self, name):
        return str(self.screen.query_one(f"#{name}", Static).content)


def _dump(path):
    with logbook_at(path) as book:
        return list(book.db.conn.iterdump())


def test_weather_for_a_new_tract_then_readings(path, tmp_path):
    weather, readings = tmp_path / "ridge.csv", tmp_path / "readings.csv"
    weather.write_text(HEAD + "2026-09-01,10,25,0\n2026-09-02,11,26,12.5\n")
    readings.write_text("date,station,below_rim_in,[mood]\n2026-09-01,Oak,4,good\n")

    async def steps(app, form):
        await form.run(path=weather, tract="West [2]", latitude="43")
        assert form.told("doing") == ("Weather record ridge: 2 new days, 0 known already.")
        assert "Used by West [2]." in form.told("said")
        await form.run(path=readings, kind="readings")
        assert form.told("doing") == "readings.csv: 1 new entries, 0 known already."
        assert "unknown columns mood" in form.told("said")
        assert not form.row("tract").display
        await settle(form.pilot)
        assert len(app.board.snapshot.weather) == 1

    drive_importing(path, steps)
    with logbook_at(path) as book:
        assert places(book).find_tract("West [2]").latitude_deg == 43.0
        assert len(live_entries(book, (Reading,))) == 1


def test_a_file_of_several_stations_offers_them(path, tmp_path):
    two = tmp_path / "two.csv"
    lines = [f"{name},2026-07-01,0.1,80,60\n" for name in ("MILL", "POND", "[b]RIDGE")]
    two.write_text("".join(("STATION,DATE,PRCP,TMAX,TMIN\n", *lines)))

    async def steps(app, form):
        assert not form.row("place").display
        await form.run(path=two, units="US")
        assert "holds 3 stations" in form.told("doing")
        assert app.screen.focused is form.row("place").editor
        await form.pilot.press("right", "f2")
        await settle(form.pilot)
        assert "Weather record POND: 1 new days" in form.told("doing")
        assert "Used by North." in form.told("said")
        form.row("path").editor.value = "other.csv"
        await form.pilot.pause()
        assert not form.row("place").display, "another file, other stations"

    drive_importing(path, steps)


def test_a_forecast_and_normals(path, tmp_path):
    ahead, usual = tmp_path / "ahead.csv", tmp_path / "usual.csv"
    ahead.write_text(HEAD + "2026-10-02,5,15,20\n")
    months = "".join(f"{month},80,10,5,15\n" for month in range(1, 13))
    usual.write_text("month,rain_mm,wet_days,tmin_c,tmax_c\n" + months)

    async def steps(app, form):
        await form.run(path=usual, kind="normals")
        assert "Type the tract" in str(form.row("tract").query_one(".said", Static).content)
        assert not form.row("units").display
        await form.run(tract="north")
        assert form.told("doing") == "usual.csv: 12 new entries, 0 known already."
        await form.run(path=ahead, kind="forecast", tract="Nrth")
        assert "did you mean North" in form.told("said")
        await form.run(tract="")
        assert form.told("doing") == "Forecast for North: 1 new days, 0 known already."
        await settle(form.pilot)
        (weather,) = app.board.snapshot.weather.values()
        assert weather.normals is not None
        assert weather.forecast.rain_mm.tolist() == [20.0]

    drive_importing(path, steps)


def test_bad_lines_are_listed_and_nothing_is_stored(path, tmp_path):
    file = tmp_path / "bad [b].csv"
    rows = "".join(f"2026-09-{day:02},Oak,{40 + day}\n" for day in range(1, 31))
    file.write_text("date,station,below_rim_in\n" + rows)
    before = _dump(path)

    async def steps(app, form):
        await form.run(path=f"'{file}'", kind="readings")
        assert "Nothing was imported: bad [b].csv has 30 bad lines" in form.told("doing")
        assert form.told("said").count("under the bottom of a tank") == 30
        assert form.told("said").startswith("line 2, ")
        assert app.focused.id == "result"
        assert app.focused.max_scroll_y > 0

    drive_importing(path, steps)
    assert _dump(path) == before


def test_bad_weather_lines_can_be_left_out(path, tmp_path):
    file = tmp_path / "ridge.csv"
    file.write_text(HEAD + "2026-09-01,10,25,0\n2026-09-02,26,11,12.5\n")

    async def steps(_, form):
        await form.run(path=file)
        assert "ridge.csv has 1 bad line." in form.told("doing")
        await form.run(path=file, bad_lines="skip bad lines")
        assert "1 new days" in form.told("doing")
        assert "Left out: 1 bad line." in form.told("said")
        assert "line 3, tmin" in form.told("said")

    drive_importing(path, steps)


def test_cancelling_before_the_write_leaves_the_logbook_as_it_was(path, tmp_path, monkeypatch):
    file = tmp_path / "ridge.csv"
    file.write_text(HEAD + "2026-09-01,10,25,0\n")
    before = _dump(path)
    reading, go_on = threading.Event(), threading.Event()

    def slowly(*args, **options):
        reading.set()
        go_on.wait(20)
        return read_weather(*args, **options)

    monkeypatch.setattr(importing, "read_weather", slowly)

    async def steps(app, form):
        await form.start(path=file)
        await asyncio.to_thread(reading.wait, 20)
        assert "Reading ridge.csv" in form.told("doing")
        assert form.screen.query_one("#progress").display
        await form.pilot.press("escape")
        assert isinstance(app.screen, ImportScreen)
        assert form.told("doing") == "Cancelling ..."
        go_on.set()
        while form.told("doing") == "Cancelling ...":
            await form.pilot.pause()
        assert form.told("doing").startswith("Cancelled: nothing was imported")
        assert not form.screen.query_one("#progress").display
        await form.pilot.press("escape")
        assert not isinstance(app.screen, ImportScreen)

    try:
        drive_importing(path, steps)
    finally:
        go_on.set()
    assert _dump(path) == before


def test_fetched_weather_is_cancelled_or_kept_as_a_whole(path, monkeypatch):
    before = _dump(path)

    async def steps(_, form):
        await form.start(kind="weather, fetched", station="XX000000001")
        while " of 0.0 MB" not in form.told("doing"):
            await form.pilot.pause()
        assert not form.row("path").display
        await form.pilot.press("escape")
        while form.told("doing") == "Cancelling ...":
            await form.pilot.pause()
        assert form.told("doing").startswith("Cancelled: nothing was imported")
        assert _dump(path) == before
        await form.run()
        assert form.told("doing").startswith("Weather record XX000000001: ")
        await form.run(station="North")
        said = str(form.row("station").query_one(".said", Static).content)
        assert "no GHCN-Daily station" in said

    with serving() as server:
        monkeypatch.setattr(importing, "STATION_ADDRESS", f"{server.address}/{{station}}.csv")
        server.at("/XX000000001.csv", first_then(slow(SAMPLE, 0.02), whole(SAMPLE)))
        drive_importing(path, steps)
    assert _dump(path) != before


@pytest.mark.parametrize(
    ("texts", "key", "said"),
    [
        ({"path": ""}, "path", "Type or paste the path"),
        ({"path": "x.csv", "latitude": "100"}, "latitude", "from -90 to 90"),
    ],
)
def test_wrong_fields_are_told_beside_them(path, texts, key, said):
    async def steps(app, form):
        await form.run(**texts)
        assert said in str(form.row(key).query_one(".said", Static).content)
        assert app.focused is form.row(key).editor

    drive_importing(path, steps)


def test_a_file_that_cannot_be_read_is_a_sentence(path, tmp_path):
    async def steps(_, form):
        await form.run(path=tmp_path)
        assert form.told("doing") == "! Nothing was imported."
        assert "is a directory" in form.told("said")

    drive_importing(path, steps)


def test_tab_completes_a_path_and_then_moves_on(path, tmp_path):
    (tmp_path / "longer name.csv").touch()

    async def steps(app, form):
        line = form.row("path").editor
        line.value = f"{tmp_path}/lon"
        line.cursor_position = len(line.value)
        await settle(form.pilot)
        await form.pilot.press("tab")
        assert line.value == f"{tmp_path}/longer name.csv"
        assert app.focused is line
        await form.pilot.press("tab")
        assert app.focused is form.row("kind").editor

    drive_importing(path, steps)


def test_paths_as_people_paste_them(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    assert path_from(" ~/a b.csv ") == tmp_path / "a b.csv"
    assert path_from("'/x/y z.csv'").name == "y z.csv"
    (tmp_path / "folder").mkdir()
    assert completion("~/fo") == "~/folder/"
    assert completion("~/folder/") is None
    assert completion("~/none/x") is None
    assert completion("~nobody-of-that-name/x") is None
