"""What contamination has cost over the years: by station, by cause, and event by event."""

from __future__ import annotations

from rich.console import Group
from rich.table import Table
from rich.text import Text
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from store.model.board import Board
from store.season.summary import EventCount, event_count, events_by_cause
from tui import words
from tui.base.board_screen import BoardScreen
from tui.base.key_line import KeyLine

EXPLAINED = (
    "With a ramp: the last check up to the find saw it in place; without: it was missing; the "
    "rest had no check. Days lost: from the find until it was seen clear, or today."
)


class ContaminationHistoryScreen(BoardScreen):
    """Three tables, one below the other."""

    CSS_PATH = "history.tcss"

    def compose(self) -> ComposeResult:
        yield Static("Reading the logbook ...", id="status", markup=False)
        with VerticalScroll(id="told"):
            yield Static(id="tables", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        self.query_one("#told").focus()

    def show(self, board: Board) -> None:
        snapshot = board.snapshot
        histories, today = snapshot.histories.values(), snapshot.today
        by_station = [
            (snapshot.places.label(history.facts), event_count(history, today))
            for history in histories
        ]
        by_station = [line for line in by_station if line[1].events]
        by_station.sort(key=lambda line: -line[1].days_lost)
        by_cause = sorted(
            ((cause.value, count) for cause, count in events_by_cause(histories, today).items()),
            key=lambda line: -line[1].days_lost,
        )
        self.query_one("#status", Static).update(
            "Contamination over the years, most days lost first"
        )
        self.query_one("#tables", Static).update(
            Group(
                _counts("Station", by_station),
                Text(),
                _counts("Cause", by_cause),
                Text(EXPLAINED, "italic"),
                Text(),
                _closed(board),
            )
            if by_station
            else Text("No contamination event is in the log.")
        )


def _counts(heading: str, lines: list[tuple[str, EventCount]]) -> Table:
    table = _table()
    table.add_column(heading, width=26, no_wrap=True, overflow="ellipsis")
    for name in ("Events", "With ramp", "Without", "Days lost"):
        table.add_column(name, justify="right")
    for name, count in lines:
        numbers = (count.events, count.with_ramp, count.without_ramp, count.days_lost)
        table.add_row(Text(name), *(Text(str(number)) for number in numbers))
    return table


def _closed(board: Board) -> Table:
    """Closed events, the one found last first."""
    snapshot = board.snapshot
    table = _table()
    table.add_column("Closed event", width=26, no_wrap=True, overflow="ellipsis")
    for name in ("Cause", "Found", "Seen clear"):
        table.add_column(name, no_wrap=True)
    table.add_column("Days", justify="right")
    events = [
        (history.facts, event)
        for history in snapshot.histories.values()
        for event in history.events
        if not event.is_open
    ]
    for facts, event in sorted(events, key=lambda one: one[1].found, reverse=True):
        closed = event.closed or event.found
        table.add_row(
            Text(snapshot.places.label(facts)),
            Text(event.cause.value),
            Text(words.full_day(event.found)),
            Text(words.full_day(closed)),
            Text(str((closed - event.found).days)),
        )
    return table


def _table() -> Table:
    return Table(box=None, pad_edge=False, header_style="bold")
