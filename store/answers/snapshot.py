"""Everything a logbook says on a day, read once, so that answers are pure functions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from functools import cached_property

from store.contamination.events import EventHistory
from store.logbook.journal import live_entries
from store.logbook.opening import Logbook
from store.logbook.places import Places, places
from store.logbook.settings import unit_system
from store.logbook.weather_rows import weather_layers
from store.records import Draft, Entry, GaugeReading, StationFacts, TractFacts
from store.season.history import StationHistory, station_history
from store.season.windows import DEFAULT_SEASON, Season
from store.units import Units, units
from store.weather.days import DailyWeather
from store.weather.merge import overlay, with_gauge


@dataclass(frozen=True)
class TractWeather:
    """The weather a tract uses: its record with the tract's own gauge laid over it.

    Not filled: NaN where nothing is known.
    """

    record_name: str
    weather: DailyWeather
    gauge_days: int
    latitude_deg: float | None
    elevation_m: float | None


@dataclass(frozen=True)
class Snapshot:
    """A logbook's entries and weather up to `today`.

    `weather` has no key for a tract without any; `log` holds the live entries of
    each station, oldest first.
    """

    today: date
    places: Places
    log: Mapping[str, tuple[Entry, ...]]
    weather: Mapping[str, TractWeather]
    units: Units
    season: Season

    def weather_of(self, station: StationFacts) -> TractWeather | None:
        return self.weather.get(station.tract_id)

    @cached_property
    def histories(self) -> Mapping[str, StationHistory]:
        """What each station's log says happened, by station id."""
        return {
            station_id: station_history(facts, self.log.get(station_id, ()), self.today)
            for station_id, facts in self.places.stations.items()
        }

    def open_events(self) -> list[tuple[StationFacts, EventHistory]]:
        """Contamination events nobody has seen clear, with their stations."""
        return [
            (history.facts, event)
            for history in self.histories.values()
            for event in history.open_events
        ]


def load(logbook: Logbook) -> Snapshot:
    """Read a whole logbook as of its `today`; entries about later days are left out."""
    known = places(logbook)
    log: dict[str, list[Entry]] = defaultdict(list)
    gauge: dict[str, dict[date, float]] = defaultdict(dict)
    for entry in live_entries(logbook):
        if entry.about > logbook.today:
            continue
        if isinstance(entry.what, GaugeReading):
            gauge[entry.what.tract_id][entry.about] = entry.what.rain_mm
        station_id = getattr(entry.what, "station_id", None)
        if station_id is not None:
            log[station_id].append(entry)
    return Snapshot(
        today=logbook.today,
        places=known,
        log={station_id: tuple(entries) for station_id, entries in log.items()},
        weather=_weather(logbook, known, gauge),
        units=units(unit_system(logbook)),
        season=DEFAULT_SEASON,
    )


def _weather(
    logbook: Logbook, known: Places, gauge: Mapping[str, Mapping[date, float]]
) -> dict[str, TractWeather]:
    records: dict[str, TractWeather] = {}
    by_tract: dict[str, TractWeather] = {}
    for tract in known.tracts.values():
        record_id = tract.weather_record_id
        if record_id is None:
            continue
        if record_id not in records:
            record = _record(logbook, record_id)
            if record is None:
                continue
            records[record_id] = record
        by_tract[tract.tract_id] = _with_gauge(records[record_id], tract, gauge)
    return by_tract


def _record(logbook: Logbook, record_id: str) -> TractWeather | None:
    layers = weather_layers(logbook, record_id)
    if not layers:
        return None
    newest = layers[-1].what
    return TractWeather(
        record_name=newest.record_name,
        weather=overlay([layer.weather for layer in layers]),
        gauge_days=0,
        latitude_deg=_last_known([layer.what.latitude_deg for layer in layers]),
        elevation_m=_last_known([layer.what.elevation_m for layer in layers]),
    )


def _with_gauge(
    record: TractWeather, tract: TractFacts, gauge: Mapping[str, Mapping[date, float]]
) -> TractWeather:
    readings = gauge.get(tract.tract_id, {})
    latitude = record.latitude_deg if tract.latitude_deg is None else tract.latitude_deg
    elevation = record.elevation_m if tract.elevation_m is None else tract.elevation_m
    return TractWeather(
        record_name=record.record_name,
        weather=with_gauge(record.weather, readings),
        gauge_days=len(readings),
        latitude_deg=latitude,
        elevation_m=elevation,
    )


def _last_known(values: list[float | None]) -> float | None:
    return next((value for value in reversed(values) if value is not None), None)


def supposing(snapshot: Snapshot, station_id: str, drafts: Sequence[Draft]) -> Snapshot:
    """The snapshot as it would be, were these drafts about one station written now."""
    entries = [
        Entry(f"~{number:04}", "~", draft.about, datetime.now(UTC), draft.what)
        for number, draft in enumerate(drafts)
    ]
    own = sorted(
        (*snapshot.log.get(station_id, ()), *entries),
        key=lambda entry: (entry.about, entry.entry_id),
    )
    return replace(snapshot, log={**snapshot.log, station_id: tuple(own)})
