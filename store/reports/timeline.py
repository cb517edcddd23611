"""The season of every station: what was seen and done, what held, what is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.reports.report import Column, Report, Row
from store.views.timeline import TimelineRow, season_timeline

HEAD = (
    Column("station"),
    Column("kind", "what"),
    Column("first", "from"),
    Column("last", "to"),
    Column("text", "in words", sentences=True),
)


def timeline_rows(
    snapshot: Snapshot,
    first: date | None = None,
    last: date | None = None,
    station: str | None = None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """One row a mark, a stretch or a piece of work that touches the days asked for.

    From 1 January of last year to the end of the timeline if not given.

    Raises:
        NotFound: no such station.
        BadValue: `last` is before `first`.
    """
    years_back = 1 if first is None else max(snapshot.today.year - first.year, 1)
    timeline = season_timeline(board_of(snapshot, memory), years_back)
    first, last = first or timeline.first_day, last or timeline.last_day
    if last < first:
        raise BadValue(f"{last} is before {first}; give the earlier day first.")
    wanted = None if station is None else snapshot.places.find_station(station).station_id
    rows = [
        row
        for line in timeline.rows
        if wanted in (None, line.station.station_id)
        for row in sorted(_rows(line, first, last, timeline.today), key=lambda row: str(row[2]))
    ]
    return Report(HEAD, tuple(rows))


def _rows(line: TimelineRow, first: date, last: date, today: date) -> Iterator[Row]:
    for mark in line.marks:
        if first <= mark.on <= last:
            said = f"{mark.what}: {mark.note}" if mark.note else mark.what
            yield line.label, mark.kind.value, mark.on, mark.on, said
    for span in line.spans:
        if not span.is_task and span.first <= last and span.last >= first:
            yield line.label, span.kind.value, span.first, span.last, span.text
    for task in line.tasks:
        if task.first <= last and (task.last or today) >= first:
            yield line.label, task.state.value, task.first, task.last, task.text
