"""Contamination events with their expected recovery."""

from __future__ import annotations

from store.contamination.choices import Way
from store.contamination.estimates import CAVEAT
from store.contamination.events import EventHistory
from store.model.board import Board, board_of
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.reports.report import Cell, Report
from store.units import gallons_from_litres

COLUMNS = (
    "station",
    "tract",
    "cause",
    "found",
    "actions",
    "state",
    "expected_clear",
    "expected_waiting",
    "waiting_early",
    "waiting_late",
    "back_in_season_pct",
    "expected_refilled",
    "refill_gallons",
    "basis",
)


def event_rows(snapshot: Snapshot) -> Report:
    """Every event, open ones first, in US units for print and export.

    `expected_*` are dates of use again. Where a station is out of reach of any vehicle
    no refill is offered.
    """
    board = board_of(snapshot)
    events = [
        (history.facts, event)
        for history in snapshot.histories.values()
        for event in history.events
    ]
    events.sort(key=lambda item: (not item[1].is_open, -item[1].found.toordinal()))
    notes = (f"Expected dates say when animals may use it again: {CAVEAT}.",) if events else ()
    return Report(COLUMNS, tuple(_row(board, facts, event) for facts, event in events), notes)


def _row(board: Board, facts: StationFacts, event: EventHistory) -> tuple[Cell, ...]:
    places = board.snapshot.places
    actions = ", ".join(f"{taken.action} {taken.on}" for taken in event.actions)
    head = (places.label(facts), places.tract_of(facts).name, event.cause.value, event.found)
    found = board.recoveries.by_event.get(event.event_id)
    if found is None:
        return (*head, actions, f"closed {event.closed}", *(None,) * 8)
    today = board.snapshot.today
    waiting, refill = found.outlook.waiting, found.way(Way.REFILL)
    return (
        *head,
        actions,
        "open" if waiting.used.median is None or waiting.used.median > today else "open: look",
        waiting.clear.median,
        waiting.used.median,
        waiting.used.low,
        waiting.used.high,
        None if waiting.chance is None else round(100.0 * waiting.chance, 1),
        None if refill is None else refill.used.median,
        None if refill is None else round(gallons_from_litres(refill.cost.water_l), 1),
        found.outlook.basis,
    )
