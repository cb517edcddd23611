from datetime import date

import pytest

from store.errors import Refused
from store.logbook.journal import live_entries, write
from store.records import (
    Action,
    Cause,
    Chore,
    ChoreKind,
    Contamination,
    ContaminationAction,
    Draft,
    Note,
    Reading,
    StationFacts,
    TractFacts,
    Withdrawal,
)

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


def test_a_station_with_a_log_is_retired_not_withdrawn(one):
    write(one.logbook, "Reading", [Draft(MAY, Reading(one.station_id, below_rim_mm=1.0))])
    (station,) = live_entries(one.logbook, (StationFacts,))
    refused(one, [Draft(MAY, Withdrawal(), revises=station.entry_id)], "retire it instead")
