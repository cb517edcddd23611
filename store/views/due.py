"""All that is due: over all stations, with the water it would take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from store.model.board import Board
from store.season.prompt import Prompt, PromptState
from store.season.prompts import urgency
from store.vocabulary import Access, PromptKind


@dataclass(frozen=True)
class DueLine:
    """One prompt with its station; `volume_l` is the water it would take, 0 for none."""

    key: str
    prompt: Prompt
    label: str
    tract: str
    access: Access

    @property
    def volume_l(self) -> float:
        return self.prompt.volume_l or 0.0

    @property
    def now(self) -> bool:
        """Whether it is due or overdue already."""
        return self.prompt.state in (PromptState.DUE, PromptState.OVERDUE)


@dataclass(frozen=True)
class DueTotals:
    """What can be done now: fills with their water, other work, and what is only upcoming."""

    fills: int
    volume_l: float
    others: int
    upcoming: int


def due_lines(board: Board) -> tuple[DueLine, ...]:
    """The open prompts of every station, most urgent first."""
    return _lines(board, board.prompts)


def aside_lines(board: Board) -> tuple[DueLine, ...]:
    """What was put off or declined, at every station."""
    return _lines(board, board.set_aside)


def _lines(board: Board, asked: Mapping[str, tuple[Prompt, ...]]) -> tuple[DueLine, ...]:
    places = board.snapshot.places
    prompts = [prompt for own in asked.values() for prompt in own]
    lines = []
    for prompt in sorted(prompts, key=urgency):
        facts = places.stations[prompt.station_id]
        key = f"{prompt.station_id} {prompt.kind} {prompt.event_id or ''} {prompt.first}"
        label, tract = places.label(facts), places.tract_of(facts).name
        lines.append(DueLine(key, prompt, label, tract, facts.access))
    return tuple(lines)


def due_totals(lines: tuple[DueLine, ...]) -> DueTotals:
    """Counts of lines, and the water of the fills that are due."""
    now = [line for line in lines if line.now]
    fills = [line for line in now if line.prompt.kind is PromptKind.FILL]
    return DueTotals(
        fills=len(fills),
        volume_l=sum(line.volume_l for line in fills),
        others=len(now) - len(fills),
        upcoming=sum(line.prompt.state is PromptState.UPCOMING for line in lines),
    )
