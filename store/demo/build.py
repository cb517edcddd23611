"""Write the demo as its keeper would have: page by page, evening by evening.

Rebuild it with `python -m store.demo demo.db`. Clock, ids and chance are fixed, so
every build holds the same rows; a change of the water model or of the weather
generator changes its readings, and then the shipped file is to be rebuilt.
"""

from __future__ import annotations

import random
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import numpy as np

from store.demo import setting_up, story_2024, story_2025
from store.demo.climate import (
    ELEVATION_M,
    LATITUDE_DEG,
    RECORD_NAME,
    gauge_mm,
    recorded,
    true_weather,
)
from store.demo.pages import AnyPage, GaugePage, Level, Line, Page, WeatherPage, key_of
from store.demo.stations import ALDER, RECORD_ID, TRACTS
from store.demo.truth import TrueTanks, true_tanks
from store.logbook.entries import live_entries
from store.logbook.ids import IdMaker
from store.logbook.journal import undo, write
from store.logbook.opening import SHOWN_AS_OF, Logbook, create_logbook
from store.logbook.settings import keep_setting
from store.logbook.weather_rows import store_weather
from store.records import Draft, Fact, GaugeReading, WeatherImport
from store.weather.days import DailyWeather

STORY: tuple[AnyPage, ...] = (
    *setting_up.PAGES,
    *story_2024.SEASON,
    *story_2025.SEASON,
)
SEED = 2025
DEMO_DAY = date(2025, 10, 12)
"""The day it opens on, its most interesting: the fill window is open."""
EVENING = time(22, 30)
"""When the keeper sits down to write, UTC."""
BETWEEN_PAGES = timedelta(minutes=3)
MADE_UTC = "2024-03-24 22:00:00+00:00"
"""The moment the tables are said to have been made."""


@dataclass
class Evening:
    """The keeper's clock: it moves on between pages and stands still within one."""

    now: datetime

    def __call__(self) -> datetime:
        return self.now

    def next_page(self, on: date) -> None:
        start = datetime.combine(on, EVENING, UTC)
        self.now = max(start, self.now + BETWEEN_PAGES)


def rebuild_demo(path: Path) -> None:
    """Build the demo beside `path` and put it in its place.

    Raises:
        OSError: no file can be made there.
    """
    with tempfile.TemporaryDirectory(dir=path.absolute().parent) as folder:
        fresh = Path(folder) / path.name
        build_demo(fresh)
        fresh.replace(path)


def build_demo(path: Path) -> None:
    """Build the demo as a new, single file.

    Raises:
        Refused: something of that name exists.
        BadFile: no file can be made there.
    """
    logbook = create_logbook(path)
    try:
        _write_story(logbook)
        keep_setting(logbook, "demo", "yes")
        keep_setting(logbook, SHOWN_AS_OF, DEMO_DAY.isoformat())
        logbook.db.execute("UPDATE _sqlite_migrations SET applied_at = ?", [MADE_UTC])
        logbook.db.conn.commit()
        logbook.db.execute("PRAGMA journal_mode = DELETE")
        logbook.db.execute("VACUUM")
    finally:
        logbook.close()


def _write_story(logbook: Logbook) -> None:
    ids = random.Random(SEED)
    clock = Evening(datetime.min.replace(tzinfo=UTC))
    logbook.clock = clock
    logbook.make_id = IdMaker(lambda: ids.getrandbits(73))
    rng = np.random.default_rng(SEED)
    weather = true_weather()
    tanks = true_tanks(STORY, weather, rng)
    for page in STORY:
        clock.next_page(page.on)
        logbook.fixed_today = page.on
        match page:
            case WeatherPage():
                _write_weather(logbook, page, weather)
            case GaugePage():
                _write_gauge(logbook, page, weather, rng)
            case Page():
                drafts = [_draft(logbook, page, line, tanks, rng) for line in page.lines]
                write(logbook, page.title, drafts)
                if page.undone:
                    clock.next_page(page.on)
                    undo(logbook)


def _draft(
    logbook: Logbook, page: Page, line: Line, tanks: TrueTanks, rng: np.random.Generator
) -> Draft:
    about = line.day or page.on
    what = tanks.reading(line.fact, about, rng) if isinstance(line.fact, Level) else line.fact
    return Draft(about, what, _entry_to_correct(logbook, about, what) if line.corrects else None)


def _entry_to_correct(logbook: Logbook, about: date, what: Fact) -> str:
    wanted = key_of(about, what)
    return next(
        entry.entry_id
        for entry in live_entries(logbook, (type(what),))
        if key_of(entry.day, entry.fact) == wanted
    )


def _write_weather(logbook: Logbook, page: WeatherPage, weather: DailyWeather) -> None:
    what = WeatherImport(
        import_id=logbook.new_id(),
        record_id=RECORD_ID,
        record_name=RECORD_NAME,
        source=f"{page.source} (daily table)",
        latitude_deg=LATITUDE_DEG,
        elevation_m=ELEVATION_M,
    )
    store_weather(logbook, what, recorded(weather, page.first, page.last))


def _write_gauge(
    logbook: Logbook, page: GaugePage, weather: DailyWeather, rng: np.random.Generator
) -> None:
    tract = next(tract for tract in TRACTS if tract.name == ALDER)
    drafts = [
        Draft(day, GaugeReading(tract.tract_id, gauge_mm(weather, day, rng)))
        for day in _days(page.first, page.last)
    ]
    write(logbook, f"Rain gauge at {ALDER}, week to {page.last}", drafts)


def _days(first: date, last: date) -> Sequence[date]:
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]
