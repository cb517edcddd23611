"""One station: its level over the season, its facts and its log."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Static

from store.errors import NotFound
from store.logbook.photos import PhotoState, photo_state
from store.model.board import Board
from store.records import Photo
from store.views.log_lines import LogLine, withdrawal_drafts
from store.views.station_page import StationPage, next_station, station_page
from tui.base.chart_screen import ChartScreen, chart_keys
from tui.base.doors import door
from tui.base.in_thread import work_through
from tui.base.key_line import KeyLine
from tui.base.log_marks import line_words, log_text
from tui.base.steady_list import SteadyList
from tui.key_table import bind
from tui.station.chart import chart_data, picture
from tui.station.withdraw import WithdrawScreen
from tui.station.words import event_lines, facts_long, facts_short, heading, why_no_level
from tui.widgets.level_chart import LevelChart

SMALL_PICTURE, LARGE_PICTURE = (11, 4), (42, 8)


class LogList(SteadyList, inherit_bindings=False):
    """Long lines wrap, so the arrows across are left to the chart above."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "cursor_up", "Newer entry", show=False, id="log.up",
                tooltip="Move to the entry above"),
        Binding("down", "cursor_down", "Older entry", show=False, id="log.down",
                tooltip="Move to the entry below"),
        Binding("pageup", "page_up", "Page up", show=False, id="log.page_up",
                tooltip="Move up a page of the log"),
        Binding("pagedown", "page_down", "Page down", show=False, id="log.page_down",
                tooltip="Move down a page of the log"),
        Binding("home", "first", "Newest", show=False, id="log.first",
                tooltip="Move to the newest entry"),
        Binding("end", "last", "Oldest", show=False, id="log.last",
                tooltip="Move to the oldest entry"),
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
        door("season", "station"),
        door("outlook", "station", show=False),
        door("learned", "station", show=False),
        door("site_check", "station", show=False),
        door("facts", "station", show=False),
        bind("next", "other_station(1)", "Next station", show=False, id="station.next",
             tooltip="Go to the next station in the list"),
        bind("before", "other_station(-1)", "Previous station", show=False, id="station.previous",
             tooltip="Go to the station before in the list"),
        *chart_keys("station"),
    ]  # fmt: skip

    def __init__(self, station_id: str) -> None:
        super().__init__()
        self._station_id = station_id
        self._page: StationPage | None = None

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="heading", markup=False)
        with Container(id="top"):
            yield LevelChart(id="chart")
            yield Static(id="no-level", markup=False)
            with Container(id="side"):
                yield Static(id="picture", markup=False)
                yield Static(id="facts", markup=False)
        yield Static(id="events", markup=False)
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
            page = station_page(board, self._station_id)
        except NotFound as error:
            self._page = None
            self.query_one("#top").display = False
            self.query_one("#heading", Static).update(str(error))
            self.query_one("#events").display = False
            self._log.clear_options()
            return
        self._page = page
        self.query_one("#top").display = True
        units = board.snapshot.units
        data = chart_data(page, units)
        self._chart.display = data is not None
        self.query_one("#no-level").display = data is None
        if data is None:
            self.query_one("#no-level", Static).update(why_no_level(page))
        else:
            self._chart.load(data)
        self.query_one("#heading", Static).update(heading(page, units))
        self.query_one("#events").display = bool(page.events)
        self._show_facts()
        at = self._log.highlighted or 0
        self._log.clear_options()
        self._log.add_options([log_text(line, units) for line in page.lines])
        if page.lines:
            self._log.highlighted = min(at, len(page.lines) - 1)

        def show_photo(seen: tuple[int, PhotoState]) -> None:
            number, state = seen
            text = Text.assemble(log_text(page.lines[number], units), (f" ({state})", "bold"))
            self._log.replace_option_prompt_at_index(number, text)

        say_wrong = self.brimbook.say_wrong
        work_through(
            self, "photos", _photo_states(page), show_photo, say_wrong, lambda: page is self._page
        )

    def _show_facts(self) -> None:
        board, page, wide = self.brimbook.board, self._page, self.wide
        if board is None or page is None:
            return
        units = board.snapshot.units
        self.query_one("#picture", Static).update(
            picture(page, *(LARGE_PICTURE if wide else SMALL_PICTURE))
        )
        facts = facts_long(page, units) if wide else facts_short(page, units)
        self.query_one("#facts", Static).update(facts)
        self.query_one("#events", Static).update(event_lines(page, wide=wide))

    def action_other_station(self, steps: int) -> None:
        board = self.brimbook.board
        if board is not None:
            self._station_id = next_station(board.snapshot, self._station_id, steps)
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
        page, line, board = self._page, self._line_at_cursor(), self.brimbook.board
        if page is None or line is None or board is None:
            return
        units = board.snapshot.units
        with_it = len(withdrawal_drafts(page.lines, line, "")) - 1
        reason = await self.app.push_screen_wait(
            WithdrawScreen(log_text(line, units), with_it),
        )
        if reason is not None:
            title = f"{page.label}: withdrew {line_words(line, units)}"
            await self.brimbook.save(title, withdrawal_drafts(page.lines, line, reason))


def _photo_states(page: StationPage) -> Iterator[tuple[int, PhotoState]]:
    """Whether the pictures of the log are still there, by line; a disk may be slow."""
    for number, line in enumerate(page.lines):
        if isinstance(line.entry.fact, Photo):
            yield number, photo_state(line.entry.fact)
