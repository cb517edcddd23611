"""Weather kept in the logbook: imports as layers of days, read back layer by layer.

An import stores only the days that say something new. Where imports overlap, the
newest one wins, value by value, and a blank never erases a value; the overlay is
done by `store.weather`, which knows about weather.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.errors import Refused
from store.logbook.connecting import stored
from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.logbook.standing import Batch
from store.records import Draft, WeatherImport
from store.weather.days import FIELDS, DailyWeather, empty_weather

FORECAST = "forecast for"
"""What the names of forecast records begin with; no record of measured weather does."""


@dataclass(frozen=True)
class WeatherLayer:
    """The days of one import that holds."""

    fact: WeatherImport
    weather: DailyWeather


def store_weather(
    logbook: Logbook, fact: WeatherImport, weather: DailyWeather, more: tuple[Draft, ...] = ()
) -> Batch:
    """Write the days of one import, and drafts that belong to it, in one transaction.

    Days of which `weather` knows nothing are not stored.

    Raises:
        Refused: as `journal.write`, or a day is impossible; nothing is written.
    """
    try:
        with logbook.writing():
            drafts = [Draft(logbook.today, fact), *more]
            batch = write(logbook, f"Weather from {fact.source}", drafts)
            _store_days(logbook, fact.import_id, weather)
    except (sqlite3.IntegrityError, sqlite3.OperationalError) as error:
        raise Refused(
            f"The days of {fact.source} could not be kept ({error}), so nothing of it was "
            "imported; correct the file, see that the disk has room, and import it again."
        ) from error
    return batch


def _store_days(logbook: Logbook, import_id: str, weather: DailyWeather) -> None:
    values = np.column_stack([getattr(weather, name) for name in FIELDS])
    names = ", ".join(("import_id", "day", *FIELDS))
    marks = ", ".join("?" for _ in range(len(FIELDS) + 2))
    logbook.db.conn.executemany(
        f"INSERT INTO weather_day ({names}) VALUES ({marks})",
        (
            (
                import_id,
                (weather.first_day + timedelta(days=index)).isoformat(),
                *(None if np.isnan(value) else float(value) for value in row),
            )
            for index, row in enumerate(values)
            if not np.isnan(row).all()
        ),
    )


def weather_layers(logbook: Logbook, record_id: str) -> list[WeatherLayer]:
    """The imports of a record that hold, oldest first."""
    imports = [
        entry.fact
        for entry in live_entries(logbook, (WeatherImport,))
        if isinstance(entry.fact, WeatherImport) and entry.fact.record_id == record_id
    ]
    imports.sort(key=lambda fact: fact.import_id)
    layers = ((fact, _days(logbook, fact.import_id)) for fact in imports)
    return [WeatherLayer(fact, weather) for fact, weather in layers if weather is not None]


def _days(logbook: Logbook, import_id: str) -> DailyWeather | None:
    names = ", ".join(("day", *FIELDS))
    rows = logbook.db.execute(
        f"SELECT {names} FROM weather_day WHERE import_id = ? ORDER BY day", [import_id]
    ).fetchall()
    if not rows:
        return None
    days = [stored(date.fromisoformat, row[0]) for row in rows]
    first_day, last_day = min(days), max(days)
    weather = empty_weather(first_day, (last_day - first_day).days + 1)
    offsets = [(day - first_day).days for day in days]
    for column, name in enumerate(FIELDS, start=1):
        getattr(weather, name)[offsets] = np.array([row[column] for row in rows], dtype=float)
    return weather


def record_names(logbook: Logbook) -> dict[str, str]:
    """The weather records that hold at least one import, by id; the newest name counts."""
    return {
        entry.fact.record_id: entry.fact.record_name
        for entry in live_entries(logbook, (WeatherImport,))
        if isinstance(entry.fact, WeatherImport)
    }
