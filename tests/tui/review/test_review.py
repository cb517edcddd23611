"""The review of the seasons, driven by keys."""

from textual.widgets import Static

from store.logbook.opening import create_logbook
from tests.tui.driving import drive, press
from tui.app import BrimbookApp
from tui.review.screen import ReviewScreen, SeasonTable
from tui.station.screen import StationScreen


def shown(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).render())


def rows(pilot):
    table = pilot.app.screen.query_one(SeasonTable)
    return [[c.plain.strip() for c in table.get_row_at(row)] for row in range(table.row_count)]


def test_seasons_stand_side_by_side_and_the_cursor_says_what_they_teach(book):
    async def steps(pilot):
        await press(pilot, "R")
        assert isinstance(pilot.app.screen, ReviewScreen)
        assert [(row[0], row[1]) for row in rows(pilot)] == [
            ("Far [saddle]", "2015"), ("Oak flat", "2015"), ("Given up", "2015"), ("Rocks", "2015"),
        ]  # fmt: skip
        assert "as it is" in shown(pilot, "#teaches")
        assert "weather years" in shown(pilot, "#teaches")
        await press(pilot, "down", "down")
        assert "Given up on" in shown(pilot, "#teaches")
        await press(pilot, "right")
        assert shown(pilot, "#status").startswith("All seasons")
        await press(pilot, "left", "enter")
        assert isinstance(pilot.app.screen, StationScreen)

    drive(book.app(), steps)


def test_the_page_is_written_where_the_person_says(book, tmp_path):
    path = tmp_path / "page.html"

    async def steps(pilot):
        await press(pilot, "R", "f2")
        pilot.app.screen.field.line.value = str(tmp_path / "no" / "page.html")
        await press(pilot, "enter")
        assert not path.exists()
        await press(pilot, "f2")
        pilot.app.screen.field.line.value = str(path)
        await press(pilot, "enter")
        text = path.read_text(encoding="utf-8")
        assert text.startswith("<!doctype html>")
        assert "Far [saddle]" in text
        assert "http" not in text.replace("http-equiv", "")

    drive(book.app(), steps)


def test_an_empty_logbook_says_so(tmp_path):
    path = tmp_path / "empty.db"
    create_logbook(path).close()

    async def steps(pilot):
        pilot.app.open_screen("review")
        await press(pilot, "left", "right", "enter", "f2", "escape")
        assert "nothing to look back on" in shown(pilot, "#status")

    drive(BrimbookApp(path), steps)
