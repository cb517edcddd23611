"""Logbooks whose ids are the same on every run, since members are drawn by station id."""

from datetime import UTC, datetime

from store.logbook.ids import IdMaker
from store.logbook.opening import Logbook


def steady(logbook: Logbook) -> Logbook:
    """The logbook, with a clock that stands still and ids that count up."""
    logbook.clock = lambda: datetime(2026, 1, 1, tzinfo=UTC)
    logbook.make_id = IdMaker(lambda: 1)
    return logbook
