"""One station: its level over the season, its facts and its log."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import ClassVar

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Static

from store.errors import NotFound
from store.logbook.photos import PhotoState, photo_state
from store.model.board import Board
from store.records import Photo
from store.views.log_lines import LogLine
from store.views.station_page import StationPage, next_station, station_page
from tui.base.chart_screen import ChartScreen, chart_keys
from tui.base.doors import door
from tui.base.in_thread import work_through
from tui.base.key_line import KeyLine
from tui.base.keys import page_keys
from tui.base.log_marks import log_text
from tui.base.log_work import correct, withdraw
from tui.base.steady_list import SteadyList
from tui.key_table import bind
from tui.station.chart import chart_data, picture
from tui.station.words import (
    due_lines,
    facts_long,
    facts_short,
    heading,
    summary_words,
    why_no_level,
)
from tui.widgets.level_chart import LevelChart

SMALL_PICTURE, LARGE_PICTURE = (5, 18), (8, 32)
"""Rows of the tank's picture, and the most columns."""
ROWS_BESIDES_DUE, MOST_DUE = 21, 8
"""What chart, facts and six entries of the log take; most lines of work due."""
LEAST_DUE = 3


class LogList(SteadyList, inherit_bindings=False):
    """Long lines wrap, so the arrows across are left to the chart above."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "cursor_up", "Newer entry", show=False, id="log.up",
                tooltip="Move to the entry above"),
        Binding("down", "cursor_down", "Older entry", show=False, id="log.down",
                tooltip="Move to the entry below"),
        *page_keys("log", "a page of the log"),
        Binding("home", "first", "Newest", show=False, id="log.first",
                tooltip="Move to the newest entry"),
        Binding("end", "last", "Oldest", show=False, id="log.last",
                tooltip="Move to the oldest entry"),
        bind("correct", "select", "Correct", id="log.correct", first="enter",
             tooltip="Open the entry at the cursor for correction, with all it said before"),
    ]  # fmt: skip


class StationScreen(ChartScreen):
    """The arrows across move the chart's cursor, up and down the log's."""

    CSS_PATH = "screen.tcss"
    from_the_log = True
    BINDINGS: ClassVar[list[BindingType]] = [
        door("check_in_here", "station"),
        door("event", "station", tooltip="Record a contamination event here, or work on one"),
        bind("take_out", "withdraw", "Withdraw", id="station.withdraw",
             tooltip="Take back the log entry at the cursor, after asking"),
        door("season", "station", show=False),
        door("outlook", "station", show=False),
        door("learned", "station", show=False),
        door("site_check", "station", show=False),
        door("facts", "station", show=False),
        door("log_here", "station", show=False),
        bind("next", "other_station(1)", "Next station", show=False, id="station.next",
             tooltip="Go to the next station in the list"),
        bind("before", "other_station(-1)", "Previous station", show=False, id="station.previous",
             tooltip="Go to the station before in the list"),
        *chart_keys("station"),
    ]  # fmt: skip

    def __init__(self, station_id: str, entry_id: str | None = None) -> None:
        super().__init__()
        self._station_id = station_id
        self._since: date | None = None
        """The chart shows this day's year as well, where it is an earlier one."""
        self._wanted = entry_id
        """The entry to stand on once it, and the chart, are shown."""
        self._page: StationPage | None = None

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="heading", markup=False)
        yield Static(id="due", markup=False)
        yield Static(id="told", markup=False)
        with Container(id="top"):
            with Container(id="course"):
                yield LevelChart(apart=True, id="chart")
                yield Static(id="summary", markup=False)
            yield Static(id="no-level", markup=False)
            with Container(id="side"):
                yield Static(id="picture", markup=False)
                yield Static(id="facts", markup=False)
        yield LogList(id="log", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self._log.border_title = "Log, newest first"
        self._log.focus()

    @property
    def _log(self) -> LogList:
        return self.query_one("#log", LogList)

    def on_resize(self) -> None:
        self._show_facts()

    def show(self, board: Board) -> None:
        try:
            page = station_page(board, self._station_id, self._since)
        except NotFound as error:
            self._page = None
            self.query_one("#top").display = self.query_one("#told").display = False
            self.query_one("#heading", Static).update(str(error))
            self.query_one("#due").display = False
            self._log.clear_options()
            return
        self._page = page
        self.query_one("#top").display = True
        units = board.snapshot.units
        data = chart_data(page, units)
        self.query_one("#due").display = True
        for part in ("#told", "#course", "#chart"):
            self.query_one(part).display = data is not None
        self.query_one("#no-level").display = data is None
        if data is None:
            self.query_one("#no-level", Static).update(why_no_level(page))
        else:
            self._chart.load(data)
        self.query_one("#heading", Static).update(heading(page))
        self._show_facts()
        at = self._log.highlighted or 0
        self._log.clear_options()
        self._log.add_options([log_text(line, units, _doubt(page, line)) for line in page.lines])
        if page.lines:
            self._log.highlighted = min(at, len(page.lines) - 1)
        self._stand_on_wanted(page, board)

        def show_photo(seen: tuple[int, PhotoState]) -> None:
            number, state = seen
            text = Text.assemble(log_text(page.lines[number], units), (f" ({state})", "bold"))
            self._log.replace_option_prompt_at_index(number, text)

        say_wrong = self.brimbook.say_wrong
        work_through(
            self, "photos", _photo_states(page), show_photo, say_wrong, lambda: page is self._page
        )

    @on(LevelChart.Pointed)
    def _tell(self, pointed: LevelChart.Pointed) -> None:
        self.query_one("#told", Static).update(Text(pointed.told))

    def turn_to(self, *about: str) -> None:
        self._station_id, self._wanted = about[0], about[1] if len(about) > 1 else None
        self._log.highlighted = None
        if self.brimbook.board is not None:
            self.show_when_ready(self.brimbook.board)

    def _stand_on_wanted(self, page: StationPage, board: Board) -> None:
        """Go to the entry asked for, the chart to its day; once, when both can be shown."""
        places = [
            place for place, line in enumerate(page.lines) if line.entry.entry_id == self._wanted
        ]
        if not places:
            return
        line = page.lines[places[0]]
        self._log.highlighted = places[0]
        if board.worked_out:
            self._wanted = None
            series = page.level_series
            if series is not None and line.on < series.first_day and self._since != line.on:
                self._since = line.on
                self.show(board)
            self._chart.move_to(line.on)

    def _show_facts(self) -> None:
        board, page, wide = self.brimbook.board, self._page, self.wide
        if board is None or page is None:
            return
        units = board.snapshot.units
        self.query_one("#picture", Static).update(
            picture(page, units, *(LARGE_PICTURE if wide else SMALL_PICTURE))
        )
        facts = facts_long(page, units) if wide else facts_short(page, units)
        self.query_one("#facts", Static).update(facts)
        most = min(MOST_DUE, max(LEAST_DUE, self.app.size.height - ROWS_BESIDES_DUE))
        self.query_one("#due", Static).update(due_lines(page, units, wide=wide, most=most))
        self.query_one("#summary", Static).update(summary_words(page, units))

    def action_other_station(self, steps: int) -> None:
        board = self.brimbook.board
        if board is not None:
            self._station_id = next_station(board.snapshot, self._station_id, steps)
            self._since = None
            self._log.highlighted = None
            self.show(board)

    @property
    def station_id(self) -> str | None:
        return None if self._page is None else self._station_id

    def _line_at_cursor(self) -> LogLine | None:
        at = self._log.highlighted
        return None if self._page is None or at is None else self._page.lines[at]

    @work
    async def action_withdraw(self) -> None:
        line, board = self._line_at_cursor(), self.brimbook.board
        if line is not None and board is not None:
            await withdraw(self, board, self._station_id, line)

    @on(SteadyList.OptionSelected)
    def _correct(self) -> None:
        line = self._line_at_cursor()
        if line is not None:
            correct(self, self._station_id, line)


def _doubt(page: StationPage, line: LogLine) -> str:
    return page.doubts.get(line.entry.entry_id, "")


def _photo_states(page: StationPage) -> Iterator[tuple[int, PhotoState]]:
    """Whether the pictures of the log are still there, by line; a disk may be slow."""
    for number, line in enumerate(page.lines):
        if isinstance(line.entry.fact, Photo):
            yield number, photo_state(line.entry.fact)
