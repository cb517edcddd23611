"""The rules of the calendar, day by day (common practice, no source)."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from store.records import Contamination, ContaminationAction, Reading
from store.season.month_day import MonthDay, Span
from store.season.prompt import OPEN_STATES, PromptInputs
from store.season.prompts import next_due, prompts_for, season_tasks
from store.season.windows import DEFAULT_SEASON, Season
from store.vocabulary import Access, Action, Cause, ChoreKind, LevelMark, PromptKind
from tests.store.season.prompt_states import LOW, OLD, open_state
from tests.store.season.season_logs import FACTS, chore, history, ramp


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
    PromptInputs,
    top_up_share=st.none() | st.floats(0, 1),
    dry_chance=st.none() | st.floats(0.0, 1.0),
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
