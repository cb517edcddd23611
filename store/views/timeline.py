"""The season of every station as rows of marks, spans and tasks, for drawing and telling."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from store.contamination.events import EventHistory
from store.contamination.parameters import CAVEAT
from store.model.board import Board
from store.model.ensembles import DAYS_AHEAD
from store.records import StationFacts
from store.season.history import StationHistory
from store.season.prompt import OPEN_STATES, Prompt, PromptState, plain_date
from store.season.prompts import season_tasks
from store.season.windows import Window, windows_between
from store.views.level_series import dry_ahead
from store.views.log_lines import LineKind, LogLine, log_lines
from store.views.timeline_levels import LevelOn, level_on_day
from store.vocabulary import Cause, PromptKind


class SpanKind(StrEnum):
    CONTAMINATED = "contaminated"
    OVERDUE = "overdue"
    DUE = "due"
    UPCOMING = "upcoming"
    SKIPPED = "skipped"
    DRY = "dry"
    DRY_AHEAD = "dry ahead"
    COVERED = "covered"


_TASK_SPANS = {
    PromptState.OVERDUE: SpanKind.OVERDUE,
    PromptState.DUE: SpanKind.DUE,
    PromptState.UPCOMING: SpanKind.UPCOMING,
    PromptState.SKIPPED: SpanKind.SKIPPED,
}


@dataclass(frozen=True)
class TimelineSpan:
    """A state from `first` to `last`; `cause` is that of a contamination."""

    kind: SpanKind
    first: date
    last: date
    text: str
    cause: Cause | None = None

    @property
    def is_task(self) -> bool:
        return self.kind in _TASK_SPANS.values()


@dataclass(frozen=True)
class TimelineRow:
    """One station. `marks` hold board, levels and contamination; `tasks` every task told of.

    A standing task has no last day and is told of today alone.
    """

    station: StationFacts
    label: str
    tract: str
    marks: tuple[LogLine, ...]
    spans: tuple[TimelineSpan, ...]
    tasks: tuple[Prompt, ...]
    windows: tuple[Window, ...]
    """Those of its tract."""
    level_on: LevelOn

    @property
    def standing(self) -> tuple[Prompt, ...]:
        """What is to be done any day now, most urgent first."""
        own = (task for task in self.tasks if task.last is None and task.state in OPEN_STATES)
        return tuple(sorted(own, key=lambda task: task.priority))


@dataclass(frozen=True)
class SeasonTimeline:
    first_day: date
    last_day: date
    today: date
    rows: tuple[TimelineRow, ...]


def season_timeline(board: Board, years_back: int = 1) -> SeasonTimeline:
    """Every station by tract and name, from 1 January as far as the model looks ahead.

    It begins `years_back` before this year, and has the whole season to come.
    """
    snapshot = board.snapshot
    today = snapshot.today
    first_day, last_day = date(today.year - years_back, 1, 1), today + timedelta(days=DAYS_AHEAD)
    return SeasonTimeline(
        first_day=first_day,
        last_day=last_day,
        today=today,
        rows=tuple(
            _row(board, station_id, first_day, last_day) for station_id in snapshot.places.stations
        ),
    )


def earliest_day(board: Board) -> date:
    """The day of the first entry about any station; today without one."""
    firsts = [entries[0].day for entries in board.snapshot.log.values() if entries]
    return min(firsts, default=board.snapshot.today)


_MARKED = frozenset({LineKind.READING, LineKind.CHORE, LineKind.EVENT, LineKind.ACTION})
_LOOKS = frozenset({LineKind.RAMP, LineKind.SIGHTING, LineKind.SIGN, LineKind.BEARS})


def _row(board: Board, station_id: str, first_day: date, last_day: date) -> TimelineRow:
    snapshot = board.snapshot
    facts, history = snapshot.places.stations[station_id], snapshot.histories[station_id]
    lines = log_lines(snapshot, station_id)
    season = snapshot.season_of(station_id)
    tasks = season_tasks(
        history, board.outlooks[station_id], season, first_day, last_day, snapshot.today
    )
    spans = (
        *(_contaminated(board, event, last_day) for event in history.events),
        *(span for task in tasks if (span := _task_span(task, snapshot.today)) is not None),
        *_dry(board, station_id),
        *_covered(history, snapshot.today),
    )
    return TimelineRow(
        station=facts,
        label=snapshot.places.label(facts),
        tract=snapshot.places.tract_of(facts).name,
        marks=tuple(
            line
            for line in reversed(lines)
            if line.kind in _MARKED | _LOOKS and first_day <= line.on <= last_day
        ),
        spans=tuple(span for span in spans if span.first <= last_day and span.last >= first_day),
        tasks=tasks,
        windows=windows_between(first_day, last_day, season),
        level_on=level_on_day(board, station_id),
    )


def _task_span(task: Prompt, today: date) -> TimelineSpan | None:
    """Where a task is drawn: its window, up to today where it is overdue."""
    if task.last is None or task.state not in _TASK_SPANS:
        return None
    if task.kind is PromptKind.RUN_DRY:
        return TimelineSpan(SpanKind.DRY_AHEAD, task.first, task.last, task.text)
    last = max(task.last, today) if task.state is PromptState.OVERDUE else task.last
    return TimelineSpan(_TASK_SPANS[task.state], task.first, last, task.text)


def _contaminated(board: Board, event: EventHistory, last_day: date) -> TimelineSpan:
    """From the find to the day it was seen clear, or is expected back in use."""
    text = f"Fouled by {event.cause}, found {plain_date(event.found)}"
    found = board.recoveries.by_event.get(event.event_id)
    if event.closed is None and not board.worked_out:
        text = f"{text}; the model is still at work on when it is over."
        return TimelineSpan(
            SpanKind.CONTAMINATED, event.found, board.snapshot.today, text, event.cause
        )
    if event.closed is not None or found is None:
        closed = event.closed or board.snapshot.today
        text = f"{text}; seen clear {plain_date(closed)}."
        return TimelineSpan(SpanKind.CONTAMINATED, event.found, closed, text, event.cause)
    clear = "" if found.clear is None else f"water clear about {plain_date(found.clear)}, "
    if found.expected is None:
        text = f"{text}; {clear}no return to use foreseen ({CAVEAT})."
        return TimelineSpan(SpanKind.CONTAMINATED, event.found, last_day, text, event.cause)
    text = f"{text}; {clear}in use again about {plain_date(found.expected)} ({CAVEAT})."
    last = max(found.expected, board.snapshot.today)
    return TimelineSpan(SpanKind.CONTAMINATED, event.found, last, text, event.cause)


def _dry(board: Board, station_id: str) -> list[TimelineSpan]:
    spans: list[TimelineSpan] = []
    levels, future = board.levels.by_station.get(station_id), board.ahead.get(station_id)
    if levels is not None:
        spans += [
            TimelineSpan(SpanKind.DRY, first, last, f"Dry by the model, {_stretch(first, last)}.")
            for first, last in levels.dry_spells()
        ]
    if future is not None:
        spans += [
            TimelineSpan(
                SpanKind.DRY_AHEAD,
                first,
                last,
                f"Expected dry, {_stretch(first, last)} (median of {future.basis}).",
            )
            for first, last in dry_ahead(future)
        ]
    return spans


def _covered(history: StationHistory, today: date) -> list[TimelineSpan]:
    """Stretches under a cover; the last one ends today or on retirement."""
    end = history.retired or today
    return [_under_cover(cover.on, cover.off or max(cover.on, end)) for cover in history.covers]


def _under_cover(first: date, last: date) -> TimelineSpan:
    return TimelineSpan(SpanKind.COVERED, first, last, f"Covered, {_stretch(first, last)}.")


def _stretch(first: date, last: date) -> str:
    if first == last:
        return plain_date(first)
    return f"{plain_date(first)} to {plain_date(last)}"
