"""The morning screen: every station, what it holds, and what is next."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar

from rich.text import Text
from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Input, Static

from store.model.board import Board
from store.views.overview import OverviewRow, overview, overview_totals
from tui.base.board_screen import BoardScreen
from tui.base.doors import door
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.table import KeyedTable
from tui.key_table import bind
from tui.overview.columns import (
    FIRST_STEPS,
    Line,
    TractHeading,
    columns_for,
    detail,
    status,
    totals_line,
)

SortKey = Callable[[OverviewRow], Any]
LAST = 10**9

HEADING = "tract: "
"""What the key of a tract's line begins with."""
NEED_STATIONS = frozenset(
    {"check_in", "due", "event", "season", "filter", "next_tract", "next_sort", "outlook"}
)

SORTS: tuple[tuple[str, SortKey], ...] = (
    ("tract", lambda row: (row.tract.casefold(), row.label.casefold())),
    ("level, lowest first", lambda row: row.level.share if row.level else LAST),
    (
        "urgency",
        lambda row: row.next_due.priority if row.next_due else LAST,
    ),
    (
        "longest unseen",
        lambda row: -(LAST if row.days_since_look is None else row.days_since_look),
    ),
    ("name", lambda row: row.label.casefold()),
)


class StationTable(KeyedTable[Line]):
    """The stations; the cursor steps over the lines of tracts. Says what Enter does."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", key_display="Enter", id="overview.station",
                tooltip="Open the station at the cursor: chart, facts and log"),
        Binding("home", "first", "First", show=False, id="overview.first",
                tooltip="Move to the first station"),
        Binding("end", "last", "Last", show=False, id="overview.last",
                tooltip="Move to the last station"),
    ]  # fmt: skip

    def action_first(self) -> None:
        self.move_cursor(row=0)
        self._step(1)

    def action_last(self) -> None:
        self.move_cursor(row=self.row_count - 1)

    def action_cursor_up(self) -> None:
        super().action_cursor_up()
        if self.on_heading and not self._step(-1):
            super().action_cursor_down()

    def action_cursor_down(self) -> None:
        super().action_cursor_down()
        self._step(1)

    def _step(self, rows: int) -> bool:
        """Off a heading, to the row before or after it; False where there is none."""
        row = self.cursor_row + rows
        if not self.on_heading:
            return True
        if not 0 <= row < self.row_count:
            return False
        self.move_cursor(row=row)
        return True

    @property
    def on_heading(self) -> bool:
        return (self.here or "").startswith(HEADING)


class OverviewScreen(BoardScreen):
    """Stations as rows; the lines below the table say all about the one at the cursor."""

    AUTO_FOCUS = ""
    from_the_log = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "clear_filter", "Show all", show=False, id="overview.clear",
                tooltip="Drop every filter"),
        door("check_in", "overview"),
        door("event", "overview"),
        door("due", "overview"),
        door("season", "overview"),
        door("outlook", "overview", show=False),
        door("contamination", "overview", show=False),
        bind("find", "filter", "Find", id="overview.filter",
             tooltip="Type part of a station's or tract's name"),
        bind("tract", "next_tract", "Tract", show=False, id="overview.tract",
             tooltip="Show one tract after the other, then all"),
        bind("sort", "next_sort", "Sort", show=False, id="overview.sort",
             tooltip="Sort by tract, level, urgency, longest unseen, name"),
        door("review", "overview", show=False),
        door("new", "overview", show=False),
        door("import", "overview", show=False),
        door("log", "overview", show=False),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._rows: dict[str, OverviewRow] = {}
        self._sort = 0
        self._width = 80

    def compose(self) -> ComposeResult:
        yield Static(id="status", markup=False)
        every = key_of(self.BINDINGS, "clear_filter")
        yield Input(placeholder=f"Part of a name; Enter keeps, {every} shows all", id="filter")
        yield Static(id="totals", markup=False)
        yield StationTable(id="table")
        yield Static(FIRST_STEPS, id="first-steps")
        yield Static(id="detail", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self._show_filter(False)
        self.query_one("#first-steps").display = False
        self._table.focus()

    @property
    def _table(self) -> StationTable:
        return self.query_one(StationTable)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is no way back from here, and without stations the keys about them do nothing."""
        wanted = parameters[0] if action == "open" else action
        if wanted == "back" or (wanted in NEED_STATIONS and not self._rows):
            return False
        return super().check_action(action, parameters)

    def on_resize(self, event: events.Resize) -> None:
        if event.size.width != self._width:
            self._width = event.size.width
            self._fill()

    def show(self, board: Board) -> None:
        self._rows = {row.station.station_id: row for row in overview(board)}
        empty = not self._rows
        self.query_one("#first-steps").display = empty
        self._table.display = self._table.can_focus = not empty
        if empty:
            self.set_focus(None)
        elif self.focused is None:
            self._table.focus()
        for part in ("#detail", "#totals"):
            self.query_one(part).display = not empty
        self._fill()
        self.refresh_bindings()

    def show_working(self) -> None:
        self.query_one("#status", Static).update("Reading the logbook and the weather ...")

    def _fill(self) -> None:
        """Fill the table anew, keeping the cursor on its station."""
        board = self.brimbook.board
        if board is None:
            return
        rows = self._shown()
        self._table.fill(columns_for(board, self._width), self._lines(board, rows))
        if self._table.on_heading:
            self._table.action_cursor_down()
        totals = overview_totals(board, rows)
        self.query_one("#totals", Static).update(totals_line(totals, board.snapshot.units))
        self._show_status(board)
        self._show_detail()

    def _lines(self, board: Board, rows: list[OverviewRow]) -> dict[str, Line]:
        """The rows by key, with a heading over each tract while they stand by tract."""
        tracts = dict.fromkeys(row.tract for row in rows)
        lines: dict[str, Line] = {}
        headed = self._sort == 0 and len(tracts) > 1
        for tract in tracts if headed else ():
            own = [row for row in rows if row.tract == tract]
            lines[f"{HEADING}{tract}"] = TractHeading(tract, overview_totals(board, own))
            lines |= {row.station.station_id: row for row in own}
        return lines if headed else {row.station.station_id: row for row in rows}

    def _shown(self) -> list[OverviewRow]:
        wanted = self.query_one("#filter", Input).value.strip().casefold()
        rows = [
            row
            for row in self._rows.values()
            if (self.brimbook.shown_tract is None or row.tract == self.brimbook.shown_tract)
            and wanted in f"{row.tract} {row.label}".casefold()
        ]
        return sorted(rows, key=SORTS[self._sort][1])

    def _show_status(self, board: Board) -> None:
        view = f"by {SORTS[self._sort][0]}" + (
            f", {self.brimbook.shown_tract} only" if self.brimbook.shown_tract else ""
        )
        wanted = self.query_one("#filter", Input).value.strip()
        view += f", named {wanted!r}" if wanted else ""
        self.query_one("#status", Static).update(status(board, view))

    @property
    def station_id(self) -> str | None:
        return None if self._table.on_heading else self._table.here

    @on(DataTable.RowHighlighted)
    def _show_detail(self) -> None:
        board, here = self.brimbook.board, self.station_id
        text = Text() if board is None or here is None else detail(board, self._rows[here])
        self.query_one("#detail", Static).update(text)

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    @on(DataTable.HeaderSelected)
    def action_next_sort(self) -> None:
        self._sort = (self._sort + 1) % len(SORTS)
        self._fill()

    def action_filter(self) -> None:
        self._show_filter(True)
        self.query_one("#filter").focus()

    def _show_filter(self, shown: bool) -> None:
        """Show or hide the field; while it is hidden it takes no keys."""
        field = self.query_one("#filter", Input)
        field.display = shown
        field.disabled = not shown

    @on(Input.Changed, "#filter")
    def _filter_typed(self) -> None:
        self._fill()

    @on(Input.Submitted, "#filter")
    def _filter_kept(self) -> None:
        self._table.focus()

    def action_clear_filter(self) -> None:
        field = self.query_one("#filter", Input)
        field.value = ""
        self._show_filter(False)
        self.brimbook.shown_tract = None
        self._table.focus()
        self._fill()

    def action_next_tract(self) -> None:
        tracts = sorted({row.tract for row in self._rows.values()}, key=str.casefold)
        choices: list[str | None] = [None, *tracts]
        shown = self.brimbook.shown_tract
        at = choices.index(shown) if shown in choices else 0
        self.brimbook.shown_tract = choices[(at + 1) % len(choices)]
        self._fill()
