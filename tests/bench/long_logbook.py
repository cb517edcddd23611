"""A logbook of many stations and years, for measuring what it costs to open."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from store.logbook.journal import write
from store.logbook.opening import create_logbook, logbook_at
from store.logbook.weather_rows import store_weather
from store.model.snapshot import Snapshot, load
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    Draft,
    Reading,
    Sighting,
    StationFacts,
    TractFacts,
    WeatherImport,
)
from store.vocabulary import Access, Action, Cause, ChoreKind, Exposure, LevelMark, UseSeen
from store.weather.days import DailyWeather
from store.weather.files import ReadOptions
from store.weather.gaps import cut
from store.weather.readers.recognise import read_weather
from tests.bench.places import TANK_110, TANK_118, TANK_160
from tests.steady import steady

DATA = Path(__file__).parents[1] / "data"
LAST_DAY = date(2018, 10, 12)
MARKS = tuple(LevelMark)
FOULED = (Cause.DROWNED_ANIMAL, Cause.SILT)


def make_long_logbook(
    path: Path, stations: int, years: int, gaps: int = 0, today: date = LAST_DAY
) -> Snapshot:
    """Write the logbook on the Champion record and read it as of `today`.

    Every station is looked at once a month from spring to autumn and fouled once a year;
    chance is fixed. `gaps` spells of ten days are missing from the weather.
    """
    luck = random.Random(7)
    first = today.replace(year=today.year - years)
    logbook = steady(create_logbook(path))
    new_id = logbook.new_id
    tract = TractFacts(new_id(), "North", 40.4, elevation_m=300.0, weather_record_id=new_id())
    facts = [_station(number, new_id(), tract.tract_id) for number in range(stations)]
    weather = _with_gaps(_weather(first, today), gaps, luck)
    taken = WeatherImport(new_id(), str(tract.weather_record_id), "Champion", "champion_daily.csv")
    store_weather(logbook, taken, weather, (Draft(first, tract), *(Draft(first, f) for f in facts)))
    drafts = [draft for one in facts for draft in _log(one.station_id, first, today, luck, new_id)]
    write(logbook, "The years", drafts)
    logbook.close()
    return snapshot_of(path, today)


def snapshot_of(path: Path, today: date) -> Snapshot:
    with logbook_at(path, today) as logbook:
        return load(logbook)


def _weather(first: date, today: date) -> DailyWeather:
    file = read_weather(DATA / "champion_daily.csv", options=ReadOptions())
    return cut(file.weather, date(first.year - 1, 1, 1), today)


def _with_gaps(weather: DailyWeather, gaps: int, luck: random.Random) -> DailyWeather:
    for _ in range(gaps):
        start = luck.randrange(weather.days - 10)
        for values in (weather.rain_mm, weather.tmin_c, weather.tmax_c):
            values[start : start + 10] = np.nan
    return weather


def _station(number: int, station_id: str, tract_id: str) -> StationFacts:
    return StationFacts(
        station_id=station_id,
        tract_id=tract_id,
        name=f"Tank {number:03}",
        tank=(TANK_110, TANK_118, TANK_160)[number % 3],
        apron_area_m2=8.0 + number % 7,
        exposure=tuple(Exposure)[number % len(Exposure)],
        access=tuple(Access)[number % len(Access)],
    )


def _log(
    station_id: str, first: date, today: date, luck: random.Random, new_id: Callable[[], str]
) -> list[Draft]:
    drafts = [Draft(first, Chore(station_id, ChoreKind.INSTALL, 0.0))]
    day = first + timedelta(days=luck.randrange(10, 40))
    while day <= today:
        if 4 <= day.month <= 11:
            drafts += _visit(station_id, day, luck)
        if day.month == 7 and luck.random() < 0.6 and day + timedelta(days=20) <= today:
            drafts += _event(station_id, new_id(), day, luck)
        day += timedelta(days=luck.randrange(20, 41))
    return drafts


def _visit(station_id: str, day: date, luck: random.Random) -> list[Draft]:
    reading = (
        Reading(station_id, below_rim_mm=round(luck.uniform(20.0, 500.0)))
        if luck.random() < 0.5
        else Reading(station_id, mark=luck.choice(MARKS))
    )
    drafts = [Draft(day, reading), Draft(day, Chore(station_id, ChoreKind.RAKE))]
    if luck.random() < 0.3:
        drafts.append(Draft(day, Chore(station_id, ChoreKind.FILL, 100.0)))
    if luck.random() < 0.4:
        drafts.append(Draft(day, Sighting(station_id, luck.choice(tuple(UseSeen)))))
    return drafts


def _event(station_id: str, event_id: str, day: date, luck: random.Random) -> list[Draft]:
    later = day + timedelta(days=luck.randrange(5, 20))
    return [
        Draft(day, Contamination(event_id, station_id, luck.choice(FOULED), Action.BAILED, 60.0)),
        Draft(later, ContaminationAction(event_id, station_id, Action.SEEN_CLEAR)),
    ]
