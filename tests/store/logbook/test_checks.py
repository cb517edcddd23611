from dataclasses import replace
from datetime import date

import pytest

from store.errors import Refused
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Note,
    Reading,
    StationFacts,
    TractFacts,
    Withdrawal,
)
from store.vocabulary import Action, Cause, ChoreKind, Response

MAY, JUNE, JULY = date(2026, 5, 9), date(2026, 6, 9), date(2026, 7, 9)


def refused(one, drafts, match):
    before = live_entries(one.logbook)
    with pytest.raises(Refused, match=match):
        write(one.logbook, "Try", drafts)
    assert live_entries(one.logbook) == before


def test_a_reading_under_the_bottom(one):
    refused(one, [Draft(MAY, Reading(one.station_id, below_rim_mm=763.0))], "under the bottom")
    write(one.logbook, "Bottom", [Draft(MAY, Reading(one.station_id, below_rim_mm=762.0))])


def test_a_date_to_come(one):
    refused(one, [Draft(date(2026, 10, 2), Note(one.station_id, "x"))], "still to come")
    refused(one, [Draft(date(1066, 10, 14), Note(one.station_id, "x"))], "before 1900")


def test_names_are_taken_once(one):
    other = one.logbook.new_id()
    refused(one, [Draft(MAY, TractFacts(other, "NORTH RIDGE"))], "tract named")
    refused(one, [Draft(MAY, one.facts(station_id=other, name="oak FLAT"))], "station named")


def test_nothing_before_the_install_or_after_retirement(one):
    write(
        one.logbook,
        "Life",
        [
            Draft(MAY, Chore(one.station_id, ChoreKind.INSTALL)),
            Draft(JUNE, Chore(one.station_id, ChoreKind.RETIRE)),
        ],
    )
    refused(one, [Draft(date(2026, 5, 8), Note(one.station_id, "x"))], "was installed on")
    refused(one, [Draft(JULY, Reading(one.station_id, below_rim_mm=1.0))], "was retired on")
    write(one.logbook, "Within", [Draft(JUNE, Note(one.station_id, "x"))])


def test_nothing_done_about_an_event_before_it_was_found(one):
    event_id = one.logbook.new_id()
    found = Contamination(event_id, one.station_id, Cause.DROWNED_ANIMAL)
    write(one.logbook, "Found", [Draft(JUNE, found)])
    action = ContaminationAction(event_id, one.station_id, Action.BAILED)
    refused(one, [Draft(MAY, action)], "an event found on")


def found_event(one, on=JUNE, event_id=None):
    event_id = event_id or one.logbook.new_id()
    found = Contamination(event_id, one.station_id, Cause.DROWNED_ANIMAL)
    write(one.logbook, "Found", [Draft(on, found)])
    return event_id


def test_an_event_to_come_before_the_install_or_after_retirement(one):
    chores = [(MAY, ChoreKind.INSTALL), (JUNE, ChoreKind.RETIRE)]
    write(one.logbook, "Life", [Draft(on, Chore(one.station_id, kind)) for on, kind in chores])
    found = Contamination(one.logbook.new_id(), one.station_id, Cause.SPILL)
    refused(one, [Draft(date(2026, 10, 2), found)], "still to come")
    refused(one, [Draft(date(2026, 5, 8), found)], "was installed on")
    refused(one, [Draft(JULY, found)], "was retired on")


def test_an_event_closed_or_judged_before_it_was_found(one):
    event_id = found_event(one)
    clear = ContaminationAction(event_id, one.station_id, Action.SEEN_CLEAR)
    refused(one, [Draft(MAY, clear)], "cannot be over on")
    sign = ContaminationSign(event_id, one.station_id, response=Response.USED)
    refused(one, [Draft(MAY, sign)], "an event found on")
    write(one.logbook, "Same day", [Draft(JUNE, sign), Draft(JUNE, clear)])
    (found,) = live_entries(one.logbook, (Contamination,))
    refused(one, [Draft(JULY, found.fact, revises=found.entry_id)], "cannot have been found on")
    write(one.logbook, "Earlier", [Draft(MAY, found.fact, revises=found.entry_id)])


def test_work_on_an_event_of_another_station(one):
    event_id, other = found_event(one), one.logbook.new_id()
    write(one.logbook, "Other", [Draft(MAY, one.facts(station_id=other, name="Other"))])
    for later in (
        ContaminationAction(event_id, other, Action.BAILED),
        ContaminationSign(event_id, other, response=Response.AVOIDED),
    ):
        refused(one, [Draft(JULY, later)], "is one of Oak flat")
    action = ContaminationAction(event_id, one.station_id, Action.BAILED)
    write(one.logbook, "Bailed", [Draft(JULY, action)])
    (found,) = live_entries(one.logbook, (Contamination,))
    moved = replace(found.fact, station_id=other)
    refused(one, [Draft(JUNE, moved, revises=found.entry_id)], "leave the event there")


def test_work_on_an_event_that_was_taken_back(one):
    event_id = found_event(one)
    (found,) = live_entries(one.logbook, (Contamination,))
    write(one.logbook, "Back", [Draft(JUNE, Withdrawal(), revises=found.entry_id)])
    action = ContaminationAction(event_id, one.station_id, Action.BAILED)
    refused(one, [Draft(JULY, action)], "was taken back")


def test_a_station_with_a_log_is_retired_not_withdrawn(one):
    write(one.logbook, "Reading", [Draft(MAY, Reading(one.station_id, below_rim_mm=1.0))])
    (station,) = live_entries(one.logbook, (StationFacts,))
    refused(one, [Draft(MAY, Withdrawal(), revises=station.entry_id)], "retire it instead")
