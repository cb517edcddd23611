"""What is due, over all stations, most urgent first."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.board import board_of
from store.model.snapshot import Snapshot
from store.reports.report import Report
from store.units import US_UNITS, gallons_from_litres
from store.views.due import due_lines
from store.views.weather_state import weather_notes


def due_rows(snapshot: Snapshot, *, memory: FilterCache | None = None) -> Report:
    """Open prompts in US units, for print and export."""
    board = board_of(snapshot, memory)
    rows = tuple(
        (
            line.label,
            line.tract,
            line.prompt.kind.value,
            line.prompt.state.value,
            line.prompt.first,
            line.prompt.last,
            None if not line.volume_l else round(gallons_from_litres(line.volume_l), 1),
            None if not line.volume_l else round(US_UNITS.water_weight(line.volume_l)),
            line.prompt.text,
        )
        for line in due_lines(board)
    )
    notes = (*weather_notes(snapshot), *board.levels.without.values())
    columns = ("station", "tract", "prompt", "state", "first", "last", "gallons", "pounds", "text")
    return Report(columns, rows, notes)
