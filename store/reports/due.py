"""What is due, over all stations, most urgent first."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.reports.report import Column, Measure, Report, Where
from store.views.due import due_lines
from store.views.weather_state import weather_notes

HEAD = (
    Column("station"),
    Column("tract", where=Where.WIDE),
    Column("prompt", "work"),
    Column("state"),
    Column("first", "from", where=Where.WIDE),
    Column("last", "by"),
    Column("gallons", "", Measure.VOLUME, "litres", digits=1, printed=0),
    Column("pounds", "", Measure.WATER_WEIGHT, "kilograms", digits=0),
    Column("text", "why", sentences=True),
)


def due_rows(snapshot: Snapshot, *, memory: FilterCache | None = None) -> Report:
    """Open prompts, most urgent first."""
    board = board_of(snapshot, memory)
    rows = tuple(
        (
            line.label,
            line.tract,
            line.prompt.kind.value,
            line.prompt.state.value,
            line.prompt.first,
            line.prompt.last,
            line.volume_l or None,
            line.volume_l or None,
            line.prompt.text,
        )
        for line in due_lines(board)
    )
    notes = (*weather_notes(snapshot), *board.levels.without.values())
    return Report(HEAD, rows, notes)
