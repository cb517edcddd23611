"""Every way out of every open event of one station, as rows."""

from __future__ import annotations

from collections.abc import Iterator

from store.contamination.estimates import CAVEAT
from store.model.levels import levels_of
from store.model.recoveries import EventRecovery, recoveries_of
from store.model.snapshot import Snapshot
from store.reports.report import Cell, Report
from store.units import gallons_from_litres
from store.views.planned_recovery import bailing_plan

COLUMNS = (
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
    levels = levels_of(snapshot)
    found = recoveries_of(snapshot, levels, plan, only=only).of_station(facts.station_id)
    if not found:
        return Report(COLUMNS, (), (f"{label} has no open contamination event.",))
    head = (label, snapshot.places.tract_of(facts).name)
    rows = tuple((*head, *row) for recovery in found for row in _rows(recovery))
    return Report(COLUMNS, rows, (f"Dates of clear water and of use again: {CAVEAT}.",))


def _rows(recovery: EventRecovery) -> Iterator[tuple[Cell, ...]]:
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
