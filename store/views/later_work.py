"""The work of the windows to come within a year, before it is asked for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta

from store.model.board import Board
from store.season.prompt import PromptState
from store.season.prompts import tasks_around
from store.season.set_aside import NO_VISIT
from store.vocabulary import PromptKind

A_YEAR = timedelta(days=366)


@dataclass(frozen=True)
class LaterWork:
    """So many stations that ask for one kind of work in a month; `month` is its first day."""

    month: date
    kind: PromptKind
    stations: int


def later_work(board: Board) -> tuple[LaterWork, ...]:
    """By month, the upcoming work that no prompt tells of yet."""
    snapshot = board.snapshot
    told = {
        (prompt.station_id, prompt.kind, prompt.first)
        for own in board.prompts.values()
        for prompt in own
    }
    counts: Counter[tuple[date, PromptKind]] = Counter()
    for station_id, history in snapshot.histories.items():
        season = snapshot.season_of(station_id)
        for task in tasks_around(history, board.outlooks[station_id], season, snapshot.today):
            asked = (station_id, task.kind, task.first) in told or task.kind in NO_VISIT
            soon = task.first <= snapshot.today + A_YEAR
            if task.state is PromptState.UPCOMING and soon and not asked:
                counts[task.first.replace(day=1), task.kind] += 1
    return tuple(LaterWork(month, kind, counts[month, kind]) for month, kind in sorted(counts))
