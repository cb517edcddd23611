"""The published lists of GHCN-Daily stations, and those near a place.

Layout: GHCN-Daily readme (NOAA NCEI), section IV for ghcnd-stations.txt and section VII
for ghcnd-inventory.txt: fixed columns, whose numbers stand beside each slice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from heapq import nsmallest
from pathlib import Path

from store.errors import BadFile
from store.haul.distance import Place, distance_km
from store.plain_text import without_controls

ID = slice(0, 11)
LATITUDE, LONGITUDE = slice(12, 20), slice(21, 30)
ELEVATION, STATE, NAME = slice(31, 37), slice(38, 40), slice(41, 71)
"""Columns of the list of stations: 1-11, 13-20, 22-30, 32-37, 39-40, 42-71."""
ELEMENT, FIRST_YEAR, LAST_YEAR = slice(31, 35), slice(36, 40), slice(41, 45)
"""Columns of the inventory, which begins as the list does: 32-35, 37-40, 42-45."""
NEEDED = ("PRCP", "TMAX", "TMIN")
"""Rain, and the highs and lows that evaporation is reckoned from."""
NO_ELEVATION_M = -999.9
SHARE_OF_BAD_LINES = 0.01
"""More of them, and it is no list of stations."""
POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True)
class NearStation:
    """A station that measures all that is needed, and the years in which it did.

    `first_year` and `last_year` bound the years that rain, highs and lows have in common;
    within them days may be missing. `way` is the point of the compass it lies towards.
    """

    station_id: str
    name: str
    place: Place
    elevation_m: float | None
    distance_km: float
    way: str
    first_year: int
    last_year: int


@dataclass
class _Covered:
    place: Place
    years: dict[str, tuple[int, int]] = field(default_factory=dict)


def stations_near(
    stations: Path, inventory: Path, place: Place, count: int, since: int
) -> list[NearStation]:
    """The `count` nearest stations with rain, highs and lows up to the year `since` or later.

    Raises:
        BadFile: a list cannot be read, or is none.
    """
    reaching = (
        (station_id, first, last, distance_km(place, covered.place), covered.place)
        for station_id, covered in _inventory(inventory).items()
        for first, last in _common(covered)
        if last >= since
    )
    nearest = nsmallest(count, reaching, key=lambda one: (one[3], one[0]))
    told = _told(stations, {one[0] for one in nearest})
    return [
        NearStation(
            station_id=station_id,
            name=told.get(station_id, ("", None))[0],
            place=there,
            elevation_m=told.get(station_id, ("", None))[1],
            distance_km=away_km,
            way=compass_point(place, there),
            first_year=first,
            last_year=last,
        )
        for station_id, first, last, away_km, there in nearest
    ]


def compass_point(one: Place, other: Place) -> str:
    """The point of the compass in which `other` lies: the course a great circle begins with."""
    north, other_north = math.radians(one.latitude_deg), math.radians(other.latitude_deg)
    across = math.radians(other.longitude_deg - one.longitude_deg)
    east = math.sin(across) * math.cos(other_north)
    up = math.cos(north) * math.sin(other_north) - math.sin(north) * math.cos(
        other_north
    ) * math.cos(across)
    turn = math.degrees(math.atan2(east, up)) / 360.0 * len(POINTS)
    return POINTS[round(turn) % len(POINTS)]


def _common(covered: _Covered) -> Iterator[tuple[int, int]]:
    """The years all elements have in common, where they have any."""
    if len(covered.years) == len(NEEDED):
        first = max(first for first, _ in covered.years.values())
        last = min(last for _, last in covered.years.values())
        if first <= last:
            yield first, last


def _inventory(path: Path) -> dict[str, _Covered]:
    """What each station covers of the elements needed."""
    found: dict[str, _Covered] = {}
    read = bad = 0
    for line in _lines(path):
        element = line[ELEMENT]
        read += 1
        if element not in NEEDED:
            bad += not element.strip()
            continue
        try:
            years = int(line[FIRST_YEAR]), int(line[LAST_YEAR])
            place = Place(float(line[LATITUDE]), float(line[LONGITUDE]))
        except ValueError:
            bad += 1
            continue
        found.setdefault(line[ID], _Covered(place)).years[element] = years
    if not found or bad > SHARE_OF_BAD_LINES * read:
        raise BadFile(
            f"{path.name} is no inventory of GHCN-Daily stations; check where it came from, and "
            "fetch it again."
        )
    return found


def _told(path: Path, wanted: set[str]) -> dict[str, tuple[str, float | None]]:
    """Name, with its state, and elevation in metres of the stations wanted."""
    found: dict[str, tuple[str, float | None]] = {}
    for line in _lines(path):
        if line[ID] in wanted:
            name = ", ".join(filter(None, (line[NAME].strip(), line[STATE].strip())))
            found[line[ID]] = without_controls(name), _elevation_m(line[ELEVATION])
    return found


def _elevation_m(text: str) -> float | None:
    try:
        elevation_m = float(text)
    except ValueError:
        return None
    return None if elevation_m <= NO_ELEVATION_M or math.isnan(elevation_m) else elevation_m


def _lines(path: Path) -> Iterator[str]:
    try:
        with path.open(encoding="utf-8", errors="replace") as file:
            yield from file
    except OSError as error:
        raise BadFile(f"{path} cannot be read: {error.strerror}; fetch it again.") from error
