"""What the readings taught, over all stations."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Column, Report, Where
from store.views.learned import learned_lines

HEAD = (
    Column("station"),
    Column("parameter", where=Where.WIDE),
    *(Column(f"{basis}{at}", digits=3, where=Where.WIDE)
      for basis in ("", "assumed_") for at in ("p10", "p50", "p90")),
    Column("taught_on", "taught by the reading of"),
    Column("text", "what was learned", sentences=True),
)  # fmt: skip


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
                *lesson.now,
                *lesson.prior,
                lesson.taught_on,
                lesson.text,
            )
            for lesson in found
        ]
        notes += [f"{label}, {reading.on}: {reading.text}" for reading in doubted]
    return Report(HEAD, tuple(rows), tuple(notes))
