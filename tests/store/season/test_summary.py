"""What contamination has cost a station, and events put together from their entries."""

from datetime import date

from store.contamination.events import Carcass, SignSeen
from store.records import BearVisit, Contamination, ContaminationAction, ContaminationSign
from store.season.summary import EventCount, event_count, events_by_cause
from store.vocabulary import Action, AnimalClass, AnimalSize, Cause, Response, Strength
from tests.store.season.season_logs import history, install, ramp

TODAY = date(2026, 12, 31)


def found(on, event="e", cause=Cause.DROWNED_ANIMAL):
    return on, Contamination(event, "s1", cause)


def clear(on, event="e"):
    return on, ContaminationAction(event, "s1", Action.SEEN_CLEAR)


def test_signs_and_the_carcass_belong_to_their_event():
    seen = history(
        install("2025-05-10"),
        (
            "2025-06-01",
            Contamination(
                "e",
                "s1",
                Cause.DROWNED_ANIMAL,
                animal=AnimalClass.MAMMAL,
                animal_size=AnimalSize.SMALL,
                days_dead=4.0,
            ),
        ),
        ("2025-06-20", ContaminationSign("e", "s1", smell=Strength.FAINT)),
        ("2025-06-21", ContaminationSign("unknown", "s1", smell=Strength.NONE)),
        ("2025-07-05", ContaminationSign("e", "s1", response=Response.AVOIDED)),
    )
    (event,) = seen.events
    assert event.carcass == Carcass(AnimalClass.MAMMAL, AnimalSize.SMALL, 4.0)
    assert event.signs == (
        SignSeen(date(2025, 6, 20), smell=Strength.FAINT),
        SignSeen(date(2025, 7, 5), response=Response.AVOIDED),
    )
    assert date(2025, 7, 5) in seen.looks


def test_bears_seen_since_belong_to_the_bear_use():
    seen = history(
        install("2025-05-10"),
        ("2025-05-30", BearVisit("s1")),
        found("2025-06-01", "b", Cause.BEAR_USE),
        found("2025-06-01", "d", Cause.DYE),
        ("2025-06-09", BearVisit("s1", 2)),
        ("2025-06-12", BearVisit("s1", 0)),
        clear("2025-07-01", "b"),
        ("2025-08-01", BearVisit("s1")),
    )
    assert [event.bears_last for event in seen.events] == [date(2025, 6, 9), None]
    assert [visit.visits for visit in seen.bear_visits] == [1, 2, 0, 1]


def test_days_lost_count_once_where_events_overlap():
    seen = history(
        install("2025-05-10"),
        found("2025-06-01"),
        found("2025-06-11", "f", Cause.DYE),
        clear("2025-06-21"),
        clear("2025-07-01", "f"),
    )
    assert event_count(seen, TODAY) == EventCount(events=2, days_lost=30)
    by_cause = events_by_cause([seen], TODAY)
    assert {cause: count.days_lost for cause, count in by_cause.items()} == {
        Cause.DROWNED_ANIMAL: 20,
        Cause.DYE: 20,
    }


def test_an_open_event_loses_days_up_to_today():
    seen = history(install("2025-05-10"), found("2026-12-01"))
    assert event_count(seen, TODAY).days_lost == 30
    assert event_count(history(install("2025-05-10")), TODAY) == EventCount()
    assert events_by_cause([history()], TODAY) == {}


def test_with_and_without_a_ramp_seen_in_place():
    seen = history(
        install("2024-05-10"),
        found("2024-06-01", "unknown"),
        ramp("2024-06-10"),
        found("2024-07-01", "with"),
        # gone on the day of the find, and put back the same day
        ramp("2024-08-01", in_place=False),
        ramp("2024-08-01"),
        found("2024-08-01", "without"),
        ramp("2024-09-01", in_place=False),
        found("2024-10-01", "without still"),
    )
    count = event_count(seen, TODAY)
    assert (count.events, count.with_ramp, count.without_ramp) == (4, 1, 2)


def test_causes_are_counted_over_many_stations():
    one = history(install("2025-05-10"), found("2025-06-01"), clear("2025-06-11"))
    two = history(install("2025-05-10"), found("2025-06-01"), clear("2025-06-16"))
    by_cause = events_by_cause([one, two], TODAY)
    assert by_cause == {Cause.DROWNED_ANIMAL: EventCount(events=2, days_lost=25)}
