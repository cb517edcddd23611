"""Entries that belong to nothing: about a station or tract that no longer holds.

Nobody can write one; but two people can, one by entering, the other by undoing the
station, each in a copy of their own. Such entries stay in the logbook and count for
nothing until what they belong to is brought back.
"""

from __future__ import annotations

from collections.abc import Iterable

from store.records import (
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Entry,
    StationFacts,
    TractFacts,
)

PLACE_KINDS = (TractFacts, StationFacts, Contamination)
"""What other entries belong to."""


def without_orphans(entries: Iterable[Entry], places: Iterable[Entry]) -> list[Entry]:
    """Those entries whose tract, station and contamination event are among `places`."""
    known = list(places)
    tracts = {e.fact.tract_id for e in known if isinstance(e.fact, TractFacts)}
    stations = {
        e.fact.station_id
        for e in known
        if isinstance(e.fact, StationFacts) and e.fact.tract_id in tracts
    }
    events = {
        e.fact.event_id
        for e in known
        if isinstance(e.fact, Contamination) and e.fact.station_id in stations
    }

    def belongs(entry: Entry) -> bool:
        fact = entry.fact
        if isinstance(fact, StationFacts):
            return fact.tract_id in tracts
        if isinstance(fact, ContaminationAction | ContaminationSign) and (
            fact.event_id not in events
        ):
            return False
        station_id, tract_id = getattr(fact, "station_id", None), getattr(fact, "tract_id", None)
        return (station_id is None or station_id in stations) and (
            tract_id is None or tract_id in tracts
        )

    return [entry for entry in entries if belongs(entry)]
