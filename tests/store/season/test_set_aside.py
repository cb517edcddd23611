"""What people say to prompts, and the quiet weeks."""

from dataclasses import replace
from datetime import date

import pytest

from store.records import PromptAnswer, Reading
from store.season.prompt import PromptInputs, PromptState
from store.season.prompts import next_due, prompts_for, season_tasks, set_aside, urgency
from store.season.windows import DEFAULT_SEASON
from store.vocabulary import ChoreKind, Decision, PromptKind
from tests.store.season.prompt_states import OLD
from tests.store.season.season_logs import chore, history, ramp

LOW = PromptInputs(top_up_share=0.3, dry_chance=0.9, fill_gain_days=9.0, fill_costs_days=4.0)
FILL_FIRST = date(2026, 10, 8)


def said(on, kind, asked, until=None, note=""):
    decision = Decision.DECLINED if until is None else Decision.PUT_OFF
    return on, PromptAnswer("s1", kind, date.fromisoformat(asked), decision, until, note)


def the(kind, log, today, inputs=LOW):
    day = date.fromisoformat(today)
    seen = history(OLD, *log, today=today)
    year = date(day.year, 1, 1), date(day.year, 12, 31)
    tasks = season_tasks(seen, inputs, DEFAULT_SEASON, *year, day)
    (found,) = [task for task in tasks if task.kind is kind]
    return found


@pytest.mark.parametrize(
    ("today", "state"),
    [
        ("2026-10-09", PromptState.DUE),
        ("2026-10-10", PromptState.PUT_OFF),
        ("2026-10-14", PromptState.PUT_OFF),
        ("2026-10-15", PromptState.DUE),
    ],
)
def test_put_off_it_stands_back_to_the_day(today, state):
    log = [said("2026-10-10", PromptKind.FILL, "2026-10-08", date(2026, 10, 15), "truck away")]
    task = the(PromptKind.FILL, log, today)
    assert task.state is state
    assert task.text.endswith("Put off to 15 October 2026: truck away.") == (
        state is PromptState.PUT_OFF
    )


def test_declined_it_does_not_come_back_this_season_but_the_next():
    log = [said("2026-10-10", PromptKind.FILL, "2026-10-08", note="not worth the drive")]
    seen = history(OLD, *log, today="2027-10-10")
    declined = the(PromptKind.FILL, log, "2026-10-12")
    assert declined.state is PromptState.DECLINED
    assert "Declined on 10 October 2026: not worth the drive." in declined.text
    again = prompts_for(seen, LOW, DEFAULT_SEASON, date(2027, 10, 10))
    assert any(prompt.kind is PromptKind.FILL for prompt in again)
    assert declined in set_aside(
        history(OLD, *log, today="2026-10-12"), LOW, DEFAULT_SEASON, date(2026, 10, 12)
    )


def test_done_is_done_whatever_was_said():
    log = [
        said("2026-04-02", PromptKind.RAKE, "2026-04-01"),
        chore("2026-04-10", ChoreKind.RAKE),
    ]
    assert the(PromptKind.RAKE, log, "2026-04-12").state is PromptState.DONE


def test_a_missing_ramp_cannot_be_declined():
    log = [ramp("2026-06-01", in_place=False), said("2026-06-01", PromptKind.RAMP, "2026-06-01")]
    task = the(PromptKind.RAMP, log, "2026-06-02")
    assert (task.state, task.endangers) == (PromptState.DUE, True)
    later = [*log, said("2026-06-02", PromptKind.RAMP, "2026-06-01", date(2026, 6, 9))]
    task = the(PromptKind.RAMP, later, "2026-06-02")
    assert task.state is PromptState.DUE
    assert task.text.endswith("Put off to 9 June 2026.")


def test_a_ramp_to_look_at_comes_after_a_fill_that_closes_but_a_missing_one_before():
    today = date(2026, 10, 12)
    old_ramp = ramp("2026-01-01")
    prompts = prompts_for(history(OLD, old_ramp, today="2026-10-12"), LOW, DEFAULT_SEASON, today)
    order = [prompt.kind for prompt in prompts]
    assert order.index(PromptKind.FILL) < order.index(PromptKind.RAMP)
    gone = ramp("2026-10-01", in_place=False)
    prompts = prompts_for(history(OLD, gone, today="2026-10-12"), LOW, DEFAULT_SEASON, today)
    first = next_due(prompts)
    assert first is not None
    assert (first.kind, first.endangers) == (PromptKind.RAMP, True)


def test_on_the_day_of_a_visit_no_other_is_asked_for():
    read = ("2026-09-20", Reading("s1", below_rim_mm=300.0))
    asked = prompts_for(
        history(OLD, read, today="2026-09-20"), LOW, DEFAULT_SEASON, date(2026, 9, 20)
    )
    assert {prompt.kind for prompt in asked} == {PromptKind.FILL}
    asked = prompts_for(
        history(OLD, read, today="2026-09-21"), LOW, DEFAULT_SEASON, date(2026, 9, 21)
    )
    assert PromptKind.RAMP in {prompt.kind for prompt in asked}


@pytest.mark.parametrize(
    ("brings", "state", "words"),
    [
        (9.0, PromptState.OVERDUE, "Go all the same"),
        (3.0, PromptState.PUT_OFF, "Put off to 18 November 2026"),
    ],
)
def test_in_the_quiet_weeks_water_is_brought_only_where_it_brings_more(brings, state, words):
    task = the(PromptKind.FILL, [], "2026-10-21", replace(LOW, fill_gain_days=brings))
    assert task.state is state
    assert words in task.text
    assert "costs about 4 days" in task.text
    assert f"brings about {brings:.0f} days" in task.text


def test_in_the_quiet_weeks_a_danger_says_both_harms():
    task = the(PromptKind.RAMP, [ramp("2026-10-01", in_place=False)], "2026-10-21")
    assert task.state is PromptState.DUE
    assert "a visit now costs about 10 days of use, but an animal may die" in task.text


def test_what_is_set_aside_is_less_urgent_than_anything_open():
    log = [said("2026-10-10", PromptKind.FILL, "2026-10-08", date(2026, 10, 15))]
    put_off = the(PromptKind.FILL, log, "2026-10-12")
    due = the(PromptKind.RAMP, log, "2026-10-12")
    assert urgency(due) < urgency(put_off)
