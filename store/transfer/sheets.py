"""The columns of each CSV that can be imported, and the checks they share."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from store.csv_text import Table, read_table
from store.errors import BadFile, BadLines, NotFound, Problem
from store.logbook.places import Places
from store.records import Draft, StationFacts
from store.transfer.cells import Cells


@dataclass(frozen=True)
class Sheet:
    """What one kind of CSV holds: `needed` lists alternatives, one of each must exist."""

    kind: str
    needed: tuple[tuple[str, ...], ...]
    optional: tuple[str, ...]

    @property
    def columns(self) -> frozenset[str]:
        return frozenset(name for names in self.needed for name in names) | set(self.optional)


@dataclass(frozen=True)
class Imported:
    """Drafts read from a file, what was passed over as already known, and warnings."""

    drafts: tuple[Draft, ...]
    known: int
    warnings: tuple[str, ...]


def _lengths(*stems: str) -> tuple[str, ...]:
    return tuple(f"{stem}_{unit}" for stem in stems for unit in ("in", "cm", "mm"))


STATIONS = Sheet(
    "stations",
    (("station",), ("shape",)),
    (
        "tract",
        *_lengths("length", "width", "diameter", "depth", "rim_above_ground"),
        *_lengths("bottom_length", "bottom_width", "bottom_diameter"),
        "apron_area_ft2",
        "apron_area_m2",
        "apron_surface",
        "exposure",
        "access",
        "expected_use",
        "latitude",
        "longitude",
        "installed",
        "bear_country",
        "directions",
        "depth_volume_in_gal",
        "depth_volume_mm_l",
    ),
)
READINGS = Sheet(
    "readings",
    (("date",), ("station",), ("below_rim_in", "below_rim_cm", "below_rim_mm", "level")),
    ("when", "note"),
)
CHORES = Sheet(
    "chores", (("date",), ("station",), ("chore",)), ("gallons", "litres", "liters", "note")
)
DAY_SHEET = Sheet(
    "sheet",
    (("date",), ("station",)),
    (
        *_lengths("below_rim"),
        "use",
        "ramp",
        "gallons",
        "litres",
        "liters",
        "done",
        "note",
    ),
)
CONTAMINATION = Sheet(
    "contamination",
    (("date",), ("station",), ("cause",)),
    ("action", "gallons", "litres", "liters", "note"),
)
NORMALS = Sheet(
    "normals",
    (
        ("month",),
        ("rain_mm", "rain_in"),
        ("wet_days",),
        ("tmin_c", "tmin_f"),
        ("tmax_c", "tmax_f"),
    ),
    (),
)
SEASON = Sheet("season", (("tract",), ("window",), ("first",), ("last",)), ())


def read_sheet(path: Path, sheet: Sheet) -> tuple[Table, tuple[str, ...]]:
    """A table with the columns a sheet needs, and warnings about those it does not know.

    Raises:
        BadFile: as `read_table`, a needed column is missing, or there are no rows.
    """
    table = read_table(path)
    for names in sheet.needed:
        if not set(names) & set(table.columns):
            raise BadFile(
                f"{path.name} has no column {' or '.join(names)}; its header reads "
                f"{', '.join(table.columns)}. It may have "
                f"{', '.join(sorted(sheet.columns))}; rename them."
            )
    if not table.rows:
        raise BadFile(f"{path.name} has a header but no rows; nothing was imported.")
    unknown = [name for name in table.columns if name not in sheet.columns]
    warnings = (f"{path.name}: passed over unknown columns {', '.join(unknown)}.",)
    return table, warnings if unknown else ()


def raise_problems(path: Path, problems: list[Problem]) -> None:
    """Refuse a whole file if any line of it was rejected.

    Raises:
        BadLines: there are problems.
    """
    if problems:
        raise BadLines(path, problems)


def station_of(cells: Cells, places: Places) -> StationFacts | None:
    """The station a row names, or None with the problem noted."""
    name = cells.text("station", required=True)
    if not name:
        return None
    try:
        return places.find_station(name)
    except NotFound as error:
        cells.reject("station", str(error).rstrip("."))
        return None


def past_day(cells: Cells, today: date) -> date | None:
    """The date of a row, with the problem noted where it is still to come."""
    about = cells.day("date")
    if about is not None and about > today:
        cells.reject("date", f"{about} is still to come")
    return about
