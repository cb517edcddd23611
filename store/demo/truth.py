"""How full the demo's tanks truly were, so that its readings are honest ones.

The model runs once over everything the story says people did, on weather without a
gap, and with aprons and thirst that differ a little from what the model assumes.
The logbook knows nothing of that, so that its own levels drift from the readings
as they would outdoors.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

import numpy as np

from store.demo.climate import ELEVATION_M, LATITUDE_DEG, RECORD_NAME
from store.demo.pages import AnyPage, Key, Level, Page, key_of
from store.demo.stations import TRACTS
from store.logbook.places import Places
from store.model.modeled import modeled_stations
from store.model.snapshot import Snapshot
from store.model.tract_weather import TractWeather
from store.model.water_input import station_water, water_input
from store.records import Entry, Reading, StationFacts
from store.season.windows import DEFAULT_SEASON
from store.units import MM_PER_INCH, US_UNITS
from store.vocabulary import LevelMark
from store.water.balance import run_balance
from store.water.geometry import Tank, below_rim_mm
from store.water.parameters import default_parameters
from store.weather.days import DailyWeather, FloatArray

APRON_SPREAD, DRINKING_SPREAD = 0.15, 0.20
"""Spread of the logarithm of what aprons yield and deer drink, against the model."""
TAPE_ERROR_MM = 6.0
EYE_ERROR_SHARE = 0.05
TAPE_STEP_MM = MM_PER_INCH / 4


@dataclass(frozen=True)
class TrueTanks:
    """Tanks by station id, with how far below the rim each stood on each evening."""

    first_day: date
    tanks: dict[str, Tank]
    below_rim_mm: dict[str, FloatArray]
    """From the evening of `first_day`; a day without the tank says nothing."""
    stood_from: dict[str, date]

    def reading(self, level: Level, on: date, rng: np.random.Generator) -> Reading:
        """What a keeper coming on that day writes down, with an honest error."""
        tank = self.tanks[level.station_id]
        evening = max(on - timedelta(days=1), self.stood_from[level.station_id])
        below_mm = float(self.below_rim_mm[level.station_id][(evening - self.first_day).days])
        below_mm += level.odd_in * MM_PER_INCH
        if level.by_eye:
            share = 1.0 - below_mm / tank.depth_mm + EYE_ERROR_SHARE * rng.standard_normal()
            mark = min(LevelMark, key=lambda mark: abs(mark.share_of_depth - share))
            return Reading(level.station_id, mark=mark)
        read_mm = below_mm + TAPE_ERROR_MM * rng.standard_normal()
        steps = round(min(max(read_mm, 0.0), tank.depth_mm) / TAPE_STEP_MM)
        return Reading(level.station_id, below_rim_mm=round(steps * TAPE_STEP_MM, 2))


def true_tanks(
    pages: Iterable[AnyPage], weather: DailyWeather, rng: np.random.Generator
) -> TrueTanks:
    """Run every tank of the story from its first day to the last day of `weather`."""
    snapshot = _snapshot(pages, weather)
    stations, _ = modeled_stations(snapshot)
    source = water_input([station_water(snapshot, station) for station in stations])
    usual = default_parameters([station.facts for station in stations])
    shape = usual.drinking.shape
    balance = run_balance(
        [station.tank_site for station in stations],
        source.forcing,
        replace(
            usual,
            apron_yield=usual.apron_yield * np.exp(APRON_SPREAD * rng.standard_normal(shape)),
            drinking=usual.drinking * np.exp(DRINKING_SPREAD * rng.standard_normal(shape)),
        ),
        start_volume_l=0.0,
        changes=source.changes,
        in_place=source.in_place,
        covered=source.covered,
    )
    return TrueTanks(
        first_day=source.first_day,
        tanks={station.facts.station_id: station.tank for station in stations},
        below_rim_mm={
            station.facts.station_id: below_rim_mm(station.tank, balance.volume_l[:, column, 0])
            for column, station in enumerate(stations)
        },
        stood_from={station.facts.station_id: station.first for station in stations},
    )


def _snapshot(pages: Iterable[AnyPage], weather: DailyWeather) -> Snapshot:
    tract_weather = TractWeather(RECORD_NAME, weather, 0, LATITUDE_DEG, ELEVATION_M)
    log = defaultdict(list)
    happened = _happened(pages).values()
    for entry in happened:
        log[getattr(entry.fact, "station_id", "")].append(entry)
    return Snapshot(
        today=weather.last_day,
        places=Places(
            tracts={tract.tract_id: tract for tract in TRACTS},
            stations={
                entry.fact.station_id: entry.fact
                for entry in happened
                if isinstance(entry.fact, StationFacts)
            },
            tract_entries={},
            station_entries={},
        ),
        log={
            station: tuple(sorted(entries, key=lambda entry: (entry.day, entry.entry_id)))
            for station, entries in log.items()
        },
        weather={tract.tract_id: tract_weather for tract in TRACTS},
        units=US_UNITS,
        seasons={tract.tract_id: DEFAULT_SEASON for tract in TRACTS},
        latitudes={tract.tract_id: LATITUDE_DEG for tract in TRACTS},
    )


def _happened(pages: Iterable[AnyPage]) -> dict[Key, Entry]:
    """What was done, as the story has it in the end; levels are left out."""
    entries: dict[Key, Entry] = {}
    for page in pages:
        if not isinstance(page, Page) or page.undone:
            continue
        for line in page.lines:
            if not isinstance(line.fact, Level):
                about = line.day or page.on
                number = f"{len(entries):05}"
                written = datetime(about.year, about.month, about.day, tzinfo=UTC)
                entry = Entry(number, number, about, written, line.fact)
                entries[key_of(about, line.fact)] = entry
    return entries
