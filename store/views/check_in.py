"""What a check-in of one day needs: who is in service, what is in the log, what is likely."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from store.errors import BadValue
from store.model.levels import Levels, StationLevels
from store.model.snapshot import Snapshot
from store.records import Entry, GaugeReading, Reading, StationFacts
from store.units import Units
from store.views.overview import LevelNow, level_at
from store.weather.readers.cells import LIMITS

SURPRISING_SHARE = 0.25
"""A reading this share of the depth off the model is pointed out (assumed): more than
judging a level by eye can be wrong."""


def in_service(snapshot: Snapshot, day: date) -> tuple[StationFacts, ...]:
    """Stations whose tank stood in the ground on `day`, by tract and name.

    One that nothing in the log says to be installed is left out.
    """
    return tuple(
        facts
        for station_id, facts in snapshot.places.stations.items()
        if snapshot.histories[station_id].stood_on(day)
    )


def gauge_entry(entries: Iterable[Entry], tract_id: str, day: date) -> Entry | None:
    """The gauge reading that counts for a tract's day, of live entries as written."""
    found = None
    for entry in entries:
        what = entry.fact
        if isinstance(what, GaugeReading) and what.tract_id == tract_id and entry.day == day:
            found = entry
    return found


def reading_entry(snapshot: Snapshot, station_id: str, day: date) -> Entry | None:
    """The level reading that counts for a station's day: the one written last."""
    own = (
        entry
        for entry in snapshot.log.get(station_id, ())
        if entry.day == day and isinstance(entry.fact, Reading)
    )
    return max(own, key=lambda entry: entry.entry_id, default=None)


def level_on(levels: Levels, station_id: str, day: date) -> LevelNow | None:
    """The level at the end of `day`, read or modeled; None where nobody can say."""
    own = levels.by_station.get(station_id)
    index = None if own is None else _index(own, day)
    if own is None or index is None:
        return None
    return level_at(own, index)


def expected_below_rim_mm(levels: Levels, station_id: str, day: date) -> float | None:
    """What the model says of `day` without a reading of that day: then the day before."""
    own = levels.by_station.get(station_id)
    index = None if own is None else _index(own, day)
    if own is None or index is None:
        return None
    if own.read[index]:
        index -= 1
    return float(own.below_rim_mm[index]) if index >= 0 else None


def _index(levels: StationLevels, day: date) -> int | None:
    index = (day - levels.first_day).days
    return index if 0 <= index < len(levels.volume_l) else None


def surprise(
    facts: StationFacts, reading: Reading, expected_mm: float | None, units: Units
) -> str | None:
    """A sentence where a reading is far from the `expected_mm` below the rim, or None."""
    if expected_mm is None:
        return None
    lower_mm = reading.below_rim_of(facts.tank.depth_mm) - expected_mm
    if abs(lower_mm) <= SURPRISING_SHARE * facts.tank.depth_mm:
        return None
    why = "a leak" if lower_mm > 0 else "a fill not in the log"
    return (
        f"The model expected {units.depth(expected_mm):.1f} {units.depth_name} below the rim; "
        f"a typing error, or {why}?"
    )


def checked_below_rim_mm(facts: StationFacts, below_rim_mm: float, units: Units) -> float:
    """A measured level that the tank can have.

    Raises:
        BadValue: under the bottom of the tank.
    """
    depth_mm = facts.tank.depth_mm
    if facts.tank.is_under_bottom(below_rim_mm):
        name = units.depth_name
        raise BadValue(
            f"{units.depth(below_rim_mm):.1f} {name} below the rim is under the bottom: the tank "
            f"is {units.depth(depth_mm):.1f} {name} deep. Measure again."
        )
    return below_rim_mm


def checked_rain_mm(rain_mm: float, units: Units) -> float:
    """Rain of one day that can have fallen.

    Raises:
        BadValue: outside the limits of any day's rain.
    """
    low, high = LIMITS["rain_mm"]
    if not low <= rain_mm <= high:
        raise BadValue(
            f"{units.rain(rain_mm):g} {units.rain_name} of rain in a day is not possible; the "
            f"most is {units.rain(high):.0f} {units.rain_name}. Type it again."
        )
    return rain_mm
