"""What contamination has cost a station over the years."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from store.season.history import StationHistory
from store.vocabulary import Cause


@dataclass(frozen=True)
class EventCount:
    """`with_ramp` and `without_ramp` count the events whose last ramp check up to the
    find saw it in place or missing; the rest had none. `days_lost` are days on which
    any of the events was open, from the find to the day it was seen clear or today.
    """

    events: int = 0
    with_ramp: int = 0
    without_ramp: int = 0
    days_lost: int = 0


def event_count(history: StationHistory, today: date) -> EventCount:
    """All events of a station."""
    return _counted([history], frozenset(Cause), today)


def events_by_cause(histories: Iterable[StationHistory], today: date) -> Mapping[Cause, EventCount]:
    """The events of many stations by cause; causes that never occurred are left out.

    Days lost count once for each station they were lost at.
    """
    kept = tuple(histories)
    counts = {cause: _counted(kept, frozenset({cause}), today) for cause in Cause}
    return {cause: count for cause, count in counts.items() if count.events}


def _counted(
    histories: Iterable[StationHistory], causes: frozenset[Cause], today: date
) -> EventCount:
    ramps: list[bool | None] = []
    days_lost = 0
    for history in histories:
        events = [event for event in history.events if event.cause in causes]
        ramps += [_ramp_before(history, event.found) for event in events]
        days_lost += len(
            {
                event.found + timedelta(days=day)
                for event in events
                for day in range(((event.closed or today) - event.found).days)
            }
        )
    return EventCount(len(ramps), ramps.count(True), ramps.count(False), days_lost)


def _ramp_before(history: StationHistory, found: date) -> bool | None:
    """Whether the ramp was in place: missing on the day of the find, or as last seen."""
    seen = [check for check in history.ramp_checks if check.on <= found]
    if any(check.on == found and not check.in_place for check in seen):
        return False
    return seen[-1].in_place if seen else None
