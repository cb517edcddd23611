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
    ChoreKind,
    Contamination,
    ContaminationAction,
    Draft,
    Entry,
    Reading,
    StationFacts,
    TractFacts,
    Withdrawal,
)
from store.units import inches_from_mm

CHECKED_KINDS = (TractFacts, StationFacts, Chore, Contamination, Reading)
"""The kinds of live entries that the rules look at."""

EARLIEST = date(1900, 1, 1)
SAME_DEPTH_MM = 0.5
"""A reading this much below the bottom is the bottom, rounded."""


@dataclass(frozen=True)
class _State:
    """What holds after the drafts are in."""

    tracts: dict[str, TractFacts]
    stations: dict[str, StationFacts]
    installed: dict[str, date]
    retired: dict[str, date]
    found: dict[str, date]

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
        match draft.what:
            case Reading() as reading:
                _refuse_below_bottom(reading, draft.about, state)
            case ContaminationAction() as action if draft.about < state.found[action.event_id]:
                raise Refused(
                    f"{state.name(action.station_id)}: nothing can be done on {draft.about} about "
                    f"an event found on {state.found[action.event_id]}; correct the date."
                )
            case _:
                pass
        _refuse_outside_service(draft, state)
    if any(isinstance(draft.what, Withdrawal) for draft in drafts):
        _refuse_orphans(entries, state)


def _state(live: Iterable[Entry]) -> _State:
    state = _State({}, {}, {}, {}, {})
    for entry in live:
        match entry.what:
            case TractFacts() as tract:
                state.tracts[tract.tract_id] = tract
            case StationFacts() as station:
                state.stations[station.station_id] = station
            case Chore(station_id, ChoreKind.INSTALL):
                state.installed.setdefault(station_id, entry.about)
            case Chore(station_id, ChoreKind.RETIRE):
                state.retired[station_id] = entry.about
            case Contamination(event_id):
                state.found[event_id] = entry.about
            case _:
                pass
    return state


def _refuse_date(draft: Draft, today: date) -> None:
    if draft.about > today:
        raise Refused(f"{draft.about} is still to come (today is {today}); correct the date.")
    if draft.about < EARLIEST:
        raise Refused(f"{draft.about} is before {EARLIEST}; correct the date.")


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
    depth_mm = state.stations[reading.station_id].tank.depth_mm
    if reading.below_rim_mm is not None and reading.below_rim_mm > depth_mm + SAME_DEPTH_MM:
        raise Refused(
            f"{state.name(reading.station_id)}, {about}: a level "
            f"{inches_from_mm(reading.below_rim_mm):.1f} in below the rim is under the bottom of "
            f"a tank {inches_from_mm(depth_mm):.1f} in deep; measure again or correct the depth."
        )


def _refuse_outside_service(draft: Draft, state: _State) -> None:
    station_id = getattr(draft.what, "station_id", None)
    if station_id is None or isinstance(draft.what, StationFacts):
        return
    installed = state.installed.get(station_id)
    if installed is not None and draft.about < installed:
        raise Refused(
            f"{state.name(station_id)} was installed on {installed}, so nothing can be entered "
            f"for {draft.about}; correct one of the dates."
        )
    retired = state.retired.get(station_id)
    if retired is not None and draft.about > retired:
        raise Refused(
            f"{state.name(station_id)} was retired on {retired}, so nothing can be entered for "
            f"{draft.about}; correct one of the dates, or withdraw the retirement."
        )


def _refuse_orphans(live: Iterable[Entry], state: _State) -> None:
    for entry in live:
        station_id = getattr(entry.what, "station_id", None)
        if station_id is not None and station_id not in state.stations:
            raise Refused(
                "That station has entries in the log, so it cannot be withdrawn; retire it instead."
            )
