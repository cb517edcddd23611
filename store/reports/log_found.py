"""Entries of the log that hold some words, newest first."""

from __future__ import annotations

from datetime import date

from store.model.snapshot import Snapshot
from store.reports.report import Column, Measure, Report
from store.views.log_search import found_lines, whole_log

HEAD = (
    Column("date"),
    Column("station"),
    Column("below_rim_in", "below rim", Measure.DEPTH, "below_rim_cm", digits=2, printed=1),
    Column("gallons", "", Measure.VOLUME, "litres", digits=1, printed=0),
    Column("entry", sentences=True),
    Column("note", sentences=True),
)


def found_rows(
    snapshot: Snapshot,
    asked: str,
    station_id: str | None = None,
    first: date | None = None,
    last: date | None = None,
) -> Report:
    """Entries with every word asked for, or one it begins; of a station, in some days."""
    rows = tuple(
        (
            one.line.on,
            one.label,
            one.line.below_rim_mm,
            one.line.volume_l,
            one.line.what,
            one.line.note or None,
        )
        for one in found_lines(whole_log(snapshot, station_id), asked)
        if (first is None or one.line.on >= first) and (last is None or one.line.on <= last)
    )
    return Report(HEAD, rows, () if rows else (f"No entry has: {asked}",))
