"""What the model learned about one station, what it doubts, and where the water went."""

from __future__ import annotations

from typing import ClassVar

from rich.console import ConsoleRenderable
from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from store.errors import BadValue
from store.model.board import Board
from store.views.budget import Period, period_days, station_budget
from store.views.learned import learned_lines
from store.views.station_page import next_station
from tui import words
from tui.base.board_screen import BoardScreen
from tui.base.key_line import KeyLine
from tui.base.keys import key_of
from tui.key_table import bind
from tui.learned.words import budget_words, doubted_words, learned_words
from tui.words import plain_day


class LearnedScreen(BoardScreen):
    """Lessons first, then doubts and what a look would settle, then the budget."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        bind("next", "other_station(1)", "Next", id="lessons.next",
             tooltip="Go to the next station in the list"),
        bind("before", "other_station(-1)", "Previous", id="lessons.previous",
             tooltip="Go to the station before in the list"),
        bind("year", "next_period", "Budget days", id="lessons.period",
             tooltip="The budget of this year so far, the last 30 days, or last year"),
    ]  # fmt: skip

    def __init__(self, station_id: str) -> None:
        super().__init__()
        self._station_id = station_id
        self._period = Period.THIS_YEAR

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="heading", markup=False)
        with VerticalScroll(id="told"):
            for name in ("learned", "doubted", "look", "budget-days", "budget"):
                yield Static(id=name, markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one("#told").focus()

    def _say(self, where: str, said: ConsoleRenderable | str) -> None:
        self.query_one(f"#{where}", Static).update(said)

    def show(self, board: Board) -> None:
        snapshot, station_id = board.snapshot, self._station_id
        told = self.query_one("#told")
        told.display = False
        facts = snapshot.places.stations.get(station_id)
        if facts is None:
            after = key_of(self.BINDINGS, "other_station", 1)
            gone = f"This station is no longer in the logbook; press {after} for another."
            self._say("heading", gone)
            return
        order = list(snapshot.places.stations)
        number = f"{order.index(station_id) + 1} of {len(order)}"
        tract = snapshot.places.tract_of(facts).name
        name = Text.assemble((snapshot.places.label(facts), "bold"), f"   {tract}   {number}")
        try:
            learned, doubted = learned_lines(snapshot, board.levels, station_id)
        except BadValue as error:
            self._say("heading", Text("\n").join([name, Text(str(error))]))
            return
        told.display = True
        retired = snapshot.histories[station_id].retired
        value, prompts = board.outlooks[station_id].look, board.prompts[station_id]
        look = "" if retired else words.look(value, prompts)
        self._say("heading", name)
        self._say("learned", learned_words(learned))
        self._say("doubted", doubted_words(doubted))
        self._say("look", Text(look))
        self._show_budget(board)

    def _show_budget(self, board: Board) -> None:
        today = board.snapshot.today
        try:
            first, last = period_days(board.levels, self._station_id, self._period, today)
            budget = station_budget(board.levels, self._station_id, first, last)
        except BadValue as error:
            self._say("budget-days", Text(f"Water budget, {self._period}", "bold"))
            self._say("budget", str(error))
            return
        days = f"{plain_day(first)} to {plain_day(last)}"
        heading = (f"Water budget, {self._period}", "bold")
        self._say("budget-days", Text.assemble(heading, f"  {days}, typical course"))
        self._say("budget", budget_words(budget, board.snapshot.units))

    def action_next_period(self) -> None:
        periods = list(Period)
        self._period = periods[(periods.index(self._period) + 1) % len(periods)]
        self._show_again()
        self.when_drawn(lambda: self.query_one("#budget").scroll_visible(animate=False))

    def action_other_station(self, steps: int) -> None:
        board = self.brimbook.board
        if board is not None and board.snapshot.places.stations:
            self._station_id = next_station(board.snapshot, self._station_id, steps)
            self._show_again()
            self.query_one("#told").scroll_home(animate=False)

    def _show_again(self) -> None:
        if self.brimbook.board is not None:
            self.show_when_ready(self.brimbook.board)
