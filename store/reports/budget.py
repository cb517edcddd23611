"""Where the water of one station came from and went."""

from __future__ import annotations

from datetime import date

from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Column, Measure, Report, Row, Where
from store.views.budget import LINES, MIDDLE_COURSE, station_budget

HEAD = (
    Column("station"),
    Column("from", where=Where.WIDE),
    Column("to", where=Where.WIDE),
    Column("line", "water"),
    Column("gallons", "", Measure.VOLUME, "litres", digits=2, printed=0),
)


def budget_rows(
    snapshot: Snapshot,
    station_name: str,
    first: date | None,
    last: date | None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """A budget; without days from the start of the year, or the install, to today.

    Raises:
        NotFound: no station of that name.
        BadValue: as `station_budget`.
    """
    facts = snapshot.places.find_station(station_name)
    levels = levels_of(snapshot, memory)
    last = last or snapshot.today
    if first is None:
        first = date(last.year, 1, 1)
        if facts.station_id in levels.by_station:
            first = max(first, levels.by_station[facts.station_id].station.first)
    found = station_budget(levels, facts.station_id, first, last)
    label = snapshot.places.label(facts)
    rows: list[Row] = [(label, first, last, line, getattr(found, field)) for line, field in LINES]
    return Report(HEAD, tuple(rows), (f"From {first} to {last}.", MIDDLE_COURSE))
