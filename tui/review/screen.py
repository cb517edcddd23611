"""The seasons of every station, one line each; below, what the station at the cursor teaches."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import DataTable, Static

from store.errors import BadValue, BrimbookError
from store.file_out import written_to
from store.model.board import Board
from store.reports.review_html import page_of
from store.views.review import SeasonLine, season_lines_of
from store.views.what_if import Tried, tried
from tui import words
from tui.base.doors import door
from tui.base.field_screen import TableFieldScreen
from tui.base.in_thread import work_out, work_through
from tui.base.key_line import KeyLine
from tui.base.keys import page_keys, row_keys
from tui.base.path_line import path_from
from tui.base.table import KeyedTable
from tui.base.typed_field import TypedField
from tui.review.words import columns_for, teaches

PAGE_NAME = "season-review.html"
COUNTS = "in days; Won: wet days by fills; Quiet: visits in quiet weeks"
"""What the columns count."""


class SeasonTable(KeyedTable[SeasonLine], inherit_bindings=False):
    """A station and season a line; says in the footer what Enter does."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select_cursor", "Station", key_display="Enter", id="review.station",
                tooltip="Open the station at the cursor: chart, facts and log"),
        *row_keys("review", "line"),
        *page_keys("review", "a page"),
    ]  # fmt: skip


class ReviewScreen(TableFieldScreen):
    """The season under way first; arrows across go to others, and to all of them."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "season(-1)", "Before", key_display="←", id="review.before",
                tooltip="The season before, or from the first one all seasons"),
        Binding("right", "season(1)", "After", key_display="→", id="review.after",
                tooltip="The season after"),
        Binding("f2", "page", "Page", key_display="F2", id="review.page",
                tooltip="Write the review of all seasons as a page for a browser, to print"),
        door("facts", "review", show=False),
    ]  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._board: Board | None = None
        self._lines: dict[str, SeasonLine] = {}
        self._year: int | None = None
        """The season shown; None is the latest, or all where so asked."""
        self._all = False
        self._found: dict[str, Tried | str] = {}
        self._trying: str | None = None

    def compose(self) -> ComposeResult:
        yield Static("Looking back over the seasons ...", id="status", markup=False)
        yield SeasonTable()
        yield Static(id="teaches", markup=False)
        yield TypedField(id="field")
        yield KeyLine()

    def on_mount(self) -> None:
        self.set_focus(self._table)

    @property
    def _table(self) -> SeasonTable:
        return self.query_one(SeasonTable)

    @property
    def station_id(self) -> str | None:
        line = self._here
        return None if line is None else line.season.station_id

    @property
    def _here(self) -> SeasonLine | None:
        return self._lines.get(self._table.here or "")

    def show(self, board: Board) -> None:
        self._board = board
        self._lines.clear()
        self._found.clear()
        self._trying = None
        work_through(
            self, "seasons", season_lines_of(board), self._take, self.brimbook.say_wrong,
            lambda: self._board is board,
        )  # fmt: skip

    def _take(self, line: SeasonLine) -> None:
        self._lines[f"{line.season.station_id} {line.season.year}"] = line
        self.redraw()

    @property
    def _years(self) -> list[int]:
        return sorted({line.season.year for line in self._lines.values()})

    def redraw(self) -> None:
        board = self._board
        if board is None:
            return
        if not self._lines:
            text = "No station stood in a season yet, so there is nothing to look back on."
            self.query_one("#status", Static).update(text)
            return
        year = None if self._all else self._year or self._years[-1]
        shown = {k: line for k, line in self._lines.items() if year in (None, line.season.year)}
        which = "All seasons" if year is None else f"Season {year}"
        only = "   one season only, nothing to compare with" if len(self._years) == 1 else ""
        self.query_one("#status", Static).update(f"{which}   {COUNTS}{only}")
        self._table.fill(columns_for(board.snapshot.units, self.app.size.width), shown)
        self._tell()

    @on(DataTable.RowHighlighted)
    def _tell(self) -> None:
        line, board = self._here, self._board
        if line is None or board is None:
            self.query_one("#teaches", Static).update("")
            return
        station_id = line.season.station_id
        found = self._found.get(station_id)
        self.query_one("#teaches", Static).update(teaches(line, found))
        if found is None and self._trying != station_id:
            self._trying = station_id
            self._try(board, station_id)

    def _try(self, board: Board, station_id: str) -> None:
        """Work out the forms of a station, unless the cursor has gone on meanwhile."""

        def work() -> Tried | str:
            retired = board.snapshot.histories[station_id].retired
            if retired is not None:
                return f"Given up on {words.full_day(retired)}."
            try:
                return tried(board, station_id)
            except BadValue as error:
                return str(error)

        def take(found: Tried | str) -> None:
            self._found[station_id] = found
            self._tell()

        work_out(self, "forms", work, take, self.brimbook.say_wrong, lambda: self._board is board)

    @on(DataTable.RowSelected)
    def _open_station(self) -> None:
        self.action_open("station")

    def action_season(self, steps: int) -> None:
        years = self._years
        if not years:
            return
        choices: list[int | None] = [None, *years]
        now = None if self._all else self._year or years[-1]
        chosen = choices[(choices.index(now) + steps) % len(choices)] if now in choices else None
        self._all, self._year = chosen is None, chosen
        self.redraw()

    def action_page(self) -> None:
        self.field.ask("page", "Write the page to", str(Path.home() / PAGE_NAME))

    async def entered(self) -> None:
        if self.taken():
            self._close_field()

    def taken(self) -> bool:
        """Write the page where the field says; False when that is no path."""
        board, text = self._board, self.field.text
        if self.field.asking is None or board is None or not text:
            return True
        try:
            path = path_from(text)
        except BrimbookError as error:
            self.field.say(str(error))
            return False
        lines = tuple(self._lines.values())

        def write() -> str:
            page = page_of(board, lines)
            with written_to(path):
                path.write_bytes(page)
            return f"Wrote {path}; open it in a browser to read or print it."

        self.brimbook.say("Writing the page; it takes a few seconds.")
        work_out(self.app, "page", write, self.brimbook.say, self.brimbook.say_wrong)
        return True
