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


@dataclass(frozen=True)
class Tolerated:
    """Contradictions that came in with a merge: told then, no bar to other work since."""

    names: frozenset[tuple[str, str]]
    orphaned: frozenset[str]
    """Stations that have entries and do not hold."""


def tolerated(held: Iterable[Entry]) -> Tolerated:
    """The contradictions among entries that hold, be what they belong to gone."""
    entries = list(held)
    state = _state(entries)
    return Tolerated(frozenset(_same_names(state)), frozenset(_orphaned(entries, state)))


def refuse_contradictions(
    drafts: Sequence[Draft], held: Iterable[Entry], today: date, before: Tolerated
) -> None:
    """Check drafts that were just inserted against everything that now holds.

    `before` are the contradictions there were without the drafts.

    Raises:
        Refused: the first contradiction found.
    """
    entries = list(held)
    state = _state(entries)
    for key, sentence in _same_names(state).items():
        if key not in before.names:
            raise Refused(sentence)
    for draft in drafts:
        _refuse_one(draft, entries, state, today)
    if any(isinstance(draft.fact, Withdrawal) for draft in drafts) and (
        _orphaned(entries, state) - before.orphaned
    ):
        raise Refused(
            "That station has entries in the log, so it cannot be withdrawn; retire it instead."
        )


def contradictions(held: Iterable[Entry], live: Iterable[Entry], today: date) -> list[str]:
    """All that entries say against each other, a sentence each, in the order of the entries.

    `held` are the entries that were not replaced, `live` those of them that count, since
    what they belong to holds as well.
    """
    entries = list(live)
    state = _state(entries)
    told = list(_same_names(state).values())
    for entry in entries:
        try:
            _refuse_one(Draft(entry.day, entry.fact), entries, state, today)
        except Refused as error:
            told.append(str(error))
    counted = {entry.entry_id for entry in entries}
    lost = sum(entry.entry_id not in counted for entry in held)
    if lost:
        what = "1 entry is" if lost == 1 else f"{lost} entries are"
        told.append(
            f"{what} about a tract, a station or an event that somebody took back, so they are "
            "kept but do not count; redo, or enter the station again, if it is still there."
        )
    return told


def _refuse_one(draft: Draft, entries: list[Entry], state: _State, today: date) -> None:
    """Refuse one entry that what holds speaks against."""
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


def _same_names(state: _State) -> dict[tuple[str, str], str]:
    """Names that stand twice, a tract's without a tract before it, each with a sentence."""
    found: dict[tuple[str, str], str] = {}
    seen: set[tuple[str, str]] = set()
    for tract in state.tracts.values():
        key = ("", tract.name.casefold())
        if key in seen:
            found[key] = f"There is a tract named {tract.name} already; choose another name."
        seen.add(key)
    for station in state.stations.values():
        key = (station.tract_id, station.name.casefold())
        if key in seen:
            found[key] = (
                f"There is a station named {station.name} on that tract already; "
                "choose another name."
            )
        seen.add(key)
    return found


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


def _orphaned(held: Iterable[Entry], state: _State) -> set[str]:
    """Stations that entries are about and that do not hold."""
    about = {getattr(entry.fact, "station_id", None) for entry in held}
    return {one for one in about if one is not None and one not in state.stations}
