"""The tracts and stations that hold, and how people name them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property

from store.errors import NotFound
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook
from store.records import Entry, StationFacts, TractFacts


@dataclass(frozen=True)
class Places:
    """Tracts and stations by id, in the order of their names.

    The `*_entries` name the entry that holds each fact, for revising it.
    """

    tracts: Mapping[str, TractFacts]
    stations: Mapping[str, StationFacts]
    tract_entries: Mapping[str, str]
    station_entries: Mapping[str, str]

    def tract_of(self, station: StationFacts) -> TractFacts:
        return self.tracts[station.tract_id]

    def label(self, station: StationFacts) -> str:
        """The station's name, as `tract/station` where the name alone is not enough."""
        if self._names[station.name.casefold()] > 1:
            return f"{self.tract_of(station).name}/{station.name}"
        return station.name

    @cached_property
    def _names(self) -> Counter[str]:
        return Counter(station.name.casefold() for station in self.stations.values())

    def find_tract(self, name: str) -> TractFacts:
        """The tract of that name.

        Raises:
            NotFound: there is none, with the names that come close.
        """
        for tract in self.tracts.values():
            if tract.name.casefold() == name.strip().casefold():
                return tract
        raise NotFound(
            f"There is no tract named {name}{_close(name, [t.name for t in self.tracts.values()])}."
        )

    def find_station(self, name: str) -> StationFacts:
        """The station of that name, which may be written `tract/station`.

        Raises:
            NotFound: there is none, or there are several.
        """
        wanted = name.strip().casefold()
        found = [s for s in self.stations.values() if s.name.casefold() == wanted] or [
            s for s in self.stations.values() if self._full_name(s).casefold() == wanted
        ]
        if len(found) == 1:
            return found[0]
        if found:
            full_names = " or ".join(self._full_name(station) for station in found)
            raise NotFound(f"There are several stations named {name}; write {full_names}.")
        names = [self.label(station) for station in self.stations.values()]
        raise NotFound(f"There is no station named {name}{_close(name, names)}.")

    def _full_name(self, station: StationFacts) -> str:
        return f"{self.tract_of(station).name}/{station.name}"


def places(logbook: Logbook) -> Places:
    """The tracts and stations of a logbook."""
    return places_of(live_entries(logbook, (TractFacts, StationFacts)))


def places_of(entries: Iterable[Entry]) -> Places:
    """The tracts and stations among live entries."""
    tracts: dict[str, TractFacts] = {}
    stations: dict[str, StationFacts] = {}
    said_in: dict[str, str] = {}
    for entry in entries:
        match entry.fact:
            case TractFacts() as tract:
                tracts[tract.tract_id] = tract
                said_in[tract.tract_id] = entry.entry_id
            case StationFacts() as station:
                stations[station.station_id] = station
                said_in[station.station_id] = entry.entry_id
            case _:
                pass
    by_tract = dict(sorted(tracts.items(), key=lambda item: item[1].name.casefold()))
    by_name = dict(
        sorted(
            stations.items(),
            key=lambda item: (tracts[item[1].tract_id].name.casefold(), item[1].name.casefold()),
        )
    )
    return Places(
        tracts=by_tract,
        stations=by_name,
        tract_entries={key: said_in[key] for key in by_tract},
        station_entries={key: said_in[key] for key in by_name},
    )


def _close(name: str, names: list[str]) -> str:
    close = get_close_matches(name, names, n=3, cutoff=0.5)
    return f"; did you mean {' or '.join(close)}" if close else ""
