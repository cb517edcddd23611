"""When the tank of a station stands in the ground, as its log says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from store.records import Chore, Entry
from store.vocabulary import ChoreKind


@dataclass(frozen=True)
class Service:
    """The days from the first install logged to the last retirement, both included.

    None where the log says nothing: an end that is not known is open.
    """

    installed: date | None = None
    retired: date | None = None

    def __contains__(self, day: date) -> bool:
        return not self.is_before(day) and not self.is_after(day)

    def is_before(self, day: date) -> bool:
        """Whether the day lies before the install."""
        return self.installed is not None and day < self.installed

    def is_after(self, day: date) -> bool:
        """Whether the day lies after the retirement."""
        return self.retired is not None and day > self.retired


def services(entries: Iterable[Entry]) -> dict[str, Service]:
    """The service of each station whose install or retirement is among live entries."""
    found: dict[str, Service] = {}
    for entry in entries:
        if not isinstance(entry.fact, Chore):
            continue
        station_id = entry.fact.station_id
        own = found.get(station_id, Service())
        if entry.fact.chore is ChoreKind.INSTALL:
            found[station_id] = replace(own, installed=min(own.installed or entry.day, entry.day))
        elif entry.fact.chore is ChoreKind.RETIRE:
            found[station_id] = replace(own, retired=max(own.retired or entry.day, entry.day))
    return found
