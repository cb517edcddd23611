"""What the season's timeline tells of one station on some days, and who has work then."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.season.cautions import Caution, chore_cautions, contamination_cautions
from store.season.prompt import OPEN_STATES, Prompt, PromptState
from store.season.windows import NO_WORK, Window
from store.views.log_lines import LogLine
from store.views.timeline import SeasonTimeline, SpanKind, TimelineRow, TimelineSpan
from store.vocabulary import ChoreKind, PromptKind


@dataclass(frozen=True)
class CellDetail:
    """What stands in one row on some days, most important first in each."""

    marks: tuple[LogLine, ...]
    spans: tuple[TimelineSpan, ...]
    tasks: tuple[Prompt, ...]
    windows: tuple[Window, ...]
    cautions: tuple[Caution, ...]


_SPAN_RANK = {kind: rank for rank, kind in enumerate(SpanKind)}


def cell_detail(timeline: SeasonTimeline, row: TimelineRow, first: date, last: date) -> CellDetail:
    """What stands in a row on the days `first` to `last`, with the cautions it calls for."""
    spans = sorted(
        (
            span
            for span in row.spans
            if not span.is_task and span.first <= last and span.last >= first
        ),
        key=lambda span: (_SPAN_RANK[span.kind], span.first),
    )
    tasks = tuple(task for task in row.tasks if _told(task, first, last, timeline.today))
    return CellDetail(
        marks=tuple(mark for mark in row.marks if first <= mark.on <= last),
        spans=tuple(spans),
        tasks=tuple(sorted(tasks, key=lambda task: task.priority)),
        windows=windows_at(row, first, last),
        cautions=_cautions(row, spans, tasks, timeline.today),
    )


def windows_at(row: TimelineRow, first: date, last: date) -> tuple[Window, ...]:
    """The windows of a row's tract that touch the days `first` to `last`."""
    return tuple(w for w in row.windows if w.first <= last and w.last >= first)


def _told(task: Prompt, first: date, last: date, today: date) -> bool:
    if task.kind is PromptKind.RUN_DRY:
        return False
    if task.last is None:
        return first <= today <= last
    if task.done_on is not None and first <= task.done_on <= last:
        return True
    end = max(task.last, today) if task.state is PromptState.OVERDUE else task.last
    return task.first <= last and end >= first


_CHORE_OF_TASK = {
    PromptKind.INSTALL: ChoreKind.INSTALL,
    PromptKind.RAKE: ChoreKind.RAKE,
    PromptKind.FILL: ChoreKind.FILL,
    PromptKind.UNCOVER: ChoreKind.UNCOVER,
    PromptKind.COVER: ChoreKind.COVER,
}


def _cautions(
    row: TimelineRow, spans: list[TimelineSpan], tasks: tuple[Prompt, ...], today: date
) -> tuple[Caution, ...]:
    """Of fouling not over yet, then of the work still to be done; each once."""
    bears = row.station.bear_country
    cautions: list[Caution] = []
    for span in spans:
        if span.cause is not None and span.last >= today:
            cautions += contamination_cautions(span.cause, bear_country=bears)
    for task in tasks:
        if task.state in OPEN_STATES and task.kind in _CHORE_OF_TASK:
            cautions += chore_cautions(_CHORE_OF_TASK[task.kind], bear_country=bears)
    return tuple(dict.fromkeys(cautions))


def due_rows_at(timeline: SeasonTimeline, first: date, last: date) -> tuple[TimelineRow, ...]:
    """The rows with a dated task still open in the windows that touch these days.

    Where no window does, the rows with any open task on the days themselves.
    """
    today = timeline.today
    return tuple(row for row in timeline.rows if _has_work(row, first, last, today))


def _has_work(row: TimelineRow, first: date, last: date, today: date) -> bool:
    windows = [window for window in windows_at(row, first, last) if window.kind not in NO_WORK]
    first = min((window.first for window in windows), default=first)
    last = max((window.last for window in windows), default=last)
    return any(
        task.state in OPEN_STATES
        and (task.last is not None or not windows)
        and _told(task, first, last, today)
        for task in row.tasks
    )
