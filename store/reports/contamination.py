"""Contamination events with their expected recovery, and every way out of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from store.contamination.choices import Way
from store.contamination.events import EventHistory
from store.contamination.parameters import CAVEAT
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.levels import levels_of
from store.model.recoveries import recoveries_of
from store.model.recovery import EventRecovery
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.records import StationFacts
from store.reports.report import Column, Measure, Report, Row, Where
from store.views.planned_recovery import bailing_plan

NOT_IN_SIGHT = "not in sight"
"""In print, for a day that lies beyond what is looked ahead."""
EVENT_COLUMNS = (
    Column("station"),
    Column("tract", where=Where.WIDE),
    Column("cause"),
    Column("found"),
    Column("actions", where=Where.WIDE),
    Column("state"),
    Column("expected_clear", "clear", where=Where.WIDE),
    Column("expected_waiting", where=Where.FILE),
    Column("in_use_by_waiting", "in use by waiting", where=Where.PRINT),
    Column("waiting_early", "at the earliest", where=Where.WIDE),
    Column("waiting_late", "at the latest", where=Where.WIDE),
    Column("back_in_season_pct", "% back in season", digits=1, where=Where.WIDE, chance=True),
    Column("expected_refilled", "in use if refilled"),
    Column("refill_gallons", "refill", Measure.VOLUME, "refill_litres", digits=1, printed=0),
    Column("basis", where=Where.WIDE),
)


def event_rows(snapshot: Snapshot, *, memory: FilterCache | None = None) -> Report:
    """Every event, open ones first.

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


def _event_row(board: Board, facts: StationFacts, event: EventHistory) -> Row:
    places = board.snapshot.places
    actions = ", ".join(f"{taken.action} {taken.on}" for taken in event.actions)
    head = (places.label(facts), places.tract_of(facts).name, event.cause.value, event.found)
    found = board.recoveries.by_event.get(event.event_id)
    if found is None:
        state = "open" if event.is_open else f"closed {event.closed}"
        return (*head, actions, state, *(None,) * 9)
    today = board.snapshot.today
    waiting, refill = found.outlook.waiting, found.way(Way.REFILL)
    return (
        *head,
        actions,
        "open" if waiting.used.median is None or waiting.used.median > today else "open: look",
        waiting.clear.median,
        waiting.used.median,
        waiting.used.median or NOT_IN_SIGHT,
        waiting.used.low,
        waiting.used.high,
        None if waiting.chance is None else 100.0 * waiting.chance,
        None if refill is None else refill.used.median,
        None if refill is None else refill.cost.water_l,
        found.outlook.basis,
    )


CHOICE_COLUMNS = (
    Column("station", where=Where.WIDE),
    Column("tract", where=Where.WIDE),
    Column("cause", where=Where.WIDE),
    Column("found", "fouled"),
    Column("choice", "what to do"),
    Column("clear_p10", "clear at the earliest", where=Where.WIDE),
    Column("clear_p50", "clear", blank=NOT_IN_SIGHT),
    Column("clear_p90", "clear at the latest", where=Where.WIDE),
    Column("used_p10", "in use at the earliest", where=Where.WIDE),
    Column("used_p50", "in use again", blank=NOT_IN_SIGHT),
    Column("used_p90", "at the latest", blank=NOT_IN_SIGHT),
    Column("back_by", "wanted by", where=Where.WIDE),
    Column("back_in_season_pct", "% back in season", digits=1, chance=True),
    Column("gallons", "", Measure.VOLUME, "litres", digits=1, printed=0),
    Column("loads"),
    Column("hours", digits=1),
    Column("visits", where=Where.WIDE),
    Column("basis", where=Where.WIDE),
)
_ONE_EVENT_COLUMNS = tuple(
    replace(one, where=Where.WIDE) if one.name == "found" else one for one in CHOICE_COLUMNS
)


def recovery_rows(
    snapshot: Snapshot,
    station: str,
    bail_percent: float | None = None,
    load_l: float | None = None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """The choices of a station's open events.

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
    place = (label, snapshot.places.tract_of(facts).name)
    rows = tuple((*place, *row) for recovery in found for row in _choice_rows(recovery))
    fouled = (f"{label}: {one.event.cause.value}, found {one.event.found}." for one in found)
    notes = (f"Dates of clear water and of use again: {CAVEAT}.", *fouled)
    head = CHOICE_COLUMNS if len(found) > 1 else _ONE_EVENT_COLUMNS
    return Report(head, rows, notes)


def _choice_rows(recovery: EventRecovery) -> Iterator[Row]:
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
            None if choice.chance is None else 100.0 * choice.chance,
            cost.water_l,
            cost.loads,
            cost.hours,
            cost.visits,
            recovery.outlook.basis,
        )
