"""A short-range forecast into the logbook: a record of its own, apart from what was measured."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from store.errors import Refused
from store.logbook.opening import Logbook
from store.logbook.places import Places, places
from store.logbook.weather_records import FORECAST, record_names
from store.records import Draft, TractFacts
from store.transfer.weather import WeatherImported, keep_days
from store.weather.files import ReadOptions, WeatherFile
from store.weather.readers.recognise import read_weather


def import_forecast(
    logbook: Logbook,
    path: Path,
    options: ReadOptions,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> WeatherImported:
    """Read a forecast, any file `read_weather` knows, and keep it as `keep_forecast`."""
    file = read_weather(path, options=options)
    return keep_forecast(logbook, file, tract_name, latitude_deg)


def keep_forecast(
    logbook: Logbook,
    file: WeatherFile,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> WeatherImported:
    """Keep a forecast for one tract, or for all, in one transaction.

    It replaces the days of an older forecast for the same tracts. Outlooks use its
    days after today; past levels never use it.

    Raises:
        NotFound: no tract of that name.
        Refused: there is no tract yet, or as `write`.
    """
    known = places(logbook)
    every = tuple(known.tracts.values())
    chosen = every if tract_name is None else (known.find_tract(tract_name),)
    if not chosen:
        raise Refused("There is no tract to forecast for; import stations or weather first.")
    record_id = _own_record(logbook, known, chosen) or logbook.new_id()
    whose = "all tracts" if len(chosen) > 1 else chosen[0].name
    drafts = tuple(
        Draft(
            logbook.today,
            replace(tract, forecast_record_id=record_id),
            revises=known.tract_entries[tract.tract_id],
        )
        for tract in chosen
        if tract.forecast_record_id != record_id
    )
    name = f"{FORECAST} {whose}"
    new_days, known_days = keep_days(logbook, file, record_id, name, latitude_deg, drafts)
    notes = file.notes
    if file.weather.last_day <= logbook.today:
        notes += (
            f"{file.path.name} ends on {file.weather.last_day}, so no outlook from "
            f"{logbook.today} on uses it.",
        )
    users = tuple(tract.name for tract in chosen)
    return WeatherImported(name, new_days, known_days, users, notes, rejected=file.rejected)


def _own_record(logbook: Logbook, known: Places, chosen: tuple[TractFacts, ...]) -> str | None:
    """The one forecast these tracts use and no other tract does, if there is one."""
    used = {t.forecast_record_id for t in chosen} & record_names(logbook).keys()
    others = {t.forecast_record_id for t in known.tracts.values() if t not in chosen}
    return next(iter(used)) if len(used) == 1 and not used & others else None
