"""The futures of a board's stations, each worked out when somebody asks for it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Mapping
from datetime import date
from threading import Lock

from store.model.ensembles import Ensemble, ensemble_runs
from store.model.known_levels import Levels

AT_HAND = 64
"""Futures kept, the last asked for: each holds half a megabyte."""


class Futures(Mapping[str, Ensemble]):
    """By station id, for every station that has levels and was not given up."""

    def __init__(self, levels: Levels, today: date) -> None:
        self._levels, self._today = levels, today
        self._made: OrderedDict[str, Ensemble] = OrderedDict()
        self._lock = Lock()
        self._ids = [
            station_id for station_id, own in levels.by_station.items() if own.station.last >= today
        ]

    def __getitem__(self, station_id: str) -> Ensemble:
        if station_id not in self._ids:
            raise KeyError(station_id)
        with self._lock:
            found = self._made.pop(station_id, None)
        if found is None:
            ((_, run),) = ensemble_runs(self._levels, self._today, only=(station_id,))
            found = run.future
        self.keep(station_id, found)
        return found

    def __contains__(self, station_id: object) -> bool:
        return station_id in self._ids

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids)

    def __len__(self) -> int:
        return len(self._ids)

    def keep(self, station_id: str, future: Ensemble) -> None:
        """Have one at hand that was worked out elsewhere."""
        with self._lock:
            self._made[station_id] = future
            while len(self._made) > AT_HAND:
                self._made.popitem(last=False)

    def at_hand(self) -> None:
        """Work out as many as are kept, so that nobody waits for them later."""
        for station_id in self._ids[:AT_HAND]:
            self[station_id]
