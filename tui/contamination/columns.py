"""The columns of the open contamination events."""

from __future__ import annotations

from rich.text import Text

from store.model.board import Board
from store.model.recoveries import EventRecovery
from tui import words
from tui.base.fouling_words import clear_day, day, span
from tui.base.table import Column
from tui.widgets.cells import fit


def event_columns(board: Board, *, wide: bool) -> tuple[Column[EventRecovery], ...]:
    """The columns at 80 characters, with more room for names on a wide screen."""
    places, name = board.snapshot.places, 26 if wide else 15
    today = board.snapshot.today
    return (
        Column("Station", name + 1, lambda one: Text(fit(places.label(one.station), name))),
        Column("Cause", 15, lambda one: Text(one.event.cause.value)),
        Column("Found", 7, lambda one: Text(day(one.event.found, today))),
        Column("Clear", 8, lambda one: Text(clear_day(one.outlook.waiting, today))),
        Column("In use", 8, lambda one: Text(day(one.outlook.waiting.used.median, today))),
        Column("10-90%", 18, lambda one: Text(span(one.outlook.waiting.used, today))),
        Column("Chance", 6, lambda one: Text(words.chance(one.outlook.waiting.chance))),
    )
