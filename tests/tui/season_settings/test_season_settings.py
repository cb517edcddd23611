"""The windows of a tract, changed by keys."""

from dataclasses import replace
from datetime import date, timedelta

from textual.widgets import Static

from store.logbook.opening import create_logbook
from store.records import Draft, Sighting
from store.vocabulary import LimitKind, WindowKind
from tests.tui.driving import drive, press
from tui.app import BrimbookApp
from tui.season_settings.screen import SeasonSettingsScreen, SettingsTable


def shown(pilot, where):
    return str(pilot.app.screen.query_one(where, Static).render())


def held(pilot):
    """What each line says, by window or limit."""
    table = pilot.app.screen.query_one(SettingsTable)
    rows = [table.get_row_at(row) for row in range(table.row_count)]
    return {row[0].plain: row[1].plain.strip() for row in rows}


def said(pilot):
    return str(pilot.app.screen.query_one("#field .said", Static).render())


async def retyped(pilot, text):
    pilot.app.screen.field.line.value = text
    await press(pilot, "enter")


def test_days_are_typed_saved_undone_and_set_back(book):
    async def steps(pilot):
        await press(pilot, "t", "F")
        assert isinstance(pilot.app.screen, SeasonSettingsScreen)
        assert held(pilot)["Rake"] == "1 April to 30 April"
        assert len(held(pilot)) == len(WindowKind) + len(LimitKind)
        await press(pilot, "enter")
        await retyped(pilot, "5 apr to 2 may")
        assert held(pilot)["Rake"] == "*5 April to 2 May"
        assert "1 changed" in shown(pilot, "#status")
        board = pilot.app.board
        (season,) = {
            season.rake for season in board.snapshot.seasons.values() if season.rake.first.day == 5
        }
        assert season.name == "April raking"
        await press(pilot, "u")
        assert held(pilot)["Rake"] == "1 April to 30 April"
        await press(pilot, "U")
        assert held(pilot)["Rake"] == "*5 April to 2 May"
        await press(pilot, "x")
        assert held(pilot)["Rake"] == "1 April to 30 April"
        await press(pilot, "x")
        assert said(pilot) == "This is the default of the place already."

    drive(book.app(), steps)


def test_days_that_cannot_be_are_answered_by_a_sentence_and_nothing_is_written(book):
    async def steps(pilot):
        await press(pilot, "t", "F")
        before = held(pilot)
        for text, sentence in (
            ("30 april to 1 april", "swap its days"),
            ("30 february to 3 march", "no day of the year"),
            ("april", "are not two days"),
            ("1 to 30", "is not a month and a day alone"),
            ("1 april 2026 to 30 april 2026", "is not a month and a day alone"),
            ("1 june to 20 june", "no later than"),
        ):
            await press(pilot, "enter")
            await retyped(pilot, text)
            assert sentence in said(pilot), text
            await press(pilot, "escape")
            assert held(pilot) == before

    drive(book.app(), steps)


def test_each_tract_has_its_own_limits(book):
    async def steps(pilot):
        await press(pilot, "t", "F", *["down"] * len(WindowKind), "enter")
        await retyped(pilot, "60")
        assert held(pilot)["Fill when below"] == "*60 % full"
        await press(pilot, "right")
        assert held(pilot)["Fill when below"] == "75 % full"
        await press(pilot, "left")
        assert held(pilot)["Fill when below"] == "*60 % full"
        assert (
            sorted(s.fill_below_share for s in pilot.app.board.snapshot.seasons.values())[0] == 0.6
        )

    drive(book.app(), steps)


def test_without_a_tract_it_says_what_to_do(tmp_path):
    path = tmp_path / "empty.db"
    create_logbook(path).close()

    async def steps(pilot):
        pilot.app.open_screen("season_settings")
        await press(pilot, "enter", "right", "x")
        assert "There is no tract yet" in shown(pilot, "#status")

    drive(BrimbookApp(path), steps)


def test_weeks_seen_by_cameras_are_taken_only_when_accepted(book):
    rock = book.ids["Rocks"]
    counts = [
        Draft(date(year, 9, 1) + timedelta(days=4 * n), Sighting(rock, camera_per_day=rate))
        for year in (2015,)
        for n, rate in enumerate([0, 1, 0, 0, 1, 0, 0, 9, 8, 9, 8, 9])
    ]
    far = [
        replace(draft, fact=replace(draft.fact, station_id=book.ids["Oak flat"]))
        for draft in counts
    ]
    late = replace(book, today=date(2015, 11, 30))
    late.write(*counts, *far)
    late.write(
        *(replace(d, fact=replace(d.fact, station_id=book.ids["Far [saddle]"])) for d in counts)
    )

    async def steps(pilot):
        await press(pilot, "t", "F", "k")
        assert pilot.app.screen.field.text == "29 September to 20 October"
        assert held(pilot)["Heavy use"] == "20 October to 10 November"
        await press(pilot, "escape")
        assert held(pilot)["Heavy use"] == "20 October to 10 November"
        await press(pilot, "right", "k")
        assert "no clear jump" in said(pilot)

    drive(late.app(), steps)
