"""The futures of a board's stations, each worked out when somebody asks for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from store.model.assimilation import AT_HAND, FilterCache
from store.model.ensembles import Ensemble, ensemble_runs
from store.model.known_levels import Levels


class Futures(Mapping[str, Ensemble]):
    """By station id, for every station that has levels and was not given up.

    `memory` keeps them under `digests` of what they depend on, so that the next board works
    out only those of stations of which something is new.
    """

    def __init__(
        self, levels: Levels, today: date, digests: Mapping[str, str], memory: FilterCache
    ) -> None:
        self._levels, self._today = levels, today
        self._digests, self._made = digests, memory.futures
        self._ids = [
            station_id for station_id, own in levels.by_station.items() if own.station.last >= today
        ]

    def __getitem__(self, station_id: str) -> Ensemble:
        if station_id not in self._ids:
            raise KeyError(station_id)
        found = self._made.get(self._digests[station_id])
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
        self._made.keep(self._digests[station_id], future)

    def at_hand(self) -> None:
        """Work out as many as are kept, so that nobody waits for them later."""
        for station_id in self._ids[:AT_HAND]:
            self[station_id]
