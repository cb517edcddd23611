"""What a station is due: every task of a span, and the ones still open today."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from store.season.history import StationHistory
from store.season.prompt import OPEN_STATES, SET_ASIDE_STATES, Prompt, PromptInputs, PromptState
from store.season.set_aside import considered
from store.season.standing import standing_prompts
from store.season.windows import Season
from store.season.yearly import year_tasks
from store.vocabulary import PromptKind


def season_tasks(
    history: StationHistory,
    outlook: PromptInputs,
    season: Season,
    first_day: date,
    last_day: date,
    today: date,
) -> tuple[Prompt, ...]:
    """Every task that touches the days from `first_day` to `last_day`, by date.

    Done and skipped tasks are included, for a timeline to draw. A standing prompt
    reaches from its first day to today. Of a retired station only the work done
    remains.
    """
    yearly = (
        task
        for year in range(season.year_of(first_day), season.year_of(last_day) + 1)
        for task in year_tasks(history, outlook, season, year, today)
    )
    tasks = [
        considered(task, history, outlook, season, today)
        for task in (*yearly, *standing_prompts(history, outlook, season, today))
    ]
    if history.retired is not None:
        tasks = [task for task in tasks if task.state is PromptState.DONE]
    touching = (task for task in tasks if _touches(task, first_day, last_day, today))
    return tuple(sorted(touching, key=lambda task: (task.first, task.priority)))


def prompts_for(
    history: StationHistory, outlook: PromptInputs, season: Season, today: date
) -> tuple[Prompt, ...]:
    """The open prompts of a station, most urgent first; none for a retired one.

    An upcoming window shows `season.upcoming_days` ahead. A notice that a tank will
    run dry shows at once, since only early notice is of use; so does the install of
    a station that has no tank yet, since nothing else is ever due there.
    """
    return open_of(tasks_around(history, outlook, season, today), season, today)


def tasks_around(
    history: StationHistory, outlook: PromptInputs, season: Season, today: date
) -> tuple[Prompt, ...]:
    """The tasks of last year, this one and the next, by date."""
    first_day, last_day = date(today.year - 1, 1, 1), date(today.year + 1, 12, 31)
    return season_tasks(history, outlook, season, first_day, last_day, today)


def open_of(tasks: Iterable[Prompt], season: Season, today: date) -> tuple[Prompt, ...]:
    """`prompts_for`, from the tasks around today."""
    ahead = today + timedelta(days=season.upcoming_days)
    still_open = [task for task in tasks if task.state in OPEN_STATES]
    shown = [task for task in still_open if task.first <= ahead or task.kind is PromptKind.RUN_DRY]
    if not shown:
        shown = [task for task in still_open if task.kind is PromptKind.INSTALL][:1]
    return tuple(sorted(shown, key=urgency))


def set_aside(
    history: StationHistory, outlook: PromptInputs, season: Season, today: date
) -> tuple[Prompt, ...]:
    """What was put off or declined and still stands in this season year."""
    return set_aside_of(tasks_around(history, outlook, season, today))


def set_aside_of(tasks: Iterable[Prompt]) -> tuple[Prompt, ...]:
    """`set_aside`, from the tasks around today."""
    return tuple(task for task in tasks if task.state in SET_ASIDE_STATES)


def next_due(prompts: Iterable[Prompt]) -> Prompt | None:
    """The most urgent prompt of one or many stations, or None when there is none."""
    return min(prompts, key=urgency, default=None)


def urgency(prompt: Prompt) -> tuple[int, date, date, str, str]:
    """What prompts are sorted by: danger and state first, then the nearest last day."""
    return (
        prompt.priority,
        prompt.last or prompt.first,
        prompt.first,
        prompt.station_id,
        prompt.event_id or "",
    )


def _touches(task: Prompt, first_day: date, last_day: date, today: date) -> bool:
    last = task.last or max(today, task.first)
    if task.done_on is not None and first_day <= task.done_on <= last_day:
        return True
    return task.first <= last_day and last >= first_day
