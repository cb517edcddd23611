"""Everything a logbook says on a day, read once, so that answers are pure functions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from functools import cached_property
from typing import TYPE_CHECKING

from store.contamination.events import EventHistory
from store.contamination.parameters import CAUSE_PRIORS, CausePriors, parameters_with
from store.logbook.entries import live_entries
from store.logbook.opening import Logbook
from store.logbook.places import Places, places_of
from store.logbook.settings import unit_system
from store.logbook.weather_records import imports_of
from store.model.weather_said import WeatherSaid, records_in_use
from store.records import (
    CauseSetting,
    Draft,
    Entry,
    GaugeReading,
    MonthlyNormals,
    SeasonLimit,
    SeasonWindow,
    StationFacts,
    TractFacts,
)
from store.season.history import StationHistory, station_history
from store.season.tract_season import tract_season
from store.season.windows import DEFAULT_SEASON, Season, Window
from store.units import Units, units

if TYPE_CHECKING:
    from store.model.tract_weather import TractWeather


class WeatherWhenAsked(Mapping[str, "TractWeather"]):
    """The weather of each tract that has any; its arrays are made when somebody asks for them."""

    def __init__(self, tracts: Iterable[TractFacts], said: WeatherSaid, today: date) -> None:
        self._tracts, self._said, self._today = tuple(tracts), said, today

    @cached_property
    def _by_tract(self) -> Mapping[str, TractWeather]:
        from store.model.tract_weather import tract_weathers

        return tract_weathers(self._tracts, self._said, self._today)

    def __getitem__(self, tract_id: str) -> TractWeather:
        return self._by_tract[tract_id]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_tract)

    def __len__(self) -> int:
        return len(self._by_tract)


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
    seasons: Mapping[str, Season]
    """What each tract goes by, by tract id."""
    latitudes: Mapping[str, float | None]
    """Each tract's own latitude, or that of its weather record, by tract id."""
    gauges: Mapping[str, tuple[Entry, ...]] = field(default_factory=dict)
    """The live rain-gauge readings of each tract, oldest first."""
    season_settings: tuple[Entry, ...] = ()
    """The live entries behind those seasons, oldest first."""
    cause_priors: CausePriors = field(default_factory=lambda: CAUSE_PRIORS)
    """What each cause of contamination does, with the keeper's own numbers."""
    cause_settings: tuple[Entry, ...] = ()
    """The live entries behind those numbers, oldest first."""
    on_its_own_day: bool = False
    """Whether `today` is a day that the logbook itself opens on, as a demo does."""

    def entries_about(self, owner_id: str) -> tuple[Entry, ...]:
        """The log of a station, or of a tract, whose log is its rain gauge."""
        return self.log.get(owner_id) or self.gauges.get(owner_id, ())

    def label_of(self, owner_id: str) -> str:
        """The name of a station or a tract."""
        tract = self.places.tracts.get(owner_id)
        return self.places.label(self.places.stations[owner_id]) if tract is None else tract.name

    def season_of(self, station_id: str) -> Season:
        """The season a station's tract goes by."""
        return self.seasons[self.places.stations[station_id].tract_id]

    def heavy_use(self, station_id: str) -> Window:
        """The heavy-use weeks still to be served at a station."""
        return self.season_of(station_id).heavy_use_ahead(self.today)

    def wanted_by(self, station_id: str) -> date:
        """The day by which a tank out of use is wanted back."""
        return self.season_of(station_id).wanted_by(self.today)

    def top_up_day(self, station_id: str) -> date:
        """The first day still to come on which a fill serves those weeks."""
        return self.season_of(station_id).top_up_day(self.today)

    @property
    def heavy_use_end(self) -> date:
        """The last day of the heavy-use weeks still to be served, on whatever tract."""
        seasons = self.seasons.values() or (DEFAULT_SEASON,)
        return max(season.heavy_use_ahead(self.today).last for season in seasons)

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
    """Read a whole logbook as of its `today`; entries about later days are left out.

    It is the logbook of one moment, whoever writes to it meanwhile.
    """
    with logbook.reading():
        return _load(logbook)


def _load(logbook: Logbook) -> Snapshot:
    entries = live_entries(logbook)
    known = places_of(entries)
    log: dict[str, list[Entry]] = defaultdict(list)
    gauges: dict[str, list[Entry]] = defaultdict(list)
    said = WeatherSaid(first_entry=logbook.today)
    cause_settings: list[tuple[Entry, CauseSetting]] = []
    season_settings: list[Entry] = []
    for entry in entries:
        if entry.day > logbook.today:
            continue
        match entry.fact:
            case GaugeReading(tract_id, rain_mm):
                said.gauge[tract_id][entry.day] = rain_mm
                gauges[tract_id].append(entry)
            case MonthlyNormals(tract_id, month):
                said.normals[tract_id][month] = entry.fact
            case CauseSetting() as setting:
                cause_settings.append((entry, setting))
            case SeasonWindow() | SeasonLimit():
                season_settings.append(entry)
            case _:
                pass
        station_id = getattr(entry.fact, "station_id", None)
        if station_id is not None:
            said.first_entry = min(said.first_entry, entry.day)
            log[station_id].append(entry)
    said.records = records_in_use(logbook, known, imports_of(entries))
    latitudes = {key: said.latitude_of(tract) for key, tract in known.tracts.items()}
    return Snapshot(
        today=logbook.today,
        places=known,
        log={station_id: tuple(own) for station_id, own in log.items()},
        weather=WeatherWhenAsked(known.tracts.values(), said, logbook.today),
        units=units(unit_system(logbook)),
        seasons=_seasons(known, season_settings, latitudes),
        latitudes=latitudes,
        gauges={tract_id: tuple(entries) for tract_id, entries in gauges.items()},
        season_settings=tuple(season_settings),
        cause_priors=parameters_with(setting for _, setting in cause_settings),
        cause_settings=tuple(entry for entry, _ in cause_settings),
        on_its_own_day=logbook.fixed_today is None and logbook.shown_as_of is not None,
    )


def _seasons(
    known: Places, settings: Sequence[Entry], latitudes: Mapping[str, float | None]
) -> dict[str, Season]:
    facts = [entry.fact for entry in settings]
    set_by_keepers = [fact for fact in facts if isinstance(fact, SeasonWindow | SeasonLimit)]
    return {
        tract_id: tract_season(tract, set_by_keepers, latitudes[tract_id])
        for tract_id, tract in known.tracts.items()
    }


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
