"""Weather kept in the logbook: imports as layers of days, read back layer by layer.

An import stores only the days that say something new. Where imports overlap, the
newest one wins, value by value, and a blank never erases a value; the overlay is
done by `store.weather`, which knows about weather.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from store.errors import Refused
from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.logbook.standing import Batch
from store.logbook.weather_records import StoredDays, live_imports, stored_days
from store.records import Draft, WeatherImport
from store.weather.days import DailyWeather, empty_weather
from store.weather.elements import FIELDS


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
    stored = stored_days(logbook, live_imports(logbook), (record_id,))
    return [layer_of(own) for own in stored[record_id]]


def layer_of(own: StoredDays) -> WeatherLayer:
    """Stored days as arrays over all days from the first to the last."""
    first_day, last_day = min(own.days), max(own.days)
    weather = empty_weather(first_day, (last_day - first_day).days + 1)
    offsets = [(day - first_day).days for day in own.days]
    values = np.array(own.values, dtype=float)
    for column, name in enumerate(FIELDS):
        getattr(weather, name)[offsets] = values[:, column]
    return WeatherLayer(own.fact, weather)
