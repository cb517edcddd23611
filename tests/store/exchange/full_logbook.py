"""A logbook with an entry of every kind, weather, undos and a setting."""

from datetime import date
from pathlib import Path

from store.logbook.entries import live_entries
from store.logbook.journal import redo, undo, write
from store.logbook.opening import Logbook
from store.logbook.settings import keep_setting
from store.logbook.weather_rows import store_weather
from store.records import Chore, Draft, Note, Reading, WeatherImport
from store.vocabulary import ChoreKind
from store.weather.days import empty_weather
from tests.new_logbook import new_logbook
from tests.store.logbook.schema_fixtures import DAY, FACTS, RECORD, STATION

TODAY = date(2026, 10, 1)


def make_full(path: Path) -> Logbook:
    """Make it, worked on as of `TODAY`."""
    logbook = new_logbook(path)
    logbook.fixed_today = TODAY
    first = sorted(FACTS, key=lambda fact: not isinstance(fact, WeatherImport))
    write(logbook, "All kinds", [Draft(DAY, fact) for fact in first])
    weather = empty_weather(DAY, 3)
    weather.rain_mm[:] = (0.1 + 0.2, 3.0, 0.0)
    weather.tmin_c[1] = -1.5
    store_weather(logbook, WeatherImport(logbook.new_id(), RECORD, "Barn", "näxt.csv"), weather)
    reading = live_entries(logbook, (Reading,))[0]
    write(
        logbook,
        "Mend",
        [Draft(DAY, Reading(STATION, 111.25, after_work=True), revises=reading.entry_id)],
    )
    write(
        logbook,
        "Rake",
        [Draft(DAY, Chore(STATION, ChoreKind.RAKE)), Draft(DAY, Note(STATION, "a\nb "))],
    )
    undo(logbook)
    undo(logbook)
    redo(logbook)
    keep_setting(logbook, "units", "metric")
    return logbook
