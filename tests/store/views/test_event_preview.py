"""An event before it is written: the same dates as once it is, and the days it may have."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import pytest

from store.contamination.events import EventHistory
from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.snapshot import Snapshot, supposing
from store.model.working_out import board_of
from store.records import Contamination, ContaminationAction, Draft
from store.views.event_preview import event_preview, refuse_event_day
from store.vocabulary import Action, Cause

FOUND = date(2015, 10, 5)


def on(snapshot: Snapshot, name: str, *actions: Action) -> tuple[str, Sequence[Draft]]:
    """A drowned animal at a station and what was done, as drafts."""
    station_id = snapshot.places.find_station(name).station_id
    first, *later = actions
    return station_id, [
        Draft(FOUND, Contamination("new", station_id, Cause.DROWNED_ANIMAL, first)),
        *(Draft(FOUND, ContaminationAction("new", station_id, action)) for action in later),
    ]


@pytest.mark.parametrize("name", ["North/Oak", "Drum", "South/Oak"])
@pytest.mark.parametrize(
    "actions", [(Action.LEFT,), (Action.REMOVED, Action.BAILED, Action.REFILLED)]
)
def test_shows_the_dates_that_the_board_will_hold(
    board: Board, memory: FilterCache, name: str, actions: tuple[Action, ...]
) -> None:
    """Each follows the station anew; what leaves it alone is remembered."""
    snapshot = board.snapshot
    station_id, drafts = on(snapshot, name, *actions)
    preview = event_preview(snapshot, station_id, "new", drafts, memory)
    assert preview is not None
    written = board_of(supposing(snapshot, station_id, drafts), memory.to_try())
    assert preview.outlook.choices == written.recoveries.by_event["new"].outlook.choices


def test_what_is_done_brings_the_tank_back_sooner(snapshot: Snapshot, known: FilterCache) -> None:
    station_id, left = on(snapshot, "North/Oak", Action.LEFT)
    _, refilled = on(snapshot, "North/Oak", Action.REMOVED, Action.DRAINED, Action.REFILLED)
    early = event_preview(snapshot, station_id, "new", refilled, memory=known)
    late = event_preview(snapshot, station_id, "new", left, memory=known)
    assert early is not None
    assert late is not None
    assert early.expected is not None
    assert late.expected is None or early.expected < late.expected


def test_an_open_event_seen_clear_has_no_recovery_left(
    snapshot: Snapshot, known: FilterCache
) -> None:
    beech = snapshot.places.find_station("Beech").station_id
    (event,) = snapshot.histories[beech].open_events
    still_open = event_preview(snapshot, beech, event.event_id, [], memory=known)
    assert still_open is not None
    assert still_open.event.found == event.found
    clear = Draft(FOUND, ContaminationAction(event.event_id, beech, Action.SEEN_CLEAR))
    assert event_preview(snapshot, beech, event.event_id, [clear], memory=known) is None


def test_a_station_without_weather_goes_by_the_rule_of_thumb(
    snapshot: Snapshot, known: FilterCache
) -> None:
    dry = replace(snapshot, weather={})
    station_id, drafts = on(dry, "Drum", Action.LEFT)
    preview = event_preview(dry, station_id, "new", drafts, memory=known)
    assert preview is not None
    assert "no weather" in preview.outlook.basis


def test_days_on_which_nothing_can_have_been_found_are_refused(snapshot: Snapshot) -> None:
    drum = snapshot.places.find_station("Drum").station_id
    history, today = snapshot.histories[drum], snapshot.today
    refuse_event_day(history, today, today)
    refuse_event_day(history, date(2014, 5, 12), today)
    with pytest.raises(BadValue, match="still to come"):
        refuse_event_day(history, date(2015, 10, 13), today)
    with pytest.raises(BadValue, match="Drum was installed on 12 May 2014"):
        refuse_event_day(history, date(2014, 5, 11), today)
    given_up = replace(history, retired=date(2015, 9, 1))
    refuse_event_day(given_up, date(2015, 9, 1), today)
    with pytest.raises(BadValue, match="Drum was retired on 1 September 2015"):
        refuse_event_day(given_up, date(2015, 9, 2), today)
    event = EventHistory("ev", date(2015, 8, 3), Cause.DYE, ())
    with pytest.raises(BadValue, match="found on 3 August 2015"):
        refuse_event_day(history, date(2015, 8, 2), today, event)
