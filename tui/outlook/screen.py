"""The outlook of all stations to a day ahead, with or without water brought before."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import ClassVar

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue
from store.model.board import Board
from store.views.outlook import (
    Outlook,
    nearest_end,
    outlooks,
    planned_fill,
    typed_end,
)
from tui import words
from tui.base.field_screen import TableFieldScreen
from tui.base.in_thread import work_through
from tui.base.key_line import KeyLine
from tui.base.typed_field import AMOUNT, DATE, TypedField, typed_volume_l
from tui.outlook.columns import columns_for
from tui.outlook.keys import OUTLOOK_KEYS, OutlookTable
from tui.outlook.question import OutlookQuestion


class OutlookScreen(TableFieldScreen):
    """Rows fill in as they are worked out; the strip tells of the one at the cursor."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = OUTLOOK_KEYS

    def __init__(self, station_id: str | None = None) -> None:
        super().__init__()
        self._wanted = station_id
        self._asked: OutlookQuestion | None = None
        self._fills: dict[str, float | None] = {}
        self._filling = ""
        self._by_chance = False

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield OutlookTable()
        yield Static(id="strip", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> OutlookTable:
        return self.query_one(OutlookTable)

    def show(self, board: Board) -> None:
        before = self._asked
        until = board.snapshot.heavy_use_end if before is None else before.until
        if before is not None and before.board.snapshot.units is not board.snapshot.units:
            self._close_field()
        self._ask(board, nearest_end(until, board.snapshot.today))

    def _ask(self, board: Board, until: date) -> None:
        self._asked = OutlookQuestion(board, until, self._fills)
        self._fill_table()
        self._work_out_missing()

    def _work_out_missing(self) -> None:
        """Work out what is not known yet; what runs for an earlier question ends."""
        asked = self._asked
        if asked is not None:
            work_through(
                self,
                "outlook",
                _missing_outlooks(asked),
                lambda outlook: self._take_outlook(asked, outlook),
                self.brimbook.say_wrong,
                lambda: asked is self._asked,
            )

    def _take_outlook(self, asked: OutlookQuestion, outlook: Outlook) -> None:
        asked.take(outlook)
        if self._by_chance and not asked.missing:
            self._fill_table()
        else:
            self._show_line(outlook.station.station_id)
        self._show_status()

    def _fill_table(self) -> None:
        """Fill the table anew, keeping the cursor on its station."""
        asked = self._asked
        if asked is None:
            return
        top_ups = {asked.board.snapshot.top_up_day(one) for one in asked.station_ids}
        columns = columns_for(asked.board, asked.until, top_ups, self.app.size.width)
        lines = {line.station.station_id: line for line in asked.lines(by_chance=self._by_chance)}
        self._table.fill(columns, lines, self._wanted)
        self._wanted = None
        self._show_status()
        self._show_strip()

    def _show_line(self, station_id: str) -> None:
        asked = self._asked
        if asked is None or station_id not in self._table.rows:
            return
        self._table.show_line(station_id, asked.line(station_id))
        if station_id == self.station_id:
            self._show_strip()

    def _show_status(self) -> None:
        if self._asked is not None:
            status = self._asked.status(by_chance=self._by_chance)
            self.query_one("#status", Static).update(status)

    @property
    def station_id(self) -> str | None:
        return self._table.here

    @on(DataTable.RowHighlighted)
    def _show_strip(self) -> None:
        asked, here = self._asked, self.station_id
        text = Text("No station is in service.")
        if asked is not None and here is not None:
            text = asked.strip(here, self.app.size.width)
        self.query_one("#strip", Static).update(text)

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    @on(DataTable.HeaderSelected)
    def action_sort(self) -> None:
        self._by_chance = not self._by_chance
        self._fill_table()

    def action_shift(self, days: int) -> None:
        asked = self._asked
        if asked is None:
            return
        wanted = asked.until + timedelta(days=days)
        until = nearest_end(wanted, asked.board.snapshot.today)
        if until == asked.until:
            self.field.say("An outlook reaches from tomorrow to a year ahead.")
            return
        self.field.say("")
        self._ask(asked.board, until)

    def action_date(self) -> None:
        if self._asked is not None:
            self.field.ask("date", f"Look ahead to a day, now {self._asked.until}", only=DATE)

    def action_fill(self) -> None:
        asked, here = self._asked, self.station_id
        if asked is None or here is None:
            return
        if here not in asked.with_level:
            self.field.say("This station has no level, so a fill cannot be tried.")
            return
        self._filling = here
        self.field.ask("fill", words.brought(asked.board.snapshot.units), only=AMOUNT)

    def action_drop_fills(self) -> None:
        self.field.say("")
        if self._asked is not None and self._fills:
            self._fills.clear()
            self._asked.filled.clear()
            self._fill_table()

    def check(self, asking: str, text: str) -> None:
        if asking == "fill" and self._asked is not None:
            typed_volume_l(text, self._asked.board.snapshot.units)

    def taken(self) -> bool:
        asked, asking, text = self._asked, self.field.asking, self.field.text
        if asked is None or asking is None:
            return True
        try:
            if asking == "date":
                until = typed_end(text, asked.board.snapshot.today) if text else asked.until
                self._close_field()
                if until != asked.until:
                    self._ask(asked.board, until)
            else:
                self._try_fill(asked, text)
                self._close_field()
        except BadValue as error:
            self.field.say(str(error))
            return False
        return True

    def _try_fill(self, asked: OutlookQuestion, text: str) -> None:
        """Work out a fill as typed.

        Raises:
            BadValue: it is no number, or not more than nothing.
        """
        snapshot = asked.board.snapshot
        litres = typed_volume_l(text, snapshot.units)
        planned_fill(snapshot, self._filling, asked.until, litres)
        self._fills[self._filling] = litres
        asked.filled.pop(self._filling, None)
        self._fill_table()
        self._work_out_missing()

    def redraw(self) -> None:
        self._fill_table()


def _missing_outlooks(asked: OutlookQuestion) -> Iterator[Outlook]:
    """What is not known yet, first without and then with fills."""
    snapshot, levels, fills = asked.board.snapshot, asked.board.levels, asked.missing_fills
    for only, brought in ((asked.missing, None), (list(fills), fills)):
        if only:
            yield from outlooks(snapshot, levels, asked.until, brought, only)
