"""The records of weather in a logbook: the imports of each, and their days as stored."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from store.logbook.connecting import stored
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook
from store.records import WeatherImport
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


def stored_days(logbook: Logbook, record_ids: Collection[str]) -> dict[str, tuple[StoredDays, ...]]:
    """The imports of some records that hold and know any day, oldest first, by record id."""
    imports = sorted(
        (fact for fact in _imports(logbook) if fact.record_id in record_ids),
        key=lambda fact: fact.import_id,
    )
    found: dict[str, tuple[StoredDays, ...]] = dict.fromkeys(record_ids, ())
    for fact in imports:
        days, values = _days(logbook, fact.import_id)
        if days:
            found[fact.record_id] += (StoredDays(fact, days, values),)
    return found


def _imports(logbook: Logbook) -> list[WeatherImport]:
    entries = live_entries(logbook, (WeatherImport,))
    return [entry.fact for entry in entries if isinstance(entry.fact, WeatherImport)]


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
    return {fact.record_id: fact.record_name for fact in _imports(logbook)}
