"""The rules of the calendar, day by day (common practice, no source)."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.records import (
    Access,
    Action,
    Cause,
    ChoreKind,
    Contamination,
    ContaminationAction,
    LevelMark,
    Reading,
    Sighting,
    UseSeen,
)
from store.season.prompt import OPEN_STATES, PromptKind, PromptState, StationOutlook
from store.season.prompts import next_due, prompts_for, season_tasks
from store.season.windows import DEFAULT_SEASON, MonthDay, Season, Span
from tests.store.season.season_logs import FACTS, chore, history, install, ramp

NOTHING_KNOWN = StationOutlook()
OLD = install("2020-05-10")
LOW = StationOutlook(top_up_share=0.5, fill_volume_l=210.0)


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


@pytest.mark.parametrize(
    ("known", "today", "state"),
    [
        ("2026-01-01", "2026-03-31", "upcoming"),
        ("2026-01-01", "2026-04-01", "upcoming"),
        ("2026-01-01", "2026-04-30", "upcoming"),
        ("2026-01-01", "2026-05-01", "due"),
        ("2026-01-01", "2026-05-20", "due"),
        ("2026-01-01", "2026-05-21", "overdue"),
        ("2026-01-01", "2026-12-31", "overdue"),
        ("2026-01-01", "2027-03-31", "overdue"),
        ("2026-01-01", "2027-04-01", "upcoming"),
        ("2026-01-01", "2027-05-21", "overdue"),
        ("2026-05-20", "2026-05-21", "overdue"),
        # a station without a tank is told at any time when its install comes
        ("2026-05-21", "2026-05-21", "upcoming"),
        ("2026-10-15", "2026-10-20", "upcoming"),
        ("2026-10-15", "2027-03-31", "upcoming"),
        ("2026-10-15", "2027-04-01", "upcoming"),
        ("2026-10-15", "2027-05-20", "due"),
    ],
)
def test_install(known, today, state):
    assert states(PromptKind.INSTALL, [(known, FACTS)], today) == state


def test_an_installed_station_is_not_installed_again():
    seen = history(("2026-01-01", FACTS), install("2026-05-12"))
    assert open_state(PromptKind.INSTALL, seen, date(2026, 5, 12)) is None
    assert task_state(PromptKind.INSTALL, seen, 2026, date(2026, 6, 1)) == "done"
    assert task_state(PromptKind.INSTALL, seen, 2025, date(2026, 6, 1)) is None
    assert task_state(PromptKind.INSTALL, seen, 2027, date(2027, 6, 1)) is None


def test_a_tank_known_only_by_its_readings_asks_for_no_install():
    log = [("2026-01-01", FACTS), ("2026-03-01", Reading("s1", mark=LevelMark.FULL))]
    assert states(PromptKind.INSTALL, log, "2026-05-10") is None


def test_a_missed_install_is_skipped_once_the_next_may_is_upcoming():
    seen = history(("2025-01-01", FACTS))
    assert task_state(PromptKind.INSTALL, seen, 2025, date(2026, 3, 31)) == "overdue"
    assert task_state(PromptKind.INSTALL, seen, 2025, date(2026, 4, 1)) == "skipped"


@pytest.mark.parametrize(
    ("rakes", "today", "state"),
    [
        ([], "2028-02-29", None),
        ([], "2028-03-01", None),
        ([], "2028-03-02", "upcoming"),
        ([], "2028-03-31", "upcoming"),
        ([], "2028-04-01", "due"),
        ([], "2028-04-30", "due"),
        ([], "2028-05-01", "overdue"),
        ([], "2028-06-30", "overdue"),
        ([], "2028-07-01", None),
        (["2028-02-29"], "2028-04-10", "due"),
        (["2028-03-01"], "2028-04-10", None),
        (["2028-04-10"], "2028-04-10", None),
        (["2028-05-15"], "2028-05-16", None),
        (["2027-04-10"], "2028-04-10", "due"),
    ],
)
def test_rake(rakes, today, state):
    log = [OLD, *(chore(on, ChoreKind.RAKE) for on in rakes)]
    assert states(PromptKind.RAKE, log, today) == state


@pytest.mark.parametrize(
    ("rake", "today", "state"),
    [
        (None, "2028-07-01", "skipped"),
        ("2028-07-20", "2028-08-01", "done"),
        ("2028-11-10", "2028-12-01", "done"),
        ("2028-11-11", "2028-12-01", "skipped"),
    ],
)
def test_rake_on_the_timeline(rake, today, state):
    log = [OLD] if rake is None else [OLD, chore(rake, ChoreKind.RAKE)]
    seen = history(*log, today=today)
    assert task_state(PromptKind.RAKE, seen, 2028, date.fromisoformat(today)) == state


def test_no_rake_before_or_in_the_year_of_the_install():
    seen = history(install("2026-03-02"))
    today = date(2026, 4, 15)
    assert task_state(PromptKind.RAKE, seen, 2025, today) is None
    assert task_state(PromptKind.RAKE, seen, 2026, today) is None
    assert task_state(PromptKind.RAKE, seen, 2027, today) == "upcoming"


@pytest.mark.parametrize(
    ("fills", "today", "share", "state"),
    [
        ([], "2026-09-07", 0.5, None),
        ([], "2026-09-08", 0.5, "upcoming"),
        ([], "2026-10-07", 0.5, "upcoming"),
        ([], "2026-10-08", 0.5, "due"),
        ([], "2026-10-20", 0.5, "due"),
        ([], "2026-10-21", 0.5, "overdue"),
        ([], "2026-11-10", 0.5, "overdue"),
        ([], "2026-11-11", 0.5, None),
        ([], "2026-10-10", 0.7499, "due"),
        ([], "2026-10-10", 0.75, None),
        ([], "2026-10-10", 1.0, None),
        ([], "2026-10-10", None, "due"),
        (["2026-09-30"], "2026-10-10", 0.5, "due"),
        (["2026-10-01"], "2026-10-10", 0.5, None),
        (["2026-10-10"], "2026-10-10", 0.5, None),
        (["2025-10-10"], "2026-10-10", 0.5, "due"),
    ],
)
@pytest.mark.parametrize("access", [Access.VEHICLE, Access.ATV])
def test_fill(fills, today, share, state, access):
    log = [OLD, *(chore(on, ChoreKind.FILL) for on in fills)]
    outlook = StationOutlook(top_up_share=share)
    assert states(PromptKind.FILL, log, today, outlook, access=access) == state


def test_a_fill_says_how_much_and_why():
    seen = history(OLD, today="2026-10-10")
    prompts = prompts_for(seen, LOW, DEFAULT_SEASON, date(2026, 10, 10))
    fill = next(prompt for prompt in prompts if prompt.kind is PromptKind.FILL)
    assert fill.volume_l == 210.0
    assert fill.text == "Fill the tank by 20 October 2026 (modeled at 50%)."


@pytest.mark.parametrize(
    ("level_share", "top_up_share", "state"),
    [(0.5, None, "due"), (0.8, None, None), (0.5, 0.8, None), (0.8, 0.5, "due")],
)
def test_the_level_today_stands_in_for_the_top_up_date(level_share, top_up_share, state):
    outlook = StationOutlook(level_share=level_share, top_up_share=top_up_share)
    assert states(PromptKind.FILL, [OLD], "2026-10-10", outlook) == state


def test_a_full_tank_that_the_model_runs_dry_is_filled_all_the_same():
    outlook = StationOutlook(top_up_share=0.8, dry_in_heavy_use=True)
    assert states(PromptKind.FILL, [OLD], "2026-10-10", outlook) == "due"


def test_fills_on_the_timeline():
    seen = history(OLD, chore("2025-10-12", ChoreKind.FILL))
    today = date(2026, 10, 10)
    assert task_state(PromptKind.FILL, seen, 2025, today, LOW) == "done"
    assert task_state(PromptKind.FILL, seen, 2024, today, LOW) is None
    assert task_state(PromptKind.FILL, seen, 2027, today, LOW) is None
    assert task_state(PromptKind.FILL, seen, 2026, date(2026, 11, 10), LOW) == "overdue"
    assert task_state(PromptKind.FILL, seen, 2026, date(2026, 11, 11), LOW) is None
    young = history(install("2026-10-21"))
    assert task_state(PromptKind.FILL, young, 2026, date(2026, 10, 22), LOW) is None


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
    outlook = StationOutlook(top_up_share=0.1, dry_from=dry_from, dry_in_heavy_use=True)
    assert states(PromptKind.RUN_DRY, [OLD], today, outlook, access=Access.FOOT) == state
    assert states(PromptKind.FILL, [OLD], today, outlook, access=Access.FOOT) is None
    assert states(PromptKind.RUN_DRY, [OLD], today, outlook, access=Access.ATV) is None


@pytest.mark.parametrize(
    ("look", "today", "state"),
    [
        (None, "2026-08-15", None),
        (None, "2026-08-16", "upcoming"),
        (None, "2026-09-14", "upcoming"),
        (None, "2026-09-15", "due"),
        (None, "2026-09-25", "due"),
        (None, "2026-09-26", "overdue"),
        (None, "2026-11-10", "overdue"),
        (None, "2026-11-11", None),
        ("2026-07-31", "2026-09-20", "due"),
        ("2026-08-01", "2026-09-20", None),
        ("2026-09-28", "2026-09-28", None),
    ],
)
def test_check_before_the_end_of_september(look, today, state):
    log = [OLD] if look is None else [OLD, (look, Sighting("s1", use=UseSeen.NONE))]
    assert states(PromptKind.CHECK, log, today) == state


def test_a_camera_count_is_no_look():
    log = [OLD, ("2026-09-01", Sighting("s1", camera_per_day=2.0))]
    assert states(PromptKind.CHECK, log, "2026-09-20") == "due"


def test_a_tank_set_after_september_asks_for_no_check_that_year():
    seen = history(install("2026-09-26"), today="2026-10-01")
    assert task_state(PromptKind.CHECK, seen, 2026, date(2026, 10, 1)) is None


@pytest.mark.parametrize(
    ("checks", "today", "state", "endangers"),
    [
        ([], "2020-05-10", "due", False),
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
    ("bear_country", "today", "state"),
    [
        (False, "2026-08-15", None),
        (False, "2026-08-16", "upcoming"),
        (False, "2026-09-15", "due"),
        (False, "2026-09-26", "overdue"),
        (False, "2026-11-11", None),
        (True, "2026-09-07", None),
        (True, "2026-09-26", "upcoming"),
        (True, "2026-10-08", "due"),
        (True, "2026-10-21", "overdue"),
    ],
)
def test_uncover(bear_country, today, state):
    log = [OLD, chore("2026-01-10", ChoreKind.COVER)]
    assert states(PromptKind.UNCOVER, log, today, bear_country=bear_country) == state


def test_uncovered_tanks_and_fouled_ones_are_left_alone():
    cover = chore("2026-01-10", ChoreKind.COVER)
    off = chore("2026-09-16", ChoreKind.UNCOVER)
    fouled = ("2026-09-01", Contamination("e", "s1", Cause.DYE))
    assert states(PromptKind.UNCOVER, [OLD], "2026-09-20") is None
    assert states(PromptKind.UNCOVER, [OLD, cover, off], "2026-09-20") is None
    assert states(PromptKind.UNCOVER, [OLD, cover, fouled], "2026-09-20") is None
    seen = history(OLD, cover, off)
    assert task_state(PromptKind.UNCOVER, seen, 2026, date(2026, 9, 20)) == "done"
    covered = history(OLD, cover)
    assert task_state(PromptKind.UNCOVER, covered, 2026, date(2026, 11, 10)) == "overdue"
    assert task_state(PromptKind.UNCOVER, covered, 2026, date(2026, 11, 11)) is None
    assert task_state(PromptKind.UNCOVER, covered, 2027, date(2026, 9, 20)) is None


FOUND = ("2026-03-01", Contamination("e", "s1", Cause.DYE))


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
        ("2026-11-10", "2026-12-25", "due", "before the heavy-use weeks"),
        ("2026-11-11", "2026-12-01", "upcoming", "expected by 1 December 2026"),
    ],
)
def test_contamination(today, clear, state, words):
    clear_on = {"e": date.fromisoformat(clear) if clear else None}
    outlook = StationOutlook(clear_on=clear_on)
    day = date.fromisoformat(today)
    seen = history(OLD, FOUND, today=today)
    prompts = prompts_for(seen, outlook, DEFAULT_SEASON, day)
    found = [prompt for prompt in prompts if prompt.kind is PromptKind.CONTAMINATION]
    assert [prompt.state for prompt in found] == ([state] if state else [])
    assert all(words in prompt.text and prompt.event_id == "e" for prompt in found)


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


def test_most_urgent_first_and_next_due_over_stations():
    today = date(2026, 9, 20)
    calm = prompts_for(history(OLD, ramp("2026-09-01")), LOW, DEFAULT_SEASON, today)
    assert [prompt.state for prompt in calm] == ["upcoming"]
    missing = history(OLD, ramp("2026-03-01", False), today="2026-09-20")
    pressed = prompts_for(missing, LOW, DEFAULT_SEASON, today)
    assert [(prompt.kind, prompt.state) for prompt in pressed] == [
        (PromptKind.RAMP, "due"),
        (PromptKind.CHECK, "due"),
        (PromptKind.FILL, "upcoming"),
    ]
    assert next_due([*calm, *pressed]) == pressed[0]
    assert next_due([]) is None


def test_a_shifted_season_moves_its_prompts_over_new_year():
    season = Season(rake=Span("Winter raking", MonthDay(1, 10), MonthDay(1, 20)))
    seen = history(OLD, ramp("2026-12-01"))
    assert open_state(PromptKind.RAKE, seen, date(2026, 12, 10), season=season) is None
    assert open_state(PromptKind.RAKE, seen, date(2026, 12, 11), season=season) == "upcoming"


def test_a_retired_station_keeps_only_the_work_done():
    seen = history(OLD, chore("2025-04-10", ChoreKind.RAKE), chore("2026-03-01", ChoreKind.RETIRE))
    tasks = season_tasks(
        seen, LOW, DEFAULT_SEASON, date(2024, 1, 1), date(2027, 1, 1), date(2026, 10, 10)
    )
    assert [(task.kind, task.done_on) for task in tasks] == [(PromptKind.RAKE, date(2025, 4, 10))]


def test_tasks_outside_the_span_are_left_out():
    seen = history(OLD, ramp("2026-03-20"))
    tasks = season_tasks(
        seen, LOW, DEFAULT_SEASON, date(2026, 5, 1), date(2026, 9, 14), date(2026, 4, 1)
    )
    assert tasks == ()


days = st.dates(date(2024, 1, 1), date(2028, 12, 31))
whats = st.sampled_from(
    [chore("2024-01-01", kind)[1] for kind in ChoreKind if kind is not ChoreKind.RETIRE]
    + [
        ramp("2024-01-01", False)[1],
        Contamination("e", "s1", Cause.DROWNED_ANIMAL),
        ContaminationAction("e", "s1", Action.BAILED),
        Reading("s1", mark=LevelMark.DRY),
        FACTS,
    ]
)
logs = st.lists(st.tuples(days.map(date.isoformat), whats), max_size=12)
outlooks = st.builds(
    StationOutlook,
    top_up_share=st.none() | st.floats(0, 1),
    dry_in_heavy_use=st.booleans(),
    dry_from=st.none() | days,
    clear_on=st.fixed_dictionaries({"e": st.none() | days}),
)


@given(logs, outlooks, days, st.sampled_from(Access), st.booleans())
def test_retired_stations_never_prompt(log, outlook, today, access, bear_country):
    log = [*log, chore("2024-01-01", ChoreKind.RETIRE)]
    seen = history(*log, today=today.isoformat(), access=access, bear_country=bear_country)
    assert prompts_for(seen, outlook, DEFAULT_SEASON, today) == ()


@given(logs, outlooks, days, st.sampled_from(Access), st.booleans())
def test_prompts_are_open_in_order_one_a_kind_and_never_before_the_install(
    log, outlook, today, access, bear_country
):
    seen = history(*log, today=today.isoformat(), access=access, bear_country=bear_country)
    prompts = prompts_for(seen, outlook, DEFAULT_SEASON, today)
    kinds = [prompt.kind for prompt in prompts]
    assert len(kinds) == len(set(kinds))
    assert all(prompt.state in OPEN_STATES for prompt in prompts)
    assert [prompt.priority for prompt in prompts] == sorted(p.priority for p in prompts)
    assert all(prompt.last is None or prompt.first <= prompt.last for prompt in prompts)
    if access is Access.FOOT:
        assert PromptKind.FILL not in kinds
    if seen.installed is None:
        assert set(kinds) <= {PromptKind.INSTALL}
    else:
        assert all(p.last is None or p.last >= seen.installed for p in prompts)


@given(logs, outlooks, days)
def test_every_open_prompt_is_a_task_of_its_span(log, outlook, today):
    seen = history(*log, today=today.isoformat())
    span = (today - timedelta(days=800), today + timedelta(days=800))
    tasks = season_tasks(seen, outlook, DEFAULT_SEASON, *span, today)
    assert set(prompts_for(seen, outlook, DEFAULT_SEASON, today)) <= set(tasks)
