"""Everything a logbook says on a day, read once, so that answers are pure functions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from functools import cached_property

import numpy as np

from store.contamination.events import EventHistory
from store.contamination.parameters import CAUSE_PRIORS, CausePriors, parameters_with
from store.logbook.journal import live_entries
from store.logbook.opening import Logbook
from store.logbook.places import Places, places
from store.logbook.settings import unit_system
from store.logbook.weather_rows import weather_layers
from store.records import (
    CauseSetting,
    Draft,
    Entry,
    GaugeReading,
    MonthlyNormals,
    StationFacts,
    TractFacts,
)
from store.season.history import StationHistory, station_history
from store.season.windows import DEFAULT_SEASON, Season, Window
from store.units import Units, units
from store.weather.climate import MonthlyClimate, climate_from_normals
from store.weather.days import DailyWeather, empty_weather
from store.weather.gaps import cut
from store.weather.merge import overlay, with_gauge

ENOUGH_DAYS = 365
"""Complete days from which a record does without typed-in normals (assumed)."""


@dataclass(frozen=True)
class TractWeather:
    """The weather a tract uses: its record with the tract's own gauge laid over it.

    Not filled: NaN where nothing is known. `forecast` holds days to come. `normals`
    stand in for what `weather` does not know where there is no record of a whole year.
    """

    record_name: str
    weather: DailyWeather
    gauge_days: int
    latitude_deg: float | None
    elevation_m: float | None
    forecast: DailyWeather | None = None
    normals: MonthlyClimate | None = None


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
    cause_priors: CausePriors = field(default_factory=lambda: CAUSE_PRIORS)
    """What each cause of contamination does, with the keeper's own numbers."""
    cause_settings: tuple[Entry, ...] = ()
    """The live entries behind those numbers, oldest first."""

    @property
    def heavy_use(self) -> Window:
        """The heavy-use weeks still to be served."""
        return self.season.heavy_use_ahead(self.today)

    @property
    def wanted_by(self) -> date:
        """The day by which a tank out of use is wanted back."""
        return self.season.wanted_by(self.today)

    @property
    def top_up_day(self) -> date:
        """The first day still to come on which a fill serves those weeks."""
        return self.season.top_up_day(self.today)

    def weather_of(self, station: StationFacts) -> TractWeather | None:
        return self.weather.get(station.tract_id)

    @cached_property
    def histories(self) -> Mapping[str, StationHistory]:
        """What each station's log says happened, by station id."""
        return {
            station_id: station_history(
                facts,
                self.log.get(station_id, ()),
                self.today,
                self.places.tract_of(facts),
            )
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
    said = _Said(first_entry=logbook.today)
    cause_settings: list[tuple[Entry, CauseSetting]] = []
    for entry in live_entries(logbook):
        if entry.day > logbook.today:
            continue
        match entry.fact:
            case GaugeReading(tract_id, rain_mm):
                said.gauge[tract_id][entry.day] = rain_mm
            case MonthlyNormals(tract_id, month):
                said.normals[tract_id][month] = entry.fact
            case CauseSetting() as setting:
                cause_settings.append((entry, setting))
            case _:
                pass
        station_id = getattr(entry.fact, "station_id", None)
        if station_id is not None:
            said.first_entry = min(said.first_entry, entry.day)
            log[station_id].append(entry)
    return Snapshot(
        today=logbook.today,
        places=known,
        log={station_id: tuple(entries) for station_id, entries in log.items()},
        weather=_weather(logbook, known, said),
        units=units(unit_system(logbook)),
        season=DEFAULT_SEASON,
        cause_priors=parameters_with(setting for _, setting in cause_settings),
        cause_settings=tuple(entry for entry, _ in cause_settings),
    )


@dataclass
class _Said:
    """What the entries say about the weather of tracts, gathered while reading."""

    first_entry: date
    gauge: dict[str, dict[date, float]] = field(default_factory=lambda: defaultdict(dict))
    normals: dict[str, dict[int, MonthlyNormals]] = field(default_factory=lambda: defaultdict(dict))


def _weather(logbook: Logbook, known: Places, said: _Said) -> dict[str, TractWeather]:
    records: dict[str, TractWeather | None] = {}

    def record(record_id: str | None) -> TractWeather | None:
        if record_id is None:
            return None
        if record_id not in records:
            records[record_id] = _record(logbook, record_id)
        return records[record_id]

    by_tract: dict[str, TractWeather] = {}
    for tract in known.tracts.values():
        own = record(tract.weather_record_id)
        if own is None or complete_days(own.weather) < ENOUGH_DAYS:
            own = _from_normals(tract, said, logbook.today, own) or own
        if own is not None:
            forecast = record(tract.forecast_record_id)
            by_tract[tract.tract_id] = _of_tract(own, tract, said, forecast, logbook.today)
    return by_tract


def _record(logbook: Logbook, record_id: str) -> TractWeather | None:
    layers = weather_layers(logbook, record_id)
    if not layers:
        return None
    newest = layers[-1].fact
    return TractWeather(
        record_name=newest.record_name,
        weather=overlay([layer.weather for layer in layers]),
        gauge_days=0,
        latitude_deg=_last_known([layer.fact.latitude_deg for layer in layers]),
        elevation_m=_last_known([layer.fact.elevation_m for layer in layers]),
    )


def complete_days(weather: DailyWeather) -> int:
    """How many days know their rain and both temperatures."""
    known = np.isfinite(weather.rain_mm + weather.tmin_c + weather.tmax_c)
    return int(known.sum())


def _from_normals(
    tract: TractFacts, said: _Said, today: date, short: TractWeather | None
) -> TractWeather | None:
    """Weather known by its monthly normals, and by a record too short to do without them.

    None where the twelve months are not all there.
    """
    months = said.normals.get(tract.tract_id, {})
    if set(months) != set(range(1, 13)):
        return None
    year = [months[month] for month in range(1, 13)]
    climate = climate_from_normals(
        [month.rain_mm for month in year],
        [month.wet_days for month in year],
        [month.tmin_c for month in year],
        [month.tmax_c for month in year],
    )
    first_day = min(said.first_entry, today)
    unknown = empty_weather(first_day, (today - first_day).days + 1)
    name = f"monthly normals of {tract.name}"
    if short is not None:
        name = f"{short.record_name} with {name}"
        weather = overlay([unknown, short.weather])
        return replace(short, record_name=name, weather=weather, normals=climate)
    return TractWeather(
        record_name=name,
        weather=unknown,
        gauge_days=0,
        latitude_deg=None,
        elevation_m=None,
        normals=climate,
    )


def _of_tract(
    record: TractWeather,
    tract: TractFacts,
    said: _Said,
    forecast: TractWeather | None,
    today: date,
) -> TractWeather:
    """The record as the tract sees it, without hindsight: nothing later than today."""
    gauge = said.gauge.get(tract.tract_id, {})
    latitude = record.latitude_deg if tract.latitude_deg is None else tract.latitude_deg
    elevation = record.elevation_m if tract.elevation_m is None else tract.elevation_m
    return replace(
        record,
        weather=_up_to(today, with_gauge(record.weather, gauge)),
        gauge_days=len(gauge),
        latitude_deg=latitude,
        elevation_m=elevation,
        forecast=None if forecast is None else forecast.weather,
    )


def _up_to(today: date, weather: DailyWeather) -> DailyWeather:
    if weather.first_day > today:
        return weather
    return cut(weather, weather.first_day, min(weather.last_day, today))


def _last_known(values: list[float | None]) -> float | None:
    return next((value for value in reversed(values) if value is not None), None)


def supposing(snapshot: Snapshot, station_id: str, drafts: Sequence[Draft]) -> Snapshot:
    """The snapshot as it would be, were these drafts about one station written now."""
    entries = [
        Entry(f"~{number:04}", "~", draft.day, datetime.now(UTC), draft.fact)
        for number, draft in enumerate(drafts)
    ]
    own = sorted(
        (*snapshot.log.get(station_id, ()), *entries),
        key=lambda entry: (entry.day, entry.entry_id),
    )
    return replace(snapshot, log={**snapshot.log, station_id: tuple(own)})
