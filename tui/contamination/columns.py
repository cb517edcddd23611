"""The columns of the open contamination events."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from store.model.board import Board
from store.model.recoveries import EventRecovery
from tui import words
from tui.base.fouling_words import clear_day, day, span
from tui.widgets.cells import fit


@dataclass(frozen=True)
class Column:
    heading: str
    width: int
    cell: Callable[[EventRecovery], str]


def event_columns(board: Board, *, wide: bool) -> tuple[Column, ...]:
    """The columns at 80 characters, with more room for names on a wide screen."""
    places, name = board.snapshot.places, 26 if wide else 15
    today: date = board.snapshot.today
    return (
        Column("Station", name + 1, lambda one: fit(places.label(one.station), name)),
        Column("Cause", 15, lambda one: one.event.cause.value),
        Column("Found", 7, lambda one: day(one.event.found, today)),
        Column("Clear", 8, lambda one: clear_day(one.outlook.waiting, today)),
        Column("In use", 8, lambda one: day(one.outlook.waiting.used.median, today)),
        Column("10-90%", 18, lambda one: span(one.outlook.waiting.used, today)),
        Column("Chance", 6, lambda one: words.chance(one.outlook.waiting.chance)),
    )
