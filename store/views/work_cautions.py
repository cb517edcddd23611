"""The cautions of a day of work, each once: those of the load first, then of each task."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from store.model.board import Board
from store.season.cautions import (
    BEARS,
    BEARS_COMING,
    ESCAPE_RAMP,
    HAULING,
    LONE_WORK,
    TOWING,
    Caution,
    chore_cautions,
    contamination_cautions,
    in_words_of_the_job,
)
from store.views.work_day import WorkDay
from store.views.work_stops import WorkStop
from store.vocabulary import ChoreKind, PromptKind

_CHORES = MappingProxyType(
    {
        PromptKind.FILL: ChoreKind.FILL,
        PromptKind.RAKE: ChoreKind.RAKE,
        PromptKind.INSTALL: ChoreKind.INSTALL,
        PromptKind.COVER: ChoreKind.COVER,
        PromptKind.UNCOVER: ChoreKind.UNCOVER,
    }
)


def work_cautions(board: Board, day: WorkDay) -> tuple[Caution, ...]:
    """What to mind on a day, hauling of its largest load; nothing where nothing is done."""
    if not day.served:
        return ()
    loads = day.plan.loads
    found = [HAULING, TOWING] if loads else []
    for stop in day.served:
        found += _of(board, stop)
    heaviest_l = max((load.water_l for load in loads), default=None)
    return in_words_of_the_job((*found, LONE_WORK), day.units, heaviest_l)


def _of(board: Board, stop: WorkStop) -> Iterator[Caution]:
    bears = stop.station.bear_country
    events = {
        event.event_id: event
        for event in board.snapshot.histories[stop.station.station_id].open_events
    }
    for prompt in stop.prompts:
        if prompt.kind in _CHORES:
            yield from chore_cautions(_CHORES[prompt.kind], bear_country=bears)
        if prompt.kind is PromptKind.RAMP:
            yield ESCAPE_RAMP
        if prompt.kind is PromptKind.BEARS:
            yield from (BEARS, BEARS_COMING)
        if prompt.event_id in events:
            yield from contamination_cautions(events[prompt.event_id].cause, bear_country=bears)
