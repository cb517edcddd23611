"""What a logbook says of the weather on its tracts, as it stands there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from store.logbook.opening import Logbook
from store.logbook.places import Places
from store.logbook.weather_records import StoredDays, stored_days
from store.records import MonthlyNormals, TractFacts, WeatherImport


@dataclass
class WeatherSaid:
    """What the entries say, gathered while reading, and the days of the records in use."""

    first_entry: date
    gauge: dict[str, dict[date, float]] = field(default_factory=lambda: defaultdict(dict))
    normals: dict[str, dict[int, MonthlyNormals]] = field(default_factory=lambda: defaultdict(dict))
    records: Mapping[str, tuple[StoredDays, ...]] = field(default_factory=dict)
    """The imports of each record that a tract uses, oldest first, by record id."""

    def latitude_of(self, tract: TractFacts) -> float | None:
        """The tract's own latitude, or that of its weather record."""
        if tract.latitude_deg is not None or tract.weather_record_id is None:
            return tract.latitude_deg
        layers = self.records[tract.weather_record_id]
        return last_known([layer.fact.latitude_deg for layer in layers])


@dataclass(frozen=True)
class WeatherState:
    """A weather record from a first day to today.

    `missing` days were filled from other years of the record or, where
    `from_normals`, invented like the monthly normals of a tract.
    """

    record_name: str
    last_day: date
    days: int
    missing: int
    from_normals: bool


def records_in_use(
    logbook: Logbook, known: Places, imports: Iterable[WeatherImport]
) -> dict[str, tuple[StoredDays, ...]]:
    """The records of weather and of forecasts that the tracts use, of the imports that hold."""
    used = {
        record_id
        for tract in known.tracts.values()
        for record_id in (tract.weather_record_id, tract.forecast_record_id)
        if record_id is not None
    }
    return stored_days(logbook, imports, used)


def last_known(values: list[float | None]) -> float | None:
    return next((value for value in reversed(values) if value is not None), None)
