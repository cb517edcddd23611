"""Open contamination events with their ways out, by event and by station."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from store.contamination.events import EventHistory
from store.records import StationFacts

if TYPE_CHECKING:
    from store.contamination.choices import Way
    from store.contamination.estimates import Choice, RecoveryForecast


@dataclass(frozen=True, eq=False)
class EventRecovery:
    """An open event with every way out of it, and when it is wanted back."""

    station: StationFacts
    event: EventHistory
    outlook: RecoveryForecast
    wanted: date

    @property
    def expected(self) -> date | None:
        """The median date of use again, as things stand."""
        return self.outlook.waiting.used.median

    @property
    def clear(self) -> date | None:
        """The median date of clear water, as things stand."""
        return self.outlook.waiting.clear.median

    def way(self, way: Way) -> Choice | None:
        """One of the choices; None where it is not open to the station."""
        return next((choice for choice in self.outlook.choices if choice.way is way), None)

    @property
    def best(self) -> Choice:
        """The choice that is expected in use first; of like ones that of fewest hours."""
        return min(
            self.outlook.choices, key=lambda one: (one.used.median or date.max, one.cost.hours)
        )

    @property
    def miss_chance(self) -> float:
        """The chance, 0 to 1, that by waiting it is not back when it is wanted.

        By rule of thumb 1 where the date comes later, else 0.
        """
        if self.outlook.waiting.chance is not None:
            return 1.0 - self.outlook.waiting.chance
        return float(self.expected is None or self.expected > self.wanted)


@dataclass(frozen=True, eq=False)
class Recoveries:
    """Open events by event id, and by station id the wait until all of them are over."""

    by_event: Mapping[str, EventRecovery]
    by_station: Mapping[str, Choice]

    def of_station(self, station_id: str) -> list[EventRecovery]:
        """The open events of a station, the latest found first."""
        own = [r for r in self.by_event.values() if r.station.station_id == station_id]
        return sorted(own, key=lambda recovery: recovery.event.found, reverse=True)

    def expected_of(self, station_id: str) -> dict[str, date | None]:
        """The median dates of use again of a station's open events, by event id."""
        return {one.event.event_id: one.expected for one in self.of_station(station_id)}

    def by_miss_chance(self) -> list[EventRecovery]:
        """Every open event, the one most likely to miss the heavy-use weeks first."""
        return sorted(
            self.by_event.values(),
            key=lambda one: (one.miss_chance, one.expected or date.max, one.event.found),
            reverse=True,
        )
