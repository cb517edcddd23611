"""What is due, over all stations, most urgent first."""

from __future__ import annotations

from store.model.board import Board, board_of
from store.model.snapshot import Snapshot
from store.reports.report import Report
from store.season.prompt import Prompt
from store.units import gallons_from_litres
from store.views.weather_state import weather_notes


def all_prompts(board: Board) -> list[Prompt]:
    """The open prompts of every station, most urgent first."""
    prompts = [prompt for own in board.prompts.values() for prompt in own]
    return sorted(prompts, key=lambda prompt: (prompt.priority, prompt.last or prompt.first))


def due_rows(snapshot: Snapshot) -> Report:
    """Open prompts in US units, for print and export."""
    board = board_of(snapshot)
    stations = snapshot.places.stations
    rows = tuple(
        (
            snapshot.places.label(stations[prompt.station_id]),
            snapshot.places.tract_of(stations[prompt.station_id]).name,
            prompt.kind.value,
            prompt.state.value,
            prompt.first,
            prompt.last,
            None if prompt.volume_l is None else round(gallons_from_litres(prompt.volume_l), 1),
            prompt.text,
        )
        for prompt in all_prompts(board)
    )
    notes = (*weather_notes(snapshot), *board.levels.without.values())
    columns = ("station", "tract", "prompt", "state", "first", "last", "gallons", "text")
    return Report(columns, rows, notes)
