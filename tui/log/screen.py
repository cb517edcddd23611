"""The log of all stations or one, in full height: find, read, correct, withdraw, go there."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from rich.text import Text
from textual import on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from store.model.board import Board
from store.model.snapshot import Snapshot
from store.views.learned import doubted_readings
from store.views.log_search import StationLine, WholeLog, found_lines, whole_log
from tui.base.board_screen import BoardScreen
from tui.base.in_thread import work_out
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.base.log_work import correct, withdraw
from tui.base.open_screens import close, is_open
from tui.key_table import bind
from tui.log.words import count_words, row, whole
from tui.widgets.line_list import LineList


class WholeEntry(VerticalScroll, inherit_bindings=False):
    """All that the entry at the cursor says; scrolled where it fills the screen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "scroll_up", "Up", show=False, id="whole.up", tooltip="Scroll up"),
        Binding("down", "scroll_down", "Down", show=False, id="whole.down",
                tooltip="Scroll down"),
        Binding("pageup", "page_up", "Page up", show=False, id="whole.page_up",
                tooltip="Scroll up a page"),
        Binding("pagedown", "page_down", "Page down", show=False, id="whole.page_down",
                tooltip="Scroll down a page"),
    ]  # fmt: skip


class LogScreen(BoardScreen):
    """Lines of the log, newest first, over all that the one at the cursor says."""

    CSS_PATH = "screen.tcss"
    AUTO_FOCUS = ""
    from_the_log = True
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("find", "find", "Find", id="log.find",
             tooltip="Type words that entries and notes are to hold; the list follows"),
        Binding("enter", "station", "Station", key_display="Enter", id="log.station",
                tooltip="Open the entry's station, its chart at that day"),
        bind("correct", "correct", "Correct", id="log.correct_here",
             tooltip="Correct the entry at the cursor here; what it said before stands below"),
        bind("take_out", "withdraw", "Withdraw", id="log.withdraw",
             tooltip="Take back the entry at the cursor, after asking"),
        bind("all", "other_stations", "All", id="log.all",
             tooltip="Show the entries of all stations, or of this one only"),
        bind("larger", "larger", "Larger", show=False, id="log.larger",
             tooltip="Show the entry at the cursor over the whole screen, or the list again"),
    ]  # fmt: skip

    def __init__(self, station_id: str | None = None) -> None:
        super().__init__()
        self._only = station_id
        self._snapshot: Snapshot | None = None
        self._log: WholeLog | None = None
        self._found: list[StationLine] = []

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        yield Input(placeholder="Words, as: doe dusk", id="find")
        yield LineList(self._drawn, id="lines")
        with WholeEntry(id="whole"):
            yield Static(id="entry", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self._lines.focus()

    @property
    def _lines(self) -> LineList:
        return self.query_one("#lines", LineList)

    @property
    def _asked(self) -> str:
        return self.query_one("#find", Input).value.strip()

    @property
    def _here(self) -> StationLine | None:
        at = self._lines.cursor
        return None if at is None else self._found[at]

    @property
    def station_id(self) -> str | None:
        here = self._here
        return self._only if here is None else here.station_id

    def show(self, board: Board) -> None:
        """Read the log anew where it is another one; the cursor stays on its entry."""
        if board.snapshot is not self._snapshot:
            self._snapshot = board.snapshot
            self._load()
        else:
            self._show_whole()

    @work(exclusive=True, group="load")
    async def _load(self) -> None:
        snapshot, only = self._snapshot, self._only
        if snapshot is None:
            return
        if only is not None and only not in snapshot.places.stations:
            self._only = only = None
        log = await self.brimbook.tried(partial(whole_log, snapshot, only))
        current = snapshot is self._snapshot and only == self._only and is_open(self)
        if log is not None and current:
            self._log = log
            self._find()

    @on(Input.Changed, "#find")
    def _find(self) -> None:
        log, asked = self._log, self._asked
        if log is not None:
            work_out(
                self,
                "find",
                lambda: found_lines(log, asked),
                self._show_found,
                self.brimbook.say_wrong,
                lambda: log is self._log,
            )

    def _show_found(self, found: list[StationLine]) -> None:
        before, log, snapshot = self._here, self._log, self._snapshot
        if log is None or snapshot is None:
            return
        self._found = found
        only = None if self._only is None else snapshot.places.stations[self._only]
        label = None if only is None else snapshot.places.label(only)
        said = count_words(len(found), len(log.lines), self._asked, label)
        self.query_one("#status", Static).update(said)
        self._lines.load(len(found), self._place_of(before))

    def _place_of(self, before: StationLine | None) -> int:
        """Where an entry, or what it was corrected to, stands now; else where it stood."""
        if before is None:
            return 0
        gone = before.line.entry.entry_id
        for place, one in enumerate(self._found):
            if gone in (one.line.entry.entry_id, one.line.entry.revises):
                return place
        return self._lines.cursor or 0

    def _drawn(self, number: int, width: int) -> Text:
        if self._snapshot is None:
            return Text()
        return row(self._found[number], width, self._snapshot.units, of_all=self._only is None)

    @on(LineList.Moved)
    def _show_whole(self) -> None:
        here, board = self._here, self.brimbook.board
        entry = self.query_one("#entry", Static)
        if here is None or board is None or self._snapshot is None:
            entry.update("Nothing was entered yet." if not self._asked else "Nothing has that.")
            return
        station_id, entry_id = here.station_id, here.line.entry.entry_id
        doubts = (
            () if station_id is None else doubted_readings(board.snapshot, board.levels, station_id)
        )
        doubt = next((one.text for one in doubts if one.entry_id == entry_id), "")
        entry.update(whole(here, self._snapshot.units, doubt))
        self.query_one("#whole").scroll_home(animate=False)

    def action_find(self) -> None:
        find = self.query_one("#find", Input)
        find.display = True
        find.focus()

    @on(Input.Submitted, "#find")
    def _to_the_lines(self) -> None:
        self._lines.focus()

    def action_back(self) -> None:
        """From the whole entry to the list, from a search to all, else to the screen before."""
        find = self.query_one("#find", Input)
        if self.has_class("-whole"):
            self.action_larger()
        elif find.display:
            find.value = ""
            find.display = False
            self._lines.focus()
        else:
            close(self)

    @on(LineList.Chosen)
    def action_station(self) -> None:
        here = self._here
        if here is not None and here.station_id is not None:
            self.brimbook.open_screen("station", here.station_id, here.line.entry.entry_id)
        elif here is not None:
            correct = key_of(self.BINDINGS, "correct")
            self.brimbook.say(
                f"A rain gauge is of a whole tract: press {correct} to correct it here."
            )

    def action_correct(self) -> None:
        here = self._here
        if here is not None:
            correct(self, here.owner_id, here.line)

    @work
    async def action_withdraw(self) -> None:
        here, board = self._here, self.brimbook.board
        if here is not None and board is not None:
            await withdraw(self, board, here.owner_id, here.line)

    def action_other_stations(self) -> None:
        self._only = self.station_id if self._only is None else None
        self._load()

    def action_larger(self) -> None:
        self.toggle_class("-whole")
        shown = self.query_one("#whole") if self.has_class("-whole") else self._lines
        shown.focus()
