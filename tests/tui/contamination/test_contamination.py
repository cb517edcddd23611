"""Open events, the ways out of them, their history and their numbers, driven by keys."""

from datetime import date
from typing import Any

from textual.pilot import Pilot
from textual.widgets import DataTable, Static

from store.records import CauseSetting, Contamination, ContaminationAction, Draft, RampCheck
from store.vocabulary import Action, Cause
from tests.tui.driving import NARROW, Steps, drive, press
from tui.contamination.cause_values import CauseValuesScreen
from tui.contamination.history import ContaminationHistoryScreen
from tui.contamination.screen import ContaminationScreen
from tui.event.screen import EventScreen
from tui.station.screen import StationScreen
from tui.widgets.level_chart import LevelChart

OPEN, BEARS, OVER = (f"01990000-0000-7000-8000-00000000000{n}" for n in (1, 2, 3))


def fouled(book: Any) -> None:
    """An open carcass and bears at two stations, and an event that is over."""
    oak, rocks = book.ids["Oak flat"], book.ids["Rocks"]
    book.write(
        Draft(date(2015, 6, 1), RampCheck(oak, in_place=False)),
        Draft(date(2015, 6, 2), Contamination(OVER, oak, Cause.DYE)),
        Draft(date(2015, 6, 12), ContaminationAction(OVER, oak, Action.SEEN_CLEAR)),
        Draft(date(2015, 8, 3), Contamination(OPEN, oak, Cause.DROWNED_ANIMAL, Action.REMOVED)),
        Draft(date(2015, 7, 1), Contamination(BEARS, rocks, Cause.BEAR_USE)),
    )


def drive_contamination(book: Any, steps: Steps, size: tuple[int, int] = NARROW) -> None:
    async def on_screen(pilot: Pilot[None]) -> None:
        await press(pilot, "E")
        await steps(pilot)

    drive(book.app(), on_screen, size)


def shown(pilot: Pilot[None], where: str) -> str:
    return " ".join(str(pilot.app.screen.query_one(where, Static).content).split())


def rows(pilot: Pilot[None]) -> list[str]:
    table = pilot.app.screen.query_one(DataTable)
    return [" ".join(str(cell) for cell in table.get_row_at(n)) for n in range(table.row_count)]


def test_open_events_by_risk_with_choices_and_a_chart(book: Any) -> None:
    fouled(book)

    async def steps(pilot: Pilot[None]) -> None:
        assert isinstance(pilot.app.screen, ContaminationScreen)
        first, second = rows(pilot)
        assert "Oak flat" in first
        assert "bear use" in second
        choices = shown(pilot, "#choices")
        for way in ("wait", "bail and refill", "drain and cover", "move the tank"):
            assert way in choices
        assert "dilution only; safety unknown" in choices
        assert "Carcass" in shown(pilot, "#cautions")
        assert "Moving carcasses" in shown(pilot, "#cautions")
        chart = pilot.app.screen.query_one(LevelChart)
        assert chart.data is not None
        assert chart.data.is_log
        await press(pilot, "Z", "V")
        assert chart.data is not None
        assert not chart.data.is_log
        await press(pilot, "Z", "down")
        assert "habit" in chart.data.y_label
        assert "bail and refill" not in shown(pilot, "#choices")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, StationScreen)
        assert "water clear" in shown(pilot, "#due")

    drive_contamination(book, steps)


def test_another_plan_is_reckoned_and_an_impossible_one_refused(book: Any) -> None:
    fouled(book)

    async def steps(pilot: Pilot[None]) -> None:
        usual = shown(pilot, "#choices")
        assert "Bails 90% a round" in usual
        await pilot.press("b", *"140", "enter")
        assert "140 percent cannot be" in shown(pilot, ".said")
        await press(pilot, "home", *["delete"] * 3, *"50", "enter", *"20", "enter")
        halved = shown(pilot, "#choices")
        assert "Bails 50% a round, 20 gal a load" in halved
        wait, refill = (
            [text.partition(way)[2].split()[:10] for text in (usual, halved)]
            for way in (" wait ", "bail and refill")
        )
        assert wait[0][:5] == wait[1][:5]
        assert refill[0] != refill[1]
        await pilot.press("escape")
        assert not isinstance(pilot.app.screen, ContaminationScreen)

    drive_contamination(book, steps)


def test_work_is_added_to_the_event_at_the_cursor(book: Any) -> None:
    fouled(book)

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "e")
        assert isinstance(pilot.app.screen, EventScreen)
        assert "open event: drowned animal" in shown(pilot, "#head")
        await press(pilot, "y", "enter")
        assert len(rows(pilot)) == 1

    drive_contamination(book, steps)


def test_history_counts_events_by_station_and_cause(book: Any) -> None:
    fouled(book)

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "asterisk")
        assert isinstance(pilot.app.screen, ContaminationHistoryScreen)
        lines = "\n".join(
            pilot.app.screen.query_one("#tables").render_line(y).text for y in range(20)
        )
        told = [" ".join(line.split()) for line in lines.splitlines()]
        # Oak flat: 10 days of dye and 59 of the carcass up to 1 October; its ramp was missing.
        assert "Oak flat 2 0 2 69" in told
        assert "Rocks 1 0 0 92" in told
        assert "dye 1 0 1 10" in told

    drive_contamination(book, steps, size=(80, 40))


def test_a_number_of_a_cause_is_changed_undone_and_refused(book: Any) -> None:
    fouled(book)

    async def steps(pilot: Pilot[None]) -> None:
        await press(pilot, "F", "down", "enter", "5", "enter")
        assert isinstance(pilot.app.screen, CauseValuesScreen)
        assert "from 0.001 to 1" in shown(pilot, ".said")
        await press(pilot, "home", "delete", *"0.2", "enter")
        assert "1 changed in this logbook" in shown(pilot, "#status")
        assert "Set to 0.2" in shown(pilot, "#evidence")
        assert "Documented: 0.05" in shown(pilot, "#evidence")
        await press(pilot, "u")
        assert "changed" not in shown(pilot, "#status")

    drive_contamination(book, steps)
    assert book.entries(CauseSetting) == []


def test_without_an_open_event_the_other_views_are_there(book: Any) -> None:
    async def steps(pilot: Pilot[None]) -> None:
        assert "No tank is fouled" in shown(pilot, "#none")
        await pilot.press("b", "e", "Z")
        assert isinstance(pilot.app.screen, ContaminationScreen)
        await press(pilot, "A")
        told = " ".join(str(one.content) for one in pilot.app.screen.query(Static))
        assert "Ice needs no treatment" in told
        assert "Put no bleach" in told

    drive_contamination(book, steps)
