"""What the readings taught, over all stations."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Report
from store.views.learned import learned_lines


def learned_rows(snapshot: Snapshot, *, memory: FilterCache | None = None) -> Report:
    """Everything learned, over all stations, and the readings that are doubted."""
    levels = levels_of(snapshot, memory)
    rows = []
    notes = list(levels.without.values())
    for station_id, facts in snapshot.places.stations.items():
        if station_id not in levels.by_station:
            continue
        found, doubted = learned_lines(snapshot, levels, station_id)
        label = snapshot.places.label(facts)
        rows += [
            (
                label,
                lesson.parameter,
                *(round(value, 3) for value in lesson.now),
                *(round(value, 3) for value in lesson.prior),
                lesson.taught_on,
                lesson.text,
            )
            for lesson in found
        ]
        notes += [f"{label}, {reading.on}: {reading.text}" for reading in doubted]
    columns = (
        *("station", "parameter", "p10", "p50", "p90"),
        *("assumed_p10", "assumed_p50", "assumed_p90", "taught_on", "text"),
    )
    return Report(columns, tuple(rows), tuple(notes))
