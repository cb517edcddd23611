"""Prompts that come round every year: install, rake, check, fill, uncover."""

from datetime import date

import pytest

from store.records import Contamination, Reading, Sighting
from store.season.look import LookValue
from store.season.prompt import PromptInputs
from store.season.prompts import prompts_for
from store.season.windows import DEFAULT_SEASON
from store.vocabulary import Access, Cause, ChoreKind, LevelMark, PromptKind, UseSeen
from tests.store.season.prompt_states import LOW, OLD, open_state, states, task_state
from tests.store.season.season_logs import FACTS, chore, history, install


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
        ([], "2026-10-18", 0.5, "due"),
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
    outlook = PromptInputs(top_up_share=share, fill_gain_days=5.0, fill_costs_days=3.0)
    assert states(PromptKind.FILL, log, today, outlook, access=access) == state


def test_a_fill_says_how_much_and_why():
    seen = history(OLD, today="2026-10-10")
    prompts = prompts_for(seen, LOW, DEFAULT_SEASON, date(2026, 10, 10))
    fill = next(prompt for prompt in prompts if prompt.kind is PromptKind.FILL)
    assert fill.volume_l == 210.0
    assert fill.text == "Fill the tank by 18 October 2026 (modeled at 50%)."


@pytest.mark.parametrize(
    ("level_share", "top_up_share", "state"),
    [(0.5, None, "due"), (0.8, None, None), (0.5, 0.8, None), (0.8, 0.5, "due")],
)
def test_the_level_today_stands_in_for_the_top_up_date(level_share, top_up_share, state):
    outlook = PromptInputs(level_share=level_share, top_up_share=top_up_share)
    assert states(PromptKind.FILL, [OLD], "2026-10-10", outlook) == state


@pytest.mark.parametrize(("read_share", "said"), [(0.4, "(read at 40%)."), (0.9, None)])
def test_without_a_model_a_reading_of_today_says_whether_to_fill(read_share, said):
    day, outlook = date(2026, 10, 10), PromptInputs(read_share=read_share)
    prompts = prompts_for(history(OLD, today="2026-10-10"), outlook, DEFAULT_SEASON, day)
    fills = [prompt.text for prompt in prompts if prompt.kind is PromptKind.FILL]
    assert [text.endswith(said) for text in fills] == ([] if said is None else [True])


def test_a_full_tank_that_the_model_runs_dry_is_filled_all_the_same():
    outlook = PromptInputs(top_up_share=0.8, dry_chance=0.9)
    assert states(PromptKind.FILL, [OLD], "2026-10-10", outlook) == "due"


@pytest.mark.parametrize(
    ("share", "dry", "state"),
    [(0.1, True, "due"), (0.1, False, None), (0.8, True, None), (None, False, None)],
)
def test_a_fill_counts_only_while_the_heavy_use_weeks_look_safe(share, dry, state):
    """Given 20 gal on 1 October and read dry on the 20th, it is filled again."""
    log = [OLD, chore("2026-10-01", ChoreKind.FILL)]
    outlook = PromptInputs(top_up_share=share, dry_chance=0.9 * dry)
    assert states(PromptKind.FILL, log, "2026-10-18", outlook) == state


def test_a_second_fill_says_when_the_first_was():
    seen = history(OLD, chore("2026-10-01", ChoreKind.FILL), today="2026-10-18")
    outlook = PromptInputs(top_up_share=0.1, dry_chance=0.9, fill_volume_l=400.0)
    prompts = prompts_for(seen, outlook, DEFAULT_SEASON, date(2026, 10, 18))
    fill = next(prompt for prompt in prompts if prompt.kind is PromptKind.FILL)
    assert fill.text == (
        "Fill the tank by 18 October 2026 (filled on 1 October 2026, modeled at 10%, 90% likely "
        "to stand dry in the heavy-use weeks)."
    )


def test_fills_on_the_timeline():
    seen = history(OLD, chore("2025-10-12", ChoreKind.FILL))
    today = date(2026, 10, 10)
    assert task_state(PromptKind.FILL, seen, 2025, today, LOW) == "done"
    assert task_state(PromptKind.FILL, seen, 2024, today, LOW) is None
    assert task_state(PromptKind.FILL, seen, 2027, today, LOW) is None
    assert task_state(PromptKind.FILL, seen, 2026, date(2026, 10, 18), LOW) == "due"
    assert task_state(PromptKind.FILL, seen, 2026, date(2026, 11, 10), LOW) == "put off"
    assert task_state(PromptKind.FILL, seen, 2026, date(2026, 11, 11), LOW) is None
    young = history(install("2026-10-21"))
    assert task_state(PromptKind.FILL, young, 2026, date(2026, 10, 22), LOW) is None


@pytest.mark.parametrize(
    ("look", "today", "state"),
    [
        (None, "2026-08-15", None),
        (None, "2026-08-16", "upcoming"),
        (None, "2026-09-14", "upcoming"),
        (None, "2026-09-15", "due"),
        (None, "2026-09-25", "due"),
        (None, "2026-09-26", "overdue"),
        (None, "2026-10-18", "overdue"),
        (None, "2026-10-19", None),
        ("2026-07-31", "2026-09-20", "due"),
        ("2026-08-01", "2026-09-20", None),
        ("2026-09-28", "2026-09-28", None),
    ],
)
def test_check_before_the_end_of_september(look, today, state):
    log = [OLD] if look is None else [OLD, (look, Sighting("s1", use=UseSeen.NONE))]
    assert states(PromptKind.CHECK, log, today) == state


@pytest.mark.parametrize(
    ("chance", "look", "state"),
    [
        (None, None, "due"),
        (0.5, None, None),
        (0.5, LookValue(2.1, 2.0), "due"),
        (0.5, LookValue(2.0, 2.0), None),
        (0.5, LookValue(0.0, 0.0), None),
    ],
)
def test_a_look_is_asked_for_only_where_it_can_change_what_is_done(chance, look, state):
    outlook = PromptInputs(level_share=1.0, dry_chance=chance, look=look)
    assert states(PromptKind.CHECK, [OLD], "2026-09-20", outlook) == state


def test_a_camera_count_is_no_look():
    log = [OLD, ("2026-09-01", Sighting("s1", camera_per_day=2.0))]
    assert states(PromptKind.CHECK, log, "2026-09-20") == "due"


def test_a_tank_set_after_september_asks_for_no_check_that_year():
    seen = history(install("2026-09-26"), today="2026-10-01")
    assert task_state(PromptKind.CHECK, seen, 2026, date(2026, 10, 1)) is None


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
