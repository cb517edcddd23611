"""What the log of a station boils down to."""

from datetime import date

from store.contamination.events import EventAction
from store.records import Chore, Contamination, ContaminationAction, Note, Reading, Sighting
from store.season.history import FillDone, RampSeen, UseSighting
from store.vocabulary import Action, Cause, ChoreKind, LevelMark, UseSeen
from tests.store.season.season_logs import FACTS, chore, history, install, ramp


def test_an_empty_log():
    empty = history()
    assert (empty.installed, empty.retired, empty.last_look) == (None, None, None)
    assert (empty.last_rake, empty.fills, empty.last_reading) == (None, (), None)
    assert empty.open_events == ()


def test_a_full_log():
    seen = history(
        ("2024-02-29", FACTS),
        install("2024-05-10"),
        ramp("2024-05-10"),
        chore("2025-04-12", ChoreKind.RAKE),
        ("2025-08-03", Reading("s1", mark=LevelMark.HALF)),
        chore("2025-10-10", ChoreKind.FILL, 300.0),
        ("2025-10-30", Sighting("s1", use=UseSeen.HEAVY)),
        ("2025-11-20", Sighting("s1", camera_per_day=3.5)),
        ("2025-12-01", Note("s1", "the gate is locked")),
        chore("2025-12-02", ChoreKind.RETIRE),
    )
    assert seen.known_since == date(2024, 2, 29)
    assert (seen.installed, seen.install_logged) == (date(2024, 5, 10), True)
    assert seen.retired == date(2025, 12, 2)
    assert date(2025, 11, 20) not in seen.looks
    assert date(2025, 12, 1) not in seen.looks
    assert seen.last_look == date(2025, 12, 2)
    assert seen.last_rake == date(2025, 4, 12)
    assert seen.fills[-1] == FillDone(date(2025, 10, 10), 300.0)
    assert seen.last_ramp_check == RampSeen(date(2024, 5, 10), True)
    assert seen.last_reading.reading.mark is LevelMark.HALF
    assert seen.uses == (
        UseSighting(date(2025, 10, 30), UseSeen.HEAVY, None),
        UseSighting(date(2025, 11, 20), None, 3.5),
    )


def test_entries_of_later_days_and_other_stations_do_not_count():
    log = (install("2025-05-01"), chore("2025-06-02", ChoreKind.RAKE))
    other = ("2025-05-20", Chore("s2", ChoreKind.RAKE))
    assert history(*log, other, today="2025-06-01").rakes == ()
    assert history(*log, other, today="2025-06-02").rakes == (date(2025, 6, 2),)


def test_a_log_without_an_install_counts_from_its_first_sign_of_a_tank():
    seen = history(
        ("2023-01-01", FACTS),
        ("2023-02-01", Note("s1", "level ground here")),
        ("2023-06-01", Reading("s1", below_rim_mm=10.0)),
        ("2023-07-01", Reading("s1", below_rim_mm=90.0)),
    )
    assert (seen.installed, seen.install_logged) == (date(2023, 6, 1), False)


def test_the_latest_of_two_readings_on_a_day_is_the_one_written_last():
    seen = history(
        ("2025-07-01", Reading("s1", below_rim_mm=10.0)),
        ("2025-07-01", Reading("s1", below_rim_mm=20.0)),
    )
    assert seen.last_reading.reading.below_rim_mm == 20.0


def test_covers():
    on = chore("2025-01-05", ChoreKind.COVER)
    again = chore("2025-02-05", ChoreKind.COVER)
    off = chore("2025-03-05", ChoreKind.UNCOVER)
    assert history(on, again).covered_since == date(2025, 1, 5)
    assert history(on, again, off).covered_since is None
    assert history(on, off).uncoverings == (date(2025, 3, 5),)
    fouled = ("2025-06-01", Contamination("e", "s1", Cause.DYE, Action.COVERED))
    assert history(fouled).covered_since == date(2025, 6, 1)


def test_contamination_events_gather_their_actions():
    seen = history(
        install("2025-05-01"),
        ("2025-06-01", Contamination("e", "s1", Cause.DROWNED_ANIMAL)),
        ("2025-06-02", ContaminationAction("e", "s1", Action.REMOVED)),
        ("2025-06-02", ContaminationAction("e", "s1", Action.BAILED, 250.0)),
        ("2025-06-03", ContaminationAction("e", "s1", Action.REFILLED, 300.0)),
        ("2025-06-04", ContaminationAction("withdrawn", "s1", Action.DRAINED)),
        ("2025-07-01", Contamination("f", "s1", Cause.BEAR_USE)),
        ("2025-08-01", ContaminationAction("e", "s1", Action.SEEN_CLEAR)),
    )
    first, second = seen.events
    assert first.actions == (
        EventAction(date(2025, 6, 1), Action.LEFT),
        EventAction(date(2025, 6, 2), Action.REMOVED),
        EventAction(date(2025, 6, 2), Action.BAILED, 250.0),
        EventAction(date(2025, 6, 3), Action.REFILLED, 300.0),
        EventAction(date(2025, 8, 1), Action.SEEN_CLEAR),
    )
    assert (first.removed, first.closed) == (date(2025, 6, 2), date(2025, 8, 1))
    assert seen.open_events == (second,)
    assert seen.fills[-1] == FillDone(date(2025, 6, 3), 300.0, "e")
    assert seen.last_look == date(2025, 8, 1)


def test_the_first_action_stays_first_when_the_event_was_revised_later():
    seen = history(
        ("2025-06-01", ContaminationAction("e", "s1", Action.REMOVED)),
        ("2025-06-01", Contamination("e", "s1", Cause.DEAD_FISH)),
    )
    assert [taken.action for taken in seen.events[0].actions] == [Action.LEFT, Action.REMOVED]
    assert not seen.events[0].may_hold_carcass


def test_fills_and_drains_logged_apart_from_an_event_dilute_it_too():
    seen = history(
        chore("2025-05-31", ChoreKind.FILL),
        ("2025-06-01", Contamination("e", "s1", Cause.DYE)),
        ("2025-06-02", ContaminationAction("e", "s1", Action.REFILLED, 50.0)),
        chore("2025-06-03", ChoreKind.FILL, 80.0),
        chore("2025-06-03", ChoreKind.DRAIN),
        ("2025-06-04", ContaminationAction("e", "s1", Action.COVERED)),
    )
    assert seen.with_chores(seen.events[0]).actions == (
        EventAction(date(2025, 6, 1), Action.LEFT),
        EventAction(date(2025, 6, 2), Action.REFILLED, 50.0),
        EventAction(date(2025, 6, 3), Action.DRAINED),
        EventAction(date(2025, 6, 3), Action.REFILLED, 80.0),
        EventAction(date(2025, 6, 4), Action.COVERED),
    )
