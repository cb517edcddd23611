"""Bears: their pattern at a station, and the prompts of spring."""

from dataclasses import replace
from datetime import date

import pytest

from store.errors import BadValue
from store.records import BearVisit, TractFacts
from store.season.bears import BearPattern, BearSeen, bear_pattern, bear_season, later_install
from store.season.history import station_history
from store.season.month_day import MonthDay, Span
from store.season.prompt import PromptInputs
from store.season.prompts import prompts_for
from store.season.windows import DEFAULT_SEASON
from store.vocabulary import Access, ChoreKind, PromptKind, WindowKind
from tests.store.season.prompt_states import NOTHING_KNOWN, OLD, open_state
from tests.store.season.season_logs import FACTS, chore, entries, history


def tract(first="04-15", last="06-10"):
    return TractFacts("t1", "Far hill", bear_season_first=first, bear_season_last=last)


def in_bear_country(*log, today, first="04-15", last="06-10", bears=True):
    facts = replace(FACTS, bear_country=bears, access=Access.FOOT)
    day = date.fromisoformat(today)
    return station_history(facts, entries(*log), day, tract(first, last))


def visits(*days):
    return tuple(BearSeen(date.fromisoformat(day), 1) for day in days)


def test_a_pattern_is_a_run_without_two_weeks_between():
    seen = visits("2025-06-01", "2025-08-01", "2025-08-04", "2025-08-07", "2025-08-14")
    pattern = bear_pattern(seen)
    assert pattern == BearPattern(date(2025, 8, 1), date(2025, 8, 14), 4)
    assert pattern.per_week == pytest.approx(2.0)
    assert pattern.broken_from == date(2025, 8, 28)
    assert not pattern.is_broken(date(2025, 8, 27))
    assert pattern.is_broken(date(2025, 8, 28))
    assert bear_pattern(()) is None
    assert bear_pattern((BearSeen(date(2025, 8, 1), 0),)) is None


def test_the_bear_season_of_a_tract():
    assert bear_season(tract()) == Span("Bears move on Far hill", MonthDay(4, 15), MonthDay(6, 10))
    assert bear_season(TractFacts("t1", "Far hill", bear_season_first="04-15")) is None


@pytest.mark.parametrize(
    ("first", "last"), [("april", "06-10"), ("04-15", "06-31"), ("04", "05"), ("11-01", "02-01")]
)
def test_impossible_seasons_are_refused(first, last):
    with pytest.raises(BadValue):
        bear_season(tract(first, last))


@pytest.mark.parametrize(
    ("first", "last", "window"),
    [
        (None, None, ((5, 1), (5, 20))),
        ((4, 15), (6, 10), ((6, 11), (6, 30))),
        ((4, 1), (4, 30), ((5, 1), (5, 20))),
        ((6, 1), (6, 30), ((5, 1), (5, 20))),
        ((5, 10), (9, 5), ((9, 6), (9, 14))),
        # bears about until the tanks should be ready: no later day is left
        ((4, 15), (10, 30), ((5, 1), (5, 20))),
    ],
)
def test_an_install_waits_until_bears_have_moved_on(first, last, window):
    season = None if first is None else Span("Bears", MonthDay(*first), MonthDay(*last))
    install, ready = (
        DEFAULT_SEASON.window(kind, 2026) for kind in (WindowKind.INSTALL, WindowKind.READY)
    )
    later = later_install(install, season, ready)
    days = ((later.first.month, later.first.day), (later.last.month, later.last.day))
    assert days == window


@pytest.mark.parametrize(
    ("today", "state"),
    [("2026-05-15", "upcoming"), ("2026-06-11", "due"), ("2026-07-01", "overdue")],
)
def test_the_install_prompt_comes_later_in_bear_country(today, state):
    seen = in_bear_country(("2026-01-01", FACTS), today=today)
    found = [
        p
        for p in prompts_for(seen, NOTHING_KNOWN, DEFAULT_SEASON, date.fromisoformat(today))
        if p.kind is PromptKind.INSTALL
    ]
    assert [p.state for p in found] == [state]
    assert "put off until bears have moved on" in found[0].text


@pytest.mark.parametrize(
    ("today", "state"),
    [
        ("2026-02-20", None),
        ("2026-03-20", "upcoming"),
        ("2026-04-01", "due"),
        ("2026-04-15", "due"),
        ("2026-04-16", "overdue"),
        ("2026-06-10", "overdue"),
        ("2026-06-11", None),
    ],
)
def test_a_tank_is_to_be_covered_before_bears_move(today, state):
    seen = in_bear_country(OLD, today=today)
    assert open_state(PromptKind.COVER, seen, date.fromisoformat(today)) == state


def test_a_covered_tank_and_a_tract_without_bears_ask_for_no_cover():
    day = date(2026, 4, 10)
    covered = in_bear_country(OLD, chore("2025-11-16", ChoreKind.COVER), today="2026-04-10")
    opened = in_bear_country(
        OLD,
        chore("2025-11-16", ChoreKind.COVER),
        chore("2026-04-05", ChoreKind.UNCOVER),
        today="2026-04-10",
    )
    elsewhere = in_bear_country(OLD, today="2026-04-10", bears=False)
    states = [open_state(PromptKind.COVER, seen, day) for seen in (covered, opened, elsewhere)]
    assert states == [None, "due", None]
    assert open_state(PromptKind.COVER, history(OLD), day) is None


@pytest.mark.parametrize(
    ("today", "covered", "state"),
    [
        ("2026-08-20", False, "due"),
        ("2026-08-24", False, "due"),
        ("2026-08-25", False, None),
        ("2026-08-20", True, None),
    ],
)
def test_bears_that_keep_coming(today, covered, state):
    log = [OLD, ("2026-08-09", BearVisit("s1", 2)), ("2026-08-11", BearVisit("s1"))]
    if covered:
        log.append(chore("2026-08-12", ChoreKind.COVER))
    seen = history(*log, today=today)
    assert open_state(PromptKind.BEARS, seen, date.fromisoformat(today)) == state
    assert date(2026, 8, 11) not in seen.looks
    if state:
        told = prompts_for(seen, PromptInputs(), DEFAULT_SEASON, date.fromisoformat(today))
        text = next(p.text for p in told if p.kind is PromptKind.BEARS)
        assert text == (
            "Bears came 3 times, last on 11 August 2026; drain or cover it until none has come "
            "up to 25 August 2026."
        )
