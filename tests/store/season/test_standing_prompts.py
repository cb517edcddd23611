"""Prompts that stand until somebody deals with them."""

from datetime import date

import pytest

from store.records import Contamination, ContaminationAction
from store.season.prompt import PromptInputs, PromptState
from store.season.prompts import prompts_for, set_aside
from store.season.windows import DEFAULT_SEASON
from store.vocabulary import Access, Action, Cause, PromptKind
from tests.store.season.prompt_states import LOW, NOTHING_KNOWN, OLD, open_state, states
from tests.store.season.season_logs import history, ramp

FOUND = ("2026-03-01", Contamination("e", "s1", Cause.DYE))


@pytest.mark.parametrize(
    ("today", "dry_from", "state"),
    [
        ("2026-06-01", date(2026, 10, 25), "upcoming"),
        ("2026-10-24", date(2026, 10, 25), "upcoming"),
        ("2026-10-25", date(2026, 10, 25), "due"),
        ("2026-11-10", date(2026, 10, 25), "due"),
        ("2026-11-11", date(2026, 10, 25), None),
        ("2026-10-19", None, "upcoming"),
        ("2026-10-20", None, "due"),
    ],
)
def test_a_foot_tank_running_dry_is_a_notice_and_never_a_fill(today, dry_from, state):
    outlook = PromptInputs(top_up_share=0.1, dry_from=dry_from, dry_chance=0.9)
    assert states(PromptKind.RUN_DRY, [OLD], today, outlook, access=Access.FOOT) == state
    assert states(PromptKind.FILL, [OLD], today, outlook, access=Access.FOOT) is None
    assert states(PromptKind.RUN_DRY, [OLD], today, outlook, access=Access.ATV) is None


@pytest.mark.parametrize(
    ("read_share", "dry_from", "text"),
    [
        (0.6, None, None),
        (0.6, date(2026, 11, 2), "Will run dry from 2 November 2026 by the model"),
        (0.0, date(2026, 10, 24), "Dry by today's reading"),
        (None, date(2026, 10, 24), "Dry by the model"),
    ],
)
def test_water_that_was_read_today_is_not_answered_by_dry(read_share, dry_from, text):
    day = date(2026, 10, 24)
    outlook = PromptInputs(read_share=read_share, dry_from=dry_from, dry_chance=0.9)
    prompts = prompts_for(history(OLD, access=Access.FOOT), outlook, DEFAULT_SEASON, day)
    said = [prompt.text for prompt in prompts if prompt.kind is PromptKind.RUN_DRY]
    assert said == ([] if text is None else [f"{text}, and cannot be filled."])


@pytest.mark.parametrize(
    ("checks", "today", "state", "endangers"),
    [
        ([], "2020-05-10", None, None),  # somebody was there today
        ([], "2020-05-11", "due", False),
        ([], "2026-06-01", "due", False),
        ([("2026-01-01", True)], "2026-05-01", None, None),  # 120 days
        ([("2026-01-01", True)], "2026-05-02", "due", False),  # 121 days
        ([("2028-02-01", True)], "2028-05-31", None, None),  # 120 days over a leap day
        ([("2028-02-01", True)], "2028-06-01", "due", False),
        ([("2026-01-01", False)], "2026-01-01", "due", True),
        ([("2026-01-01", False), ("2026-01-02", True)], "2026-01-02", None, None),
        ([("2026-01-01", True), ("2026-01-02", False)], "2026-06-02", "due", True),
    ],
)
def test_escape_ramp(checks, today, state, endangers):
    seen = history(OLD, *(ramp(*check) for check in checks), today=today)
    day = date.fromisoformat(today)
    assert open_state(PromptKind.RAMP, seen, day) == state
    prompts = prompts_for(seen, NOTHING_KNOWN, DEFAULT_SEASON, day)
    found = [prompt.endangers for prompt in prompts if prompt.kind is PromptKind.RAMP]
    assert found == ([] if endangers is None else [endangers])


