"""Bring a file of stations, places, windows or log entries into a logbook, in one batch."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.logbook.places import places
from store.logbook.waiting_weather import using_waiting_weather
from store.records import MonthlyNormals
from store.transfer.contamination_sheet import read_contamination
from store.transfer.day_sheet import read_day_sheet
from store.transfer.log_sheets import read_chores, read_readings
from store.transfer.normals import read_normals
from store.transfer.places_file import read_places
from store.transfer.season_sheet import read_season
from store.transfer.sheets import Imported
from store.transfer.stations import read_stations


class SheetKind(StrEnum):
    STATIONS = "stations"
    READINGS = "readings"
    CHORES = "chores"
    CONTAMINATION = "contamination"
    NORMALS = "normals"
    SEASON = "season"
    PLACES = "places"
    SHEET = "sheet"


@dataclass(frozen=True)
class SheetImported:
    """How many entries were written, how many were there already, and warnings."""

    written: int
    known: int
    warnings: tuple[str, ...]


def import_sheet(
    logbook: Logbook,
    kind: SheetKind,
    path: Path,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> SheetImported:
    """Read a CSV and write what the logbook does not hold yet: both steps in one."""
    imported = read_import(logbook, kind, path, tract_name, latitude_deg)
    return keep_import(logbook, kind, path, imported)


def keep_import(logbook: Logbook, kind: SheetKind, path: Path, imported: Imported) -> SheetImported:
    """Write what was read from a CSV.

    Raises:
        Refused: an entry contradicts the logbook; nothing is written.
    """
    if imported.drafts:
        drafts = using_waiting_weather(logbook, imported.drafts)
        write(logbook, f"Import of {kind} from {path.name}", drafts)
    return SheetImported(len(imported.drafts), imported.known, imported.warnings)


def read_import(
    logbook: Logbook,
    kind: SheetKind,
    path: Path,
    tract_name: str | None = None,
    latitude_deg: float | None = None,
) -> Imported:
    """Read a CSV into drafts of what the logbook does not hold yet; nothing is written.

    `tract_name` and `latitude_deg` serve stations, as the tract of rows that name none
    and the latitude of tracts that are new, and normals, which belong to one tract.

    Raises:
        BadFile, BadLines: the file cannot be taken.
        NoTract: normals without a tract.
    """
    known, today = places(logbook), logbook.today
    match kind:
        case SheetKind.STATIONS:
            live = live_entries(logbook)
            new_id = logbook.new_id
            return read_stations(path, known, live, new_id, today, tract_name, latitude_deg)
        case SheetKind.READINGS:
            return read_readings(path, known, live_entries(logbook), today)
        case SheetKind.CHORES:
            return read_chores(path, known, live_entries(logbook), today)
        case SheetKind.CONTAMINATION:
            return read_contamination(path, known, live_entries(logbook), today, logbook.new_id)
        case SheetKind.SHEET:
            return read_day_sheet(path, known, live_entries(logbook), today)
        case SheetKind.PLACES:
            return read_places(path, known, today)
        case SheetKind.SEASON:
            latitudes = {key: tract.latitude_deg for key, tract in known.tracts.items()}
            return read_season(path, known, live_entries(logbook), latitudes, today)
        case SheetKind.NORMALS:
            live = live_entries(logbook, (MonthlyNormals,))
            new_id = logbook.new_id
            return read_normals(path, known, live, new_id, today, tract_name, latitude_deg)
