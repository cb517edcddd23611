"""The season of all stations, week by week, with what is due and what was done."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from dateutil.relativedelta import relativedelta
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Static

from store.model.board import Board
from store.views.timeline import SeasonTimeline, TimelineRow, earliest_day, season_timeline
from store.views.timeline_cell import due_rows_at, windows_at
from tui.base.board_screen import BoardScreen
from tui.base.doors import door
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.key_table import bind
from tui.season.timeline import timeline_data
from tui.season.words import LEGEND, WIDE_LEGEND, told_lines
from tui.widgets.timeline import Timeline

WEEKS, TWO_DAYS = 7, 2
"""Days a column to begin with: what shows a season at a time."""


class SeasonScreen(BoardScreen):
    """The timeline opens on today and on the station it was asked for."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    BINDINGS: ClassVar[list[BindingType]] = [
        door("check_in_here", "season",
             tooltip="Enter what was seen or done at the station at the cursor"),
        door("event", "season", show=False),
        door("season_settings", "season"),
        door("due", "season", show=False),
        bind("day", "go_to_day", "Day", id="season.day",
             tooltip="Type the day that the cursor goes to; Enter alone is today"),
        bind("year", "year_before", "Year", show=False, id="season.year_before",
             tooltip="Move back a year; past seasons are shown as far as the log goes"),
        bind("tract", "next_tract", "Tract", show=False, id="season.tract",
             tooltip="Show one tract after the other, then all"),
        bind("all", "only_due", "Due", id="season.only_due",
             tooltip="Show only stations with work due in the window at the cursor, or all"),
    ]  # fmt: skip

    def __init__(self, station_id: str | None = None) -> None:
        super().__init__()
        self._wanted = station_id
        self._timeline: SeasonTimeline | None = None
        self._rows: dict[str, TimelineRow] = {}
        self._at: tuple[str, date, date] | None = None
        self._due_at: tuple[date, date] | None = None
        self._years_back = 1
        self._tract: str | None = None

    def compose(self) -> ComposeResult:
        yield Timeline(days_per_column=TWO_DAYS if self.wide else WEEKS, id="timeline")
        yield Static("Reading the logbook ...", id="told", markup=False)
        yield Static(id="legend", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self._widget.focus()

    def action_go_to_day(self) -> None:
        """Ask for a day of the log's years, or of those ahead that are laid out."""
        board, timeline = self.brimbook.board, self._timeline
        if board is not None and timeline is not None:
            first = min(timeline.first_day, earliest_day(board).replace(month=1, day=1))
            self.ask_day(first, timeline.last_day, self._go_to, self._widget.cursor_day)

    def _go_to(self, day: date) -> None:
        """Put the cursor on a day, with its season laid out where it was not yet."""
        board, timeline = self.brimbook.board, self._timeline
        if board is None or timeline is None:
            return
        if day < timeline.first_day:
            self._years_back += timeline.first_day.year - day.year
            self.show(board)
        self._widget.move_to_day(day)

    @property
    def _widget(self) -> Timeline:
        return self.query_one("#timeline", Timeline)

    def on_resize(self) -> None:
        self._show_legend()
        self.when_drawn(self._tell)

    def show(self, board: Board) -> None:
        self._timeline = season_timeline(board, self._years_back)
        self._rows = {row.station.station_id: row for row in self._timeline.rows}
        self._load()
        if self._wanted is not None:
            self._widget.move_to_key(self._wanted)
            self._wanted = None

    def _load(self) -> None:
        """Fill the widget with all rows, or with those due where that was asked for."""
        board, timeline = self.brimbook.board, self._timeline
        if board is None or timeline is None:
            return
        rows = timeline.rows if self._due_at is None else due_rows_at(timeline, *self._due_at)
        if not rows:
            self._due_at = None
            rows = timeline.rows
            self.brimbook.say("Nothing is due at any station there; all are shown.")
        rows = tuple(row for row in rows if self._tract in (None, row.tract))
        self._widget.load(timeline_data(timeline, rows, board.snapshot.units))

    @on(Timeline.CursorMoved)
    def _cursor_moved(self, message: Timeline.CursorMoved) -> None:
        self._at = message.row_key, message.day, message.last_day
        self._tell()

    def _tell(self) -> None:
        board, timeline = self.brimbook.board, self._timeline
        if board is None or timeline is None or self._at is None or self._at[0] not in self._rows:
            return
        key, first, last = self._at
        told = self.query_one("#told", Static)
        size = told.content_size
        if not size.height:
            return
        text = told_lines(
            timeline,
            self._rows[key],
            first,
            last,
            board.snapshot.units,
            size.width,
            size.height,
        )
        told.update(text, layout=False)

    @on(Timeline.Selected)
    def _open_station(self) -> None:
        self.action_open("station")

    @property
    def station_id(self) -> str | None:
        return None if self._at is None else self._at[0]

    def action_only_due(self) -> None:
        """Keep the rows due in the window at the cursor; once more shows all."""
        if self._at is None or self._timeline is None:
            return
        _, first, last = self._at
        self._due_at = (first, last) if self._due_at is None else None
        self._load()
        self._show_legend()

    def action_next_tract(self) -> None:
        """The rows of the next tract, and after the last one all of them."""
        if self._timeline is None:
            return
        tracts = list(dict.fromkeys(row.tract for row in self._timeline.rows))
        choices = [None, *tracts]
        here = choices.index(self._tract) if self._tract in choices else 0
        self._tract = choices[(here + 1) % len(choices)]
        self._load()
        self._show_legend()

    def action_year_before(self) -> None:
        """The same day a year before."""
        board, timeline = self.brimbook.board, self._timeline
        if board is None or timeline is None:
            return
        day = self._widget.cursor_day - relativedelta(years=1)
        if day < timeline.first_day and day.year < earliest_day(board).year:
            self.brimbook.say("The log does not go back farther.")
        else:
            self._go_to(day)

    def _show_legend(self) -> None:
        """The glyphs, or while rows are left out, which ones are shown."""
        text = WIDE_LEGEND if self.wide else LEGEND
        if self._due_at is not None and self._at is not None:
            windows = windows_at(self._rows[self._at[0]], *self._due_at)
            where = ", ".join(window.name for window in windows) or "the days then at the cursor"
            every = key_of(self.BINDINGS, "only_due")
            text = f"Only stations with work due: {where}. {every} shows all."
        elif self._tract is not None:
            text = f"{self._tract} alone. {key_of(self.BINDINGS, 'next_tract')} shows the next."
        self.query_one("#legend", Static).update(text)
