"""Readings and chores from a CSV, as drafts for the log."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from store.errors import Problem
from store.logbook.places import Places
from store.records import Chore, Draft, Entry, Fact, Note, Reading, TankMeasures
from store.service import Service, services
from store.transfer.cells import LENGTH, VOLUME, Cells
from store.transfer.sheets import (
    CHORES,
    READINGS,
    Imported,
    Sheet,
    past_day,
    raise_problems,
    read_sheet,
    station_of,
)
from store.units import inches_from_mm
from store.vocabulary import ChoreKind, LevelMark, WhenRead

MOST_AT_ONCE = 2000.0
"""Gallons or litres in one cell above this are a slip of the pen (assumed)."""

RowToWhats = Callable[[Cells, str], list[Fact]]
"""Turns the cells of a row about a station into what the log should hold."""


def read_readings(path: Path, places: Places, live: Iterable[Entry], today: date) -> Imported:
    """Levels seen, as inches below the rim or by eye.

    Raises:
        BadFile: the file cannot be read or lacks a column.
        BadLines: any of its lines is rejected, a level under the bottom among them.
    """

    def whats(cells: Cells, station_id: str) -> list[Fact]:
        rejected_before = cells.rejected
        mark = cells.word("level", LevelMark)
        level_mm = below_rim_mm(cells, places.stations[station_id].tank)
        after_work = cells.word("when", WhenRead) is WhenRead.AFTER_WORK
        if cells.rejected > rejected_before:
            return []
        if (mark is None) == (level_mm is None):
            cells.reject("level", "give either a depth below the rim or a level by eye")
            return []
        return [Reading(station_id, level_mm, mark, after_work), *note_of(cells, station_id)]

    return read_log_sheet(path, READINGS, places, live, today, whats)


def read_chores(path: Path, places: Places, live: Iterable[Entry], today: date) -> Imported:
    """Work done at stations.

    Raises:
        BadFile, BadLines: as `read_readings`.
    """

    def whats(cells: Cells, station_id: str) -> list[Fact]:
        cells.text("chore", required=True)
        chore = cells.word("chore", ChoreKind)
        volume_l = cells.number("", VOLUME, most=MOST_AT_ONCE)
        if chore is None:
            return []
        return [Chore(station_id, chore, volume_l, cells.text("note"))]

    return read_log_sheet(path, CHORES, places, live, today, whats)


def read_log_sheet(
    path: Path,
    sheet: Sheet,
    places: Places,
    live: Iterable[Entry],
    today: date,
    whats_of: RowToWhats,
) -> Imported:
    """Rows of a date and a station with what each tells, less what the log holds.

    Raises:
        BadFile, BadLines: as `read_readings`.
    """
    table, warnings = read_sheet(path, sheet)
    entries = list(live)
    held = {(entry.day, entry.fact) for entry in entries}
    in_service = services(entries)
    problems: list[Problem] = []
    drafts: list[Draft] = []
    known = 0
    for row in table.rows:
        cells = Cells(row, problems)
        about, station = past_day(cells, today), station_of(cells, places)
        if station is not None and about is not None:
            service = in_service.get(station.station_id, Service())
            if service.is_before(about):
                name = places.label(station)
                cells.reject("date", f"{name} was installed on {service.installed}, after {about}")
        whats = whats_of(cells, station.station_id) if station else []
        for what in whats:
            if about is None:
                continue
            if (about, what) in held:
                known += 1
            else:
                held.add((about, what))
                drafts.append(Draft(about, what))
    raise_problems(path, problems)
    return Imported(tuple(drafts), known, warnings)


def below_rim_mm(cells: Cells, tank: TankMeasures) -> float | None:
    """The level of a row; None without one, or with the problem noted."""
    below_mm = cells.number("below_rim", LENGTH)
    if below_mm is not None and tank.is_under_bottom(below_mm):
        deep = f"{inches_from_mm(tank.depth_mm):.1f} in deep"
        cells.reject("below_rim", f"is under the bottom of a tank {deep}")
    return below_mm


def note_of(cells: Cells, station_id: str) -> list[Note]:
    """The note of a row, if there is one."""
    text = cells.text("note")
    return [Note(station_id, text)] if text else []
