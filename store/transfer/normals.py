"""What the months of a tract are usually like, from a CSV with one line a month."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from store.errors import BadFile, NotFound, NoTract, Problem
from store.logbook.places import Places
from store.records import Draft, Entry, MonthlyNormals, TractFacts
from store.transfer.cells import COUNT, RAIN, TEMPERATURE, Cells, Convert
from store.transfer.sheets import NORMALS, Imported, raise_problems, read_sheet
from store.weather.readers.cells import LIMITS

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
MOST_RAIN_MM = 5000.0
MOST_WET_DAYS = 28.0
"""What the weather invented from normals can still follow."""


def read_normals(
    path: Path,
    places: Places,
    live: Iterable[Entry],
    new_id: Callable[[], str],
    today: date,
    tract_name: str | None,
    latitude_deg: float | None = None,
) -> Imported:
    """Read the twelve months of a tract, which is made if it is new.

    Months the logbook holds are revised where they differ. `latitude_deg` is given to
    a tract that has none.

    Raises:
        BadFile: the file cannot be read, or lacks a column or a month.
        BadLines: any of its lines is rejected.
        NoTract: no tract is named.
    """
    table, warnings = read_sheet(path, NORMALS)
    problems: list[Problem] = []
    months: dict[int, MonthlyNormals] = {}
    lines: dict[int, int] = {}
    for row in table.rows:
        cells = Cells(row, problems)
        month = _month(cells)
        if month is not None and lines.setdefault(month, row.line) != row.line:
            cells.reject("month", f"{MONTHS[month - 1]} stands on line {lines[month]} already")
        if (normals := _normals(cells, month)) is not None:
            months[normals.month] = normals
    raise_problems(path, problems)
    missing = [name for number, name in enumerate(MONTHS, 1) if number not in months]
    if missing:
        raise BadFile(
            f"{path.name} lacks {', '.join(missing)}; all twelve months are needed, so nothing "
            "was imported."
        )
    if tract_name is None or not tract_name.strip():
        raise NoTract("Monthly normals belong to one tract; say which tract the file is for.")
    tract, drafts, told = _tract(places, new_id, today, tract_name.strip(), latitude_deg)
    held = {
        entry.fact.month: entry
        for entry in live
        if isinstance(entry.fact, MonthlyNormals) and entry.fact.tract_id == tract.tract_id
    }
    known = 0
    for number, month_read in sorted(months.items()):
        what = replace(month_read, tract_id=tract.tract_id)
        before = held.get(number)
        if before is None:
            drafts.append(Draft(today, what))
        elif before.fact == what:
            known += 1
        else:
            drafts.append(Draft(today, what, revises=before.entry_id))
    return Imported(tuple(drafts), known, warnings + told)


def _tract(
    places: Places,
    new_id: Callable[[], str],
    today: date,
    name: str,
    latitude_deg: float | None,
) -> tuple[TractFacts, list[Draft], tuple[str, ...]]:
    """The tract, what has to be written of it, and what a person should be told."""
    try:
        tract = places.find_tract(name)
    except NotFound:
        tract = TractFacts(new_id(), name, latitude_deg)
        return tract, [Draft(today, tract)], ()
    if latitude_deg is None or latitude_deg == tract.latitude_deg:
        return tract, [], ()
    if tract.latitude_deg is not None:
        told = f"{tract.name} lies at {tract.latitude_deg:g} degrees already, which was kept."
        return tract, [], (told,)
    placed = replace(tract, latitude_deg=latitude_deg)
    return placed, [Draft(today, placed, revises=places.tract_entries[tract.tract_id])], ()


def _month(cells: Cells) -> int | None:
    """A month written 1 to 12, as January or as Jan."""
    text = cells.text("month", required=True)
    for number, name in enumerate(MONTHS, 1):
        if text.casefold() in (str(number), f"{number:02}", name.casefold(), name[:3].casefold()):
            return number
    if text:
        cells.reject("month", f"{text!r} is not a month; write 1 to 12 or its name, as April")
    return None


def _normals(cells: Cells, month: int | None) -> MonthlyNormals | None:
    """The normals of a line, for a tract still to be named; None if it was rejected."""
    rain_mm = _within(cells, "rain", RAIN, (0.0, MOST_RAIN_MM), "mm")
    wet_days = _within(cells, "wet_days", COUNT, (0.0, MOST_WET_DAYS), "days")
    tmin_c = _within(cells, "tmin", TEMPERATURE, LIMITS["tmin_c"], "C")
    tmax_c = _within(cells, "tmax", TEMPERATURE, LIMITS["tmax_c"], "C")
    if month is None or rain_mm is None or wet_days is None or tmin_c is None or tmax_c is None:
        return None
    if tmin_c > tmax_c:
        cells.reject("tmin", f"the low {tmin_c:.1f} C is above the high {tmax_c:.1f} C")
    if rain_mm > 0.0 and wet_days == 0.0:
        cells.reject("wet_days", "a month with rain has at least some wet days")
    return MonthlyNormals("", month, rain_mm, wet_days, tmin_c, tmax_c)


def _within(
    cells: Cells,
    stem: str,
    units: Mapping[str, Convert],
    limits: tuple[float, float],
    unit: str,
) -> float | None:
    """A quantity within limits in the stored unit; None with the problem noted."""
    rejected_before = cells.rejected
    value = cells.number(stem, units, least=-math.inf)
    low, high = limits
    if value is None and cells.rejected == rejected_before:
        cells.reject(stem, "is empty; fill it in")
    elif value is not None and not low <= value <= high:
        cells.reject(stem, f"is outside {low:g} to {high:g} {unit}")
        return None
    return value
