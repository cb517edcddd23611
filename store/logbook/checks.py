"""Refuse what would make the logbook contradict itself, with a sentence saying why.

The tables refuse impossible rows; these are the rules that look at several rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from store.errors import Refused
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    Reading,
    StationFacts,
    TractFacts,
    Withdrawal,
)
from store.service import Service, services
from store.units import inches_from_mm
from store.vocabulary import Action

CHECKED_KINDS = (
    TractFacts,
    StationFacts,
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Reading,
)
"""The kinds of live entries that the rules look at."""

EARLIEST = date(1900, 1, 1)


@dataclass(frozen=True)
class _State:
    """What holds after the drafts are in."""

    tracts: dict[str, TractFacts]
    stations: dict[str, StationFacts]
    services: dict[str, Service]
    events: dict[str, tuple[Contamination, date]]
    """The contamination events by id, each with the day it was found."""

    def name(self, station_id: str) -> str:
        return self.stations[station_id].name


def refuse_contradictions(drafts: Sequence[Draft], live: Iterable[Entry], today: date) -> None:
    """Check drafts that were just inserted against everything that now holds.

    Raises:
        Refused: the first contradiction found.
    """
    entries = list(live)
    state = _state(entries)
    _refuse_same_names(state)
    for draft in drafts:
        _refuse_date(draft, today)
        match draft.fact:
            case Reading() as reading:
                _refuse_below_bottom(reading, draft.day, state)
            case ContaminationAction() | ContaminationSign() as later:
                _refuse_apart_from_event(later, draft.day, state)
            case Contamination() as event:
                _refuse_found_after_work(event, draft.day, entries, state)
            case _:
                pass
        _refuse_outside_service(draft, state)
    if any(isinstance(draft.fact, Withdrawal) for draft in drafts):
        _refuse_orphans(entries, state)


def _state(live: Iterable[Entry]) -> _State:
    entries = list(live)
    state = _State({}, {}, services(entries), {})
    for entry in entries:
        match entry.fact:
            case TractFacts() as tract:
                state.tracts[tract.tract_id] = tract
            case StationFacts() as station:
                state.stations[station.station_id] = station
            case Contamination() as event:
                state.events[event.event_id] = (event, entry.day)
            case _:
                pass
    return state


def _refuse_date(draft: Draft, today: date) -> None:
    if draft.day > today:
        raise Refused(f"{draft.day} is still to come (today is {today}); correct the date.")
    if draft.day < EARLIEST:
        raise Refused(f"{draft.day} is before {EARLIEST}; correct the date.")


def _refuse_same_names(state: _State) -> None:
    tracts: set[str] = set()
    for tract in state.tracts.values():
        if tract.name.casefold() in tracts:
            raise Refused(f"There is a tract named {tract.name} already; choose another name.")
        tracts.add(tract.name.casefold())
    stations: set[tuple[str, str]] = set()
    for station in state.stations.values():
        key = (station.tract_id, station.name.casefold())
        if key in stations:
            raise Refused(
                f"There is a station named {station.name} on that tract already; "
                "choose another name."
            )
        stations.add(key)


def _refuse_below_bottom(reading: Reading, about: date, state: _State) -> None:
    tank = state.stations[reading.station_id].tank
    if reading.below_rim_mm is not None and tank.is_under_bottom(reading.below_rim_mm):
        raise Refused(
            f"{state.name(reading.station_id)}, {about}: a level "
            f"{inches_from_mm(reading.below_rim_mm):.1f} in below the rim is under the bottom of "
            f"a tank {inches_from_mm(tank.depth_mm):.1f} in deep; measure again or correct the "
            "depth."
        )


def _refuse_apart_from_event(
    later: ContaminationAction | ContaminationSign, about: date, state: _State
) -> None:
    """An action or a sign belongs to an event that holds, of its station and found before."""
    name = state.name(later.station_id)
    if later.event_id not in state.events:
        raise Refused(f"{name}: that contamination event was taken back; look at the log again.")
    event, found = state.events[later.event_id]
    if event.station_id != later.station_id:
        raise Refused(
            f"{name}: that contamination event is one of {state.name(event.station_id)}; enter it "
            "there, or choose an event of this station."
        )
    if about >= found:
        return
    if isinstance(later, ContaminationAction) and later.action is Action.SEEN_CLEAR:
        raise Refused(
            f"{name}: the event was found on {found}, so it cannot be over on {about}; correct "
            "the date."
        )
    raise Refused(
        f"{name}: nothing can be done or seen on {about} of an event found on {found}; correct "
        "the date."
    )


def _refuse_found_after_work(
    event: Contamination, about: date, live: Iterable[Entry], state: _State
) -> None:
    """An event moved to a later day, or station, still has all that was done about it."""
    for entry in live:
        later = entry.fact
        if not isinstance(later, ContaminationAction | ContaminationSign):
            continue
        if later.event_id != event.event_id:
            continue
        if later.station_id != event.station_id:
            raise Refused(
                f"{state.name(event.station_id)}: work on this event is in the log of "
                f"{state.name(later.station_id)}; leave the event there."
            )
        if entry.day < about:
            raise Refused(
                f"{state.name(event.station_id)}: the log has work on this event on {entry.day}, "
                f"so it cannot have been found on {about}; correct one of the dates."
            )


def _refuse_outside_service(draft: Draft, state: _State) -> None:
    station_id = getattr(draft.fact, "station_id", None)
    if station_id is None or isinstance(draft.fact, StationFacts):
        return
    service = state.services.get(station_id, Service())
    if service.is_before(draft.day):
        raise Refused(
            f"{state.name(station_id)} was installed on {service.installed}, so nothing can be "
            f"entered for {draft.day}; correct one of the dates."
        )
    if service.is_after(draft.day):
        raise Refused(
            f"{state.name(station_id)} was retired on {service.retired}, so nothing can be entered "
            f"for {draft.day}; correct one of the dates, or withdraw the retirement."
        )


def _refuse_orphans(live: Iterable[Entry], state: _State) -> None:
    for entry in live:
        station_id = getattr(entry.fact, "station_id", None)
        if station_id is not None and station_id not in state.stations:
            raise Refused(
                "That station has entries in the log, so it cannot be withdrawn; retire it instead."
            )
