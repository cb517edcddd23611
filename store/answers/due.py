"""What is due, over all stations, most urgent first."""

from __future__ import annotations

from store.answers.answer import Answer
from store.answers.board import Board, board
from store.answers.snapshot import Snapshot
from store.answers.weather_state import weather_notes
from store.season.prompt import Prompt
from store.units import gallons_from_litres


def all_prompts(work: Board) -> list[Prompt]:
    """The open prompts of every station, most urgent first."""
    prompts = [prompt for own in work.prompts.values() for prompt in own]
    return sorted(prompts, key=lambda prompt: (prompt.priority, prompt.last or prompt.first))


def due_rows(snapshot: Snapshot) -> Answer:
    """Open prompts in US units, for print and export."""
    work = board(snapshot)
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
        for prompt in all_prompts(work)
    )
    notes = (*weather_notes(snapshot), *work.levels.without.values())
    columns = ("station", "tract", "prompt", "state", "first", "last", "gallons", "text")
    return Answer(columns, rows, notes)
