"""The records of weather in a logbook: the imports of each, and their days as stored."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date

from store.logbook.connecting import stored
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook
from store.records import Entry, WeatherImport
from store.weather.elements import FIELDS

FORECAST = "forecast for"
"""What the names of forecast records begin with; no record of measured weather does."""


@dataclass(frozen=True)
class StoredDays:
    """The days of one import that holds, in their order, one at least.

    The values of a day stand in the order of `FIELDS`, None where nothing is known.
    """

    fact: WeatherImport
    days: tuple[date, ...]
    values: tuple[tuple[float | None, ...], ...]


def imports_of(entries: Iterable[Entry]) -> list[WeatherImport]:
    """The imports of weather among live entries, in their order."""
    return [entry.fact for entry in entries if isinstance(entry.fact, WeatherImport)]


def live_imports(logbook: Logbook) -> list[WeatherImport]:
    """The imports of weather that hold."""
    return imports_of(live_entries(logbook, (WeatherImport,)))


def stored_days(
    logbook: Logbook, imports: Iterable[WeatherImport], record_ids: Collection[str]
) -> dict[str, tuple[StoredDays, ...]]:
    """Those imports of some records that know any day, oldest first, by record id."""
    found: dict[str, tuple[StoredDays, ...]] = dict.fromkeys(record_ids, ())
    for fact in sorted(imports, key=lambda fact: fact.import_id):
        if fact.record_id in found:
            days, values = _days(logbook, fact.import_id)
            found[fact.record_id] += (StoredDays(fact, days, values),) if days else ()
    return found


def _days(
    logbook: Logbook, import_id: str
) -> tuple[tuple[date, ...], tuple[tuple[float | None, ...], ...]]:
    rows = logbook.db.execute(
        f"SELECT day, {', '.join(FIELDS)} FROM weather_day WHERE import_id = ? ORDER BY day",
        [import_id],
    ).fetchall()
    days = tuple(stored(date.fromisoformat, row[0]) for row in rows)
    return days, tuple(row[1:] for row in rows)


def record_names(logbook: Logbook) -> dict[str, str]:
    """The weather records that hold at least one import, by id; the newest name counts."""
    return {fact.record_id: fact.record_name for fact in live_imports(logbook)}
