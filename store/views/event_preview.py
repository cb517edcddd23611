"""A contamination event before it is written: may it be, and when would it be over?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from store.contamination.events import EventHistory
from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.levels import levels_of
from store.model.recoveries import recoveries_of
from store.model.recovery import EventRecovery
from store.model.snapshot import Snapshot, supposing
from store.records import Draft
from store.season.history import StationHistory
from store.season.prompt import plain_date


def refuse_event_day(
    history: StationHistory, day: date, today: date, event: EventHistory | None = None
) -> None:
    """Refuse a day on which nothing can have been found or done at a station.

    `event` is the one that something was done about, if it is no new one.

    Raises:
        BadValue: the day is to come, before the install or the find, or after
            the station was given up.
    """
    name = history.facts.name
    if day > today:
        raise BadValue(f"{plain_date(day)} is still to come; choose today or a day before.")
    service = history.service
    if service.installed is not None and service.is_before(day):
        raise BadValue(
            f"{name} was installed on {plain_date(service.installed)}; choose that day or a later "
            "one."
        )
    if service.retired is not None and service.is_after(day):
        raise BadValue(
            f"{name} was retired on {plain_date(service.retired)}; choose another station or an "
            "earlier day."
        )
    if event is not None and day < event.found:
        raise BadValue(
            f"The event was found on {plain_date(event.found)}; choose that day or a later one."
        )


def event_preview(
    snapshot: Snapshot,
    station_id: str,
    event_id: str,
    drafts: Sequence[Draft],
    memory: FilterCache | None = None,
) -> EventRecovery | None:
    """The recovery of one event, were these drafts about its station written.

    None when the drafts close it. `memory` is what the last board worked out; it is
    left as it is, and with it only the station concerned is followed again.
    """
    supposed = supposing(snapshot, station_id, drafts)
    levels = levels_of(supposed, FilterCache() if memory is None else memory.to_try())
    return recoveries_of(supposed, levels, only={station_id}).by_event.get(event_id)
