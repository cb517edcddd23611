"""What a check-in of one day needs: who is in service, what is in the log, what is likely."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from store.errors import BadValue
from store.model.known_levels import LevelNow, Levels
from store.model.levels import StationLevels
from store.model.snapshot import Snapshot
from store.records import Entry, GaugeReading, Reading, StationFacts
from store.units import Units
from store.water.geometry import below_rim_mm, tank_from_measures, volume_below_rim_l
from store.weather.readers.cells import LIMITS

SURPRISING_SHARE = 0.25
"""A reading this share of the depth off the model is pointed out (assumed): more than
judging a level by eye can be wrong."""


GAUGE_KEPT_D = 60
"""A gauge read no longer ago than this is one that somebody keeps (assumed)."""


def keeps_gauge(snapshot: Snapshot, tract_id: str, day: date) -> bool:
    """Whether somebody kept a tract's rain gauge about `day`."""
    days = [entry.day for entry in snapshot.gauges.get(tract_id, ())]
    return bool(days) and (day - max(days)).days <= GAUGE_KEPT_D


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


def water_was_brought(snapshot: Snapshot, station_id: str, day: date) -> bool:
    """Whether the log tells of a fill on that day, so that a level seen later is after it."""
    return any(fill.on == day for fill in snapshot.histories[station_id].fills)


def reading_entry(
    snapshot: Snapshot, station_id: str, day: date, *, after_work: bool
) -> Entry | None:
    """The level on coming, or after the work, that counts for a station's day: the last written."""
    return level_entry(snapshot.log.get(station_id, ()), station_id, day, after_work=after_work)


def level_entry(
    entries: Iterable[Entry], station_id: str, day: date, *, after_work: bool
) -> Entry | None:
    """The same of live entries about any station."""
    own = (
        entry
        for entry in entries
        if entry.day == day
        and isinstance(entry.fact, Reading)
        and entry.fact.station_id == station_id
        and entry.fact.after_work is after_work
    )
    return max(own, key=lambda entry: entry.entry_id, default=None)


def level_on(levels: Levels, station_id: str, day: date) -> LevelNow | None:
    """The level at the end of `day`, read or modeled; None where nobody can say."""
    own = levels.by_station.get(station_id)
    index = None if own is None else _index(own, day)
    if own is None or index is None:
        return None
    return own.at(index)


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


LEAST_OVER_L = 4.0
"""About a gallon; less is the error of the hand (assumed)."""


@dataclass(frozen=True)
class FillEffect:
    """A fill before it is made: the room there is, and the level after it.

    `over_l` would run over the rim.
    """

    room_l: float
    after_share: float
    after_below_rim_mm: float
    over_l: float

    @property
    def runs_over(self) -> bool:
        return self.over_l >= LEAST_OVER_L


def fill_effect(
    levels: Levels, facts: StationFacts, day: date, reading: Reading | None, volume_l: float | None
) -> FillEffect | None:
    """What so many litres do on top of what was found; None where nothing is known of it.

    `reading` is the level found that day, the model's if not given; `volume_l` None fills
    to the rim.
    """
    tank = tank_from_measures(facts.tank)
    if reading is not None:
        found_l = float(volume_below_rim_l(tank, reading.below_rim_of(facts.tank.depth_mm)))
    else:
        level = level_on(levels, facts.station_id, day)
        if level is None:
            return None
        found_l = level.volume_l
    room_l = max(tank.capacity_l - found_l, 0.0)
    after_l = tank.capacity_l if volume_l is None else min(found_l + volume_l, tank.capacity_l)
    return FillEffect(
        room_l=room_l,
        after_share=after_l / tank.capacity_l,
        after_below_rim_mm=float(below_rim_mm(tank, after_l)),
        over_l=max((volume_l or 0.0) - room_l, 0.0),
    )


def surprise(
    facts: StationFacts,
    reading: Reading,
    expected_mm: float | None,
    units: Units,
    *,
    filled: bool = False,
) -> str | None:
    """A sentence where a reading is far from the `expected_mm` below the rim, or None.

    A high one is none where a fill of that day is entered with it.
    """
    if expected_mm is None:
        return None
    lower_mm = reading.below_rim_of(facts.tank.depth_mm) - expected_mm
    if filled and lower_mm < 0.0:
        return None
    if not _is_far(lower_mm, facts):
        return None
    why = "a leak" if lower_mm > 0 else "a fill not in the log"
    seen_mm, inches = reading.below_rim_of(facts.tank.depth_mm), units.depth_name
    return (
        f"The model expected {units.depth(expected_mm):.1f} {inches} below the rim, not "
        f"{units.depth(seen_mm):.1f}: a typing error, or {why}?"
    )


def _is_far(apart_mm: float, facts: StationFacts) -> bool:
    return abs(apart_mm) > SURPRISING_SHARE * facts.tank.depth_mm


class FillDoubt(StrEnum):
    """What does not go together in a fill that is entered."""

    ORDER = "the level was seen after the fill"
    """Found so high, the tank had no use or no room for the water."""
    ROOM = "more than there is room for"


def fill_doubt(
    facts: StationFacts, reading: Reading | None, expected_mm: float | None, effect: FillEffect
) -> FillDoubt | None:
    """What to ask of a fill, and of the level entered with it, that do not go together."""
    if reading is None:
        return FillDoubt.ROOM if effect.runs_over else None
    lower_mm = reading.below_rim_of(facts.tank.depth_mm) - (expected_mm or 0.0)
    far_above = expected_mm is not None and lower_mm < 0.0 and _is_far(lower_mm, facts)
    return FillDoubt.ORDER if effect.runs_over or far_above else None


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
