"""A weather file into the logbook: which record it belongs to, and what it adds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from store.errors import BadValue, NotFound, Problem, Refused
from store.logbook.opening import Logbook
from store.logbook.places import Places, places
from store.logbook.waiting_weather import waiting_record
from store.logbook.weather_records import FORECAST, record_names
from store.logbook.weather_rows import store_weather, weather_layers
from store.records import Draft, TractFacts, WeatherImport
from store.weather.days import DailyWeather, empty_weather
from store.weather.elements import FIELDS
from store.weather.files import ReadOptions, WeatherFile
from store.weather.merge import overlay
from store.weather.readers.recognise import read_weather


@dataclass(frozen=True)
class WeatherImported:
    """What an import did, for telling the person."""

    record_name: str
    new_days: int
    known_days: int
    tracts: tuple[str, ...]
    """Names of the tracts that use the record."""
    notes: tuple[str, ...]
    waits: bool = False
    """Whether the first tract that comes uses the record."""
    rejected: tuple[Problem, ...] = ()
    """Lines that were left out because the person agreed to skip bad ones."""

    @property
    def counted(self) -> str:
        """What was kept, as the beginning of a sentence."""
        name = f"Weather record {self.record_name}"
        if self.record_name.startswith(FORECAST):
            name = f"F{self.record_name[1:]}"
        return f"{name}: {self.new_days} new days, {self.known_days} known already"

    @property
    def users(self) -> str:
        """Who uses the record, as the end of a sentence."""
        if self.waits:
            return "the first tract that you add"
        return ", ".join(self.tracts) or (
            "no tract yet, for other weather waits too: add the tract, then import it again for it"
        )


def import_weather(
    logbook: Logbook,
    path: Path,
    options: ReadOptions,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> WeatherImported:
    """Read a weather file and keep its new days: `read_weather`, then `keep_weather`."""
    file = read_weather(path, options=options)
    return keep_weather(logbook, file, tract_name, latitude_deg)


def keep_weather(
    logbook: Logbook,
    file: WeatherFile,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> WeatherImported:
    """Keep the new days of a weather file, in one transaction.

    The record is the one named by the file's station; a file that names none goes
    to the record its tract uses, else to a record named after the file. The tract
    (made if it is new) then uses the record; without a tract named, every tract
    that has no weather yet does, and where there is no tract, the first that comes.
    Days that say nothing new are not stored again.

    Raises:
        BadValue: the file's own place is not on the globe.
        Refused: as `write`; days are still to come, or the record would be named like
            a forecast.
    """
    _refuse_days_to_come(logbook, file)
    known_places = places(logbook)
    tract = _tract(logbook, known_places, tract_name, latitude_deg)
    record_id, name = _record(logbook, file, tract)
    drafts, users = _users(logbook, known_places, tract, record_id, latitude_deg)
    new_days, known_days = keep_days(logbook, file, record_id, name, latitude_deg, drafts)
    notes = (*file.notes, *_without(file))
    waits = not users and waiting_record(logbook) == record_id
    return WeatherImported(name, new_days, known_days, users, notes, waits, file.rejected)


def _without(file: WeatherFile) -> tuple[str, ...]:
    """A sentence on each element the model needs and the file has not."""
    missing = [
        name
        for name, values in (("rain", file.weather.rain_mm), ("temperatures", file.weather.tmax_c))
        if np.isnan(values).all()
    ]
    return tuple(
        f"{file.path.name} has no {name}; without them the tract has no levels, so import a file "
        "that has them too."
        for name in missing
    )


def keep_days(
    logbook: Logbook,
    file: WeatherFile,
    record_id: str,
    record_name: str,
    latitude_deg: float | None,
    drafts: tuple[Draft, ...],
) -> tuple[int, int]:
    """Write the new days of a file and `drafts` at once; how many are new and known.

    `latitude_deg` goes before the file's own. Nothing is written when nothing is new.

    Raises:
        BadValue: the file's own place is not on the globe.
        Refused: as `write`.
    """
    _refuse_place(file)
    fresh, known_days = _new_days(logbook, record_id, file.weather)
    what = WeatherImport(
        import_id=logbook.new_id(),
        record_id=record_id,
        record_name=record_name,
        source=f"{file.path.name} ({file.format_name})",
        latitude_deg=file.latitude_deg if latitude_deg is None else latitude_deg,
        longitude_deg=file.longitude_deg,
        elevation_m=file.elevation_m,
    )
    new_days = _known_days(fresh)
    if new_days or drafts:
        store_weather(logbook, what, fresh, drafts)
    return new_days, known_days


def _refuse_place(file: WeatherFile) -> None:
    for name, value, (low, high) in (
        ("latitude", file.latitude_deg, (-90.0, 90.0)),
        ("longitude", file.longitude_deg, (-180.0, 180.0)),
        ("elevation", file.elevation_m, (-500.0, 9000.0)),
    ):
        if value is not None and not low <= value <= high:
            raise BadValue(
                f"{file.path.name} gives {value:g} as its {name}, outside {low:g} to {high:g}; "
                "correct that column, or take it out."
            )


def _refuse_days_to_come(logbook: Logbook, file: WeatherFile) -> None:
    """Refuse days nobody can have measured: after the logbook's today and the real one.

    A logbook worked on as of a past day still takes the record that was measured since.
    """
    today = max(logbook.today, logbook.clock().astimezone().date())
    if file.weather.last_day > today:
        raise Refused(
            f"{file.path.name} reaches to {file.weather.last_day}, but today is {today}, and a "
            "record of weather holds what was measured. Import it as a forecast (the kind "
            "forecast), or cut it off after today and import it again."
        )


def _tract(
    logbook: Logbook, known: Places, name: str | None, latitude_deg: float | None
) -> TractFacts | None:
    if name is None:
        return None
    try:
        return known.find_tract(name)
    except NotFound:
        return TractFacts(logbook.new_id(), name.strip(), latitude_deg)


def _record(logbook: Logbook, file: WeatherFile, tract: TractFacts | None) -> tuple[str, str]:
    names = record_names(logbook)
    if file.station_id is None and tract is not None and tract.weather_record_id in names:
        return tract.weather_record_id, names[tract.weather_record_id]
    name = file.station_id or file.path.stem
    if name.casefold().startswith(FORECAST):
        raise Refused(
            f"{name} is named like a forecast, which is no record of weather; import it as a "
            "forecast, or rename the file."
        )
    for record_id, known_name in names.items():
        if known_name.casefold() == name.casefold():
            return record_id, known_name
    return logbook.new_id(), name


def _users(
    logbook: Logbook,
    known: Places,
    tract: TractFacts | None,
    record_id: str,
    latitude_deg: float | None,
) -> tuple[tuple[Draft, ...], tuple[str, ...]]:
    """Tracts to be pointed at the record, and the names of all that use it then.

    A latitude that was given goes to the tract named, or to those that have none.
    """
    asked = [tract] if tract is not None else list(known.tracts.values())
    drafts: list[Draft] = []
    users = {t.name for t in known.tracts.values() if t.weather_record_id == record_id}
    for one in asked:
        if tract is None and one.weather_record_id not in (None, record_id):
            continue
        users.add(one.name)
        user = replace(one, weather_record_id=record_id)
        if latitude_deg is not None and (tract is not None or one.latitude_deg is None):
            user = replace(user, latitude_deg=latitude_deg)
        if user != known.tracts.get(one.tract_id):
            held = known.tract_entries.get(one.tract_id)
            drafts.append(Draft(logbook.today, user, revises=held))
    return tuple(drafts), tuple(sorted(users))


def _new_days(logbook: Logbook, record_id: str, weather: DailyWeather) -> tuple[DailyWeather, int]:
    """The days of a file that change what the record says, and how many do not."""
    layers = [layer.weather for layer in weather_layers(logbook, record_id)]
    if not layers:
        return weather, 0
    blank = empty_weather(weather.first_day, weather.days)
    before = overlay([blank, *layers])
    start = (weather.first_day - before.first_day).days
    part = slice(start, start + weather.days)
    changed = np.zeros(weather.days, dtype=bool)
    for name in FIELDS:
        new, old = getattr(weather, name), getattr(before, name)[part]
        changed |= ~np.isnan(new) & (new != old)
    fresh = empty_weather(weather.first_day, weather.days)
    for name in FIELDS:
        getattr(fresh, name)[changed] = getattr(weather, name)[changed]
    return fresh, _known_days(weather) - int(changed.sum())


def _known_days(weather: DailyWeather) -> int:
    values = np.array([getattr(weather, name) for name in FIELDS])
    return int((~np.isnan(values)).any(axis=0).sum())
