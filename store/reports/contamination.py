"""Contamination events with their expected recovery, and every way out of them."""

from __future__ import annotations

from collections.abc import Iterator

from store.contamination.choices import Way
from store.contamination.estimates import CAVEAT
from store.contamination.events import EventHistory
from store.model.assimilation import FilterCache
from store.model.board import Board, board_of
from store.model.levels import levels_of
from store.model.recoveries import EventRecovery, recoveries_of
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.reports.report import Cell, Report
from store.units import gallons_from_litres
from store.views.planned_recovery import bailing_plan

EVENT_COLUMNS = (
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


def event_rows(snapshot: Snapshot, *, memory: FilterCache | None = None) -> Report:
    """Every event, open ones first, in US units for print and export.

    `expected_*` are dates of use again. Where a station is out of reach of any vehicle
    no refill is offered.
    """
    board = board_of(snapshot, memory)
    events = [
        (history.facts, event)
        for history in snapshot.histories.values()
        for event in history.events
    ]
    events.sort(key=lambda item: (not item[1].is_open, -item[1].found.toordinal()))
    notes = (f"Expected dates say when animals may use it again: {CAVEAT}.",) if events else ()
    return Report(
        EVENT_COLUMNS, tuple(_event_row(board, facts, event) for facts, event in events), notes
    )


def _event_row(board: Board, facts: StationFacts, event: EventHistory) -> tuple[Cell, ...]:
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


CHOICE_COLUMNS = (
    "station",
    "tract",
    "cause",
    "found",
    "choice",
    "clear_p10",
    "clear_p50",
    "clear_p90",
    "used_p10",
    "used_p50",
    "used_p90",
    "back_by",
    "back_in_season_pct",
    "gallons",
    "loads",
    "hours",
    "visits",
    "basis",
)


def recovery_rows(
    snapshot: Snapshot,
    station: str,
    bail_percent: float | None = None,
    load_l: float | None = None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """The choices of a station's open events, in US units for print and export.

    `clear_*` are dates of clear water, `used_*` of use again, at 10, 50 and 90 percent;
    empty where not within sight. `back_in_season_pct` is the chance of use again on
    `back_by`, the first day of the heavy-use weeks.

    Raises:
        NotFound: there is no such station, or there are several.
        BadValue: no percentage that can be bailed, or a load of nothing.
    """
    plan = bailing_plan(snapshot.today, bail_percent, load_l)
    facts = snapshot.places.find_station(station)
    label = snapshot.places.label(facts)
    only = {facts.station_id}
    levels = levels_of(snapshot, memory)
    found = recoveries_of(snapshot, levels, plan, only=only).of_station(facts.station_id)
    if not found:
        return Report(CHOICE_COLUMNS, (), (f"{label} has no open contamination event.",))
    head = (label, snapshot.places.tract_of(facts).name)
    rows = tuple((*head, *row) for recovery in found for row in _choice_rows(recovery))
    return Report(CHOICE_COLUMNS, rows, (f"Dates of clear water and of use again: {CAVEAT}.",))


def _choice_rows(recovery: EventRecovery) -> Iterator[tuple[Cell, ...]]:
    for choice in recovery.outlook.choices:
        clear, used, cost = choice.clear, choice.used, choice.cost
        yield (
            recovery.event.cause.value,
            recovery.event.found,
            choice.way.value,
            clear.low,
            clear.median,
            clear.high,
            used.low,
            used.median,
            used.high,
            recovery.wanted,
            None if choice.chance is None else round(100.0 * choice.chance, 1),
            round(gallons_from_litres(cost.water_l), 1),
            cost.loads,
            round(cost.hours, 1),
            cost.visits,
            recovery.outlook.basis,
        )