@pytest.mark.parametrize(
    ("today", "clear", "state", "words"),
    [
        ("2026-06-01", "2026-06-01", "due", "Look whether it is clear"),
        ("2026-06-10", "2026-06-01", "due", "Look whether it is clear"),
        ("2026-05-31", "2026-06-01", "upcoming", "recovery is expected by 1 June 2026"),
        ("2026-05-02", "2026-06-01", "upcoming", "recovery is expected by 1 June 2026"),
        ("2026-05-01", "2026-06-01", None, None),
        ("2026-05-01", None, "due", "no date of recovery"),
        ("2026-08-01", None, "due", "before the heavy-use weeks"),
        ("2026-08-01", "2026-10-21", "due", "before the heavy-use weeks"),
        ("2026-10-01", "2026-10-20", "upcoming", "expected by 20 October 2026"),
        ("2026-07-31", "2026-10-21", None, None),
        ("2026-11-09", "2026-12-25", None, None),  # quiet weeks
        ("2026-11-11", "2026-12-01", "upcoming", "expected by 1 December 2026"),
    ],
)
def test_contamination(today, clear, state, words):
    clear_on = {"e": date.fromisoformat(clear) if clear else None}
    outlook = PromptInputs(clear_on=clear_on)
    day = date.fromisoformat(today)
    seen = history(OLD, FOUND, today=today)
    prompts = prompts_for(seen, outlook, DEFAULT_SEASON, day)
    found = [prompt for prompt in prompts if prompt.kind is PromptKind.CONTAMINATION]
    assert [prompt.state for prompt in found] == ([state] if state else [])
    assert all(words in prompt.text and prompt.event_id == "e" for prompt in found)


def test_a_fouled_tank_waits_for_the_end_of_the_quiet_weeks():
    today = date(2026, 11, 9)
    inputs = PromptInputs(clear_on={"e": date(2026, 12, 25)})
    aside = set_aside(history(OLD, FOUND), inputs, DEFAULT_SEASON, today)
    (put_off,) = [prompt for prompt in aside if prompt.kind is PromptKind.CONTAMINATION]
    assert put_off.put_off_to == date(2026, 11, 18)
    assert "before the heavy-use weeks are over" in put_off.text
    assert put_off.text.endswith(
        "Put off to 18 November 2026: the quiet weeks last to 17 November 2026."
    )


@pytest.mark.parametrize(
    ("access", "words"),
    [(Access.FOOT, "weeks; plan without it"), (Access.ATV, "bail and refill it, or plan")],
)
def test_only_a_tank_that_can_be_reached_is_to_be_refilled(access, words):
    seen = history(OLD, FOUND, access=access)
    prompts = prompts_for(seen, NOTHING_KNOWN, DEFAULT_SEASON, date(2026, 9, 1))
    assert any(words in prompt.text for prompt in prompts)


def test_a_carcass_left_in_outranks_everything_until_it_is_out():
    found = ("2026-03-01", Contamination("e", "s1", Cause.DROWNED_ANIMAL))
    removed = ("2026-03-02", ContaminationAction("e", "s1", Action.REMOVED))
    today = date(2026, 5, 5)
    left = prompts_for(history(OLD, found), NOTHING_KNOWN, DEFAULT_SEASON, today)
    assert left[0].kind is PromptKind.CONTAMINATION
    assert left[0].endangers
    assert any(prompt.state is PromptState.OVERDUE for prompt in left[1:])
    out = prompts_for(history(OLD, found, removed), NOTHING_KNOWN, DEFAULT_SEASON, today)
    assert not any(prompt.endangers for prompt in out)


def test_an_event_seen_clear_is_over():
    clear = ("2026-04-01", ContaminationAction("e", "s1", Action.SEEN_CLEAR))
    assert states(PromptKind.CONTAMINATION, [OLD, FOUND, clear], "2026-05-01") is None


def test_a_spill_is_never_to_be_bailed_nor_topped_up():
    """Bailing a spill is for licensed practice."""
    spill = ("2026-09-01", Contamination("e", "s1", Cause.SPILL))
    seen = history(OLD, spill, access=Access.VEHICLE, today="2026-10-10")
    prompts = prompts_for(seen, LOW, DEFAULT_SEASON, date(2026, 10, 10))
    (fouled,) = [prompt for prompt in prompts if prompt.kind is PromptKind.CONTAMINATION]
    assert fouled.text.startswith("Fouled by spill")
    assert "bail" not in fouled.text
    assert PromptKind.FILL not in {prompt.kind for prompt in prompts}
