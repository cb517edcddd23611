"""The state of one kind of prompt, as the tests of its rules ask for it."""

from datetime import date

from store.season.prompt import PromptInputs
from store.season.prompts import prompts_for, season_tasks
from store.season.windows import DEFAULT_SEASON
from tests.store.season.season_logs import history, install

NOTHING_KNOWN = PromptInputs()
OLD = install("2020-05-10")
LOW = PromptInputs(top_up_share=0.5, fill_volume_l=210.0)


def open_state(kind, seen, today, outlook=NOTHING_KNOWN, season=DEFAULT_SEASON):
    """The state of the one open prompt of a kind, or None."""
    found = [p for p in prompts_for(seen, outlook, season, today) if p.kind is kind]
    assert len(found) <= 1
    return found[0].state.value if found else None


def task_state(kind, seen, year, today, outlook=NOTHING_KNOWN):
    tasks = season_tasks(seen, outlook, DEFAULT_SEASON, date(year, 1, 1), date(year, 12, 31), today)
    found = [task for task in tasks if task.kind is kind]
    assert len(found) <= 1
    return found[0].state.value if found else None


def states(kind, log, today, outlook=NOTHING_KNOWN, **facts):
    day = date.fromisoformat(today)
    return open_state(kind, history(*log, today=today, **facts), day, outlook)
