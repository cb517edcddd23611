"""The work of the months to come, before it is asked for."""

from collections import Counter
from datetime import date

from store.season.prompt import PromptState
from store.views.later_work import later_work
from store.views.timeline import season_timeline
from store.vocabulary import PromptKind


def test_it_counts_what_the_timeline_has_ahead_and_no_prompt_tells(board):
    told = {(one.station_id, one.kind, one.first) for own in board.prompts.values() for one in own}
    expected: Counter[tuple[date, PromptKind]] = Counter(
        (task.first.replace(day=1), task.kind)
        for row in season_timeline(board).rows
        for task in row.tasks
        if task.state is PromptState.UPCOMING
        and (task.station_id, task.kind, task.first) not in told
        and task.kind is not PromptKind.RUN_DRY
        and (task.first - board.snapshot.today).days <= 366
    )
    found = later_work(board)
    assert {(one.month, one.kind): one.stations for one in found} == dict(expected)
    assert [one.month for one in found] == sorted(one.month for one in found)
    assert PromptKind.RAKE in {one.kind for one in found}
