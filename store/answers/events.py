"""Contamination events with their expected recovery."""

from __future__ import annotations

from datetime import date

from store.answers.answer import Answer, Cell
from store.answers.board import Board, board
from store.answers.snapshot import Snapshot
from store.contamination.events import EventHistory
from store.contamination.recovery import CAVEAT
from store.records import Access, StationFacts
from store.units import gallons_from_litres

COLUMNS = (
    "station",
    "tract",
    "cause",
    "found",
    "actions",
    "state",
    "expected_waiting",
    "waiting_early",
    "waiting_late",
    "expected_refilled",
    "refill_gallons",
    "basis",
)


def event_rows(snapshot: Snapshot) -> Answer:
    """Every event, open ones first, in US units for print and export.

    Where a station is out of reach of any vehicle no refill is offered.
    """
    work = board(snapshot)
    events = [
        (history.facts, event)
        for history in snapshot.histories.values()
        for event in history.events
    ]
    events.sort(key=lambda item: (not item[1].is_open, -item[1].found.toordinal()))
    notes = (f"Expected dates say when animals may be back: {CAVEAT}.",) if events else ()
    return Answer(COLUMNS, tuple(_row(work, facts, event) for facts, event in events), notes)


def _row(work: Board, facts: StationFacts, event: EventHistory) -> tuple[Cell, ...]:
    places = work.snapshot.places
    actions = ", ".join(f"{taken.action} {taken.on}" for taken in event.actions)
    head = (places.label(facts), places.tract_of(facts).name, event.cause.value, event.found)
    found = work.recoveries.get(event.event_id)
    if found is None:
        return (*head, actions, f"closed {event.closed}", None, None, None, None, None, None)
    waiting = found.recovery.waiting
    refilled: date | None = None
    gallons: float | None = None
    if facts.access is not Access.FOOT:
        refilled = found.recovery.refilled.median
        gallons = None if found.refill_l is None else round(gallons_from_litres(found.refill_l), 1)
    return (
        *head,
        actions,
        "open",
        waiting.median,
        waiting.low,
        waiting.high,
        refilled,
        gallons,
        found.recovery.basis,
    )
