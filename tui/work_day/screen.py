"""A day of work on all that is due: chosen, planned, and written out to take along."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import DataTable, Static

from store.errors import BadValue, BrimbookError, Refused
from store.file_out import written_to
from store.haul.distance import MINUTES_PER_HOUR
from store.haul.problem import NO_LIMITS
from store.model.board import Board
from store.model.work_kit import work_kit
from store.reports.day_sheet import sheet_html
from store.typed import as_typed, day_typed, number_from
from store.views.work_cautions import work_cautions
from store.views.work_day import WorkDay, nearest_work_day, refuse_day, work_day
from tui.base.field_screen import TableFieldScreen
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.path_line import path_from
from tui.base.typed_field import AMOUNT, DATE, NUMBER, TypedField, typed_volume_l
from tui.work_day.keys import WORK_DAY_KEYS, WorkTable
from tui.work_day.kit_screen import KitScreen
from tui.work_day.lines import columns_for, lines_of, notes_of, status_of, strip_of

WORKING = "Planning the day ..."


class WorkDayScreen(TableFieldScreen):
    """Planned anew in a thread whenever the day, a limit or the kit changes."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = WORK_DAY_KEYS

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._day: WorkDay | None = None
        self._on: date | None = None
        self._limits = NO_LIMITS
        self._left_out: dict[str, str] = {}
        self._asked = 0
        self._may_replace: Path | None = None

    def compose(self) -> ComposeResult:
        yield Static(WORKING, id="status", markup=False)
        yield WorkTable(id="steps")
        yield Static(id="strip", markup=False)
        with VerticalScroll(id="scrolled", can_focus=False):
            yield Static(id="notes", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> WorkTable:
        return self.query_one(WorkTable)

    def show(self, board: Board) -> None:
        if self._board is not None and self._board.snapshot.units is not board.snapshot.units:
            self._close_field()
        self._board = board
        self._on = nearest_work_day(self._on or board.snapshot.today, board.snapshot.today)
        self._plan()

    def _plan(self) -> None:
        """Plan the day in a thread; what runs for an earlier question is dropped."""
        board, day, limits = self._board, self._on, self._limits
        if board is None or day is None:
            return
        self._asked += 1
        asked = self._asked
        only = [one for one in board.snapshot.places.stations if one not in self._left_out]
        session = self.brimbook.session

        def plan() -> WorkDay:
            return work_day(board, session.do(work_kit), day, limits, only)

        self.query_one("#status", Static).update(WORKING)
        work_out(self, "work day", plan, self._take, self._fail, lambda: asked == self._asked)

    def _take(self, day: WorkDay) -> None:
        self._day = day
        self.redraw()

    def _fail(self, error: BrimbookError) -> None:
        self._day = None
        self._table.clear(columns=True)
        self.query_one("#status", Static).update(f"! {error}")
        self.query_one("#strip", Static).update("")
        self.query_one("#notes", Static).update("")

    def redraw(self) -> None:
        day, board = self._day, self._board
        if day is None or board is None:
            return
        width = self.app.size.width
        self.query_one("#status", Static).update(status_of(day, width))
        self._table.fill(columns_for(day.units, width), lines_of(day))
        left_out = tuple(self._left_out.values())
        notes = notes_of(day, left_out, work_cautions(board, day))
        self.query_one("#notes", Static).update(notes)
        self._show_strip()

    @on(DataTable.RowHighlighted)
    def _show_strip(self) -> None:
        day = self._day
        if day is not None:
            line = lines_of(day).get(self._table.here or "")
            self.query_one("#strip", Static).update(strip_of(line, day.units))

    @property
    def station_id(self) -> str | None:
        day = self._day
        line = None if day is None else lines_of(day).get(self._table.here or "")
        return None if line is None or line.stop is None else line.stop.station.station_id

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    def action_shift(self, days: int) -> None:
        board, day = self._board, self._on
        if board is None or day is None:
            return
        self.field.say("")
        self._on = nearest_work_day(day + timedelta(days=days), board.snapshot.today)
        self._plan()

    def action_leave_out(self) -> None:
        board, here = self._board, self.station_id
        if board is None or here is None:
            self.field.say("Move to a stop to leave it out; water alone cannot be left out.")
            return
        self._left_out[here] = board.snapshot.places.label(board.snapshot.places.stations[here])
        self.field.say("")
        self._plan()

    def action_take_in(self) -> None:
        self._left_out.clear()
        self.field.say("")
        self._plan()

    async def action_kit(self) -> None:
        board = self._board
        if board is not None:
            await self.app.push_screen(KitScreen(), lambda _: self._plan())

    def action_ask(self, what: str) -> None:
        day, limits = self._day, self._limits
        if self._board is None or self._on is None or (what == "path" and day is None):
            return
        units = self._board.snapshot.units
        self._may_replace = None
        none = "empty: no limit"
        minutes, litres = limits.minutes, limits.water_l
        match what:
            case "date":
                self.field.ask(what, f"Day of the work, now {self._on}", only=DATE)
            case "hours":
                hours = None if minutes is None else minutes / MINUTES_PER_HOUR
                self.field.ask(what, f"Hours at most ({none})", as_typed(hours), only=NUMBER)
            case "loads":
                self.field.ask(what, f"Loads at most ({none})", as_typed(limits.loads), only=NUMBER)
            case "water":
                shown = None if litres is None else units.volume(litres)
                label = f"{units.volume_name} at most ({none})"
                self.field.ask(what, label, as_typed(shown), only=AMOUNT)
            case "path":
                self.field.ask(what, "Write the sheet to", f"sheet-{self._on}.html")

    async def entered(self) -> None:
        if self.field.asking == "path":
            await self._write_sheet(self.field.text)
        else:
            self.taken()

    def check(self, asking: str, text: str) -> None:
        if self._board is None:
            return
        match asking:
            case "date":
                day_typed(text, self._board.snapshot.today, ahead=True)
            case "hours" | "loads":
                number_from(text)
            case "water":
                typed_volume_l(text, self._board.snapshot.units)

    def taken(self) -> bool:
        asking = self.field.asking
        if asking is None or asking == "path":
            return True
        try:
            self._set(asking, self.field.text)
        except BadValue as error:
            self.field.say(str(error))
            return False
        self._close_field()
        self._plan()
        return True

    def _set(self, what: str, text: str) -> None:
        """Take a day or a limit as it was typed.

        Raises:
            BadValue: it cannot be read.
        """
        board, limits = self._board, self._limits
        if board is None:
            return
        on, number = self._on, None
        if what == "date":
            on = day_typed(text, board.snapshot.today, ahead=True) if text else on
        elif text and what != "water":
            number = number_from(text)
        if what == "hours":
            minutes = None if number is None else number * MINUTES_PER_HOUR
            limits = replace(limits, minutes=minutes)
        elif what == "loads":
            if number is not None and number != int(number):
                raise BadValue(f"{text} is no number of loads; type a whole number.")
            limits = replace(limits, loads=None if number is None else int(number))
        elif what == "water":
            limits = replace(limits, water_l=typed_volume_l(text, board.snapshot.units))
        if on is not None:
            refuse_day(board.snapshot.today, on, limits)
        self._on, self._limits = on, limits

    async def _write_sheet(self, text: str) -> None:
        """Write the page of the day in a thread, and say where it is."""
        board, day = self._board, self._day
        try:
            path = path_from(text)
            if board is None or day is None or not text:
                raise Refused("Type the path of the file to write.")
            if path.exists() and path != self._may_replace:
                self._may_replace = path
                raise Refused(f"{path} exists; Enter again writes over it, Esc leaves it.")
            await asyncio.to_thread(_write, path, board, day)
        except BrimbookError as error:
            self.field.say(str(error))
            return
        self._close_field()
        self.brimbook.say(f"Wrote {path.resolve()}. Open it in a browser, or print it.")


def _write(path: Path, board: Board, day: WorkDay) -> None:
    """Write the page of a day.

    Raises:
        BadFile: it cannot be written there.
    """
    page = sheet_html(board, day)
    with written_to(path):
        path.write_text(page, encoding="utf-8")
