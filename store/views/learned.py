"""What the readings taught about each station, in plain words with numbers and bands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from store.errors import BadValue
from store.model.known_levels import Levels
from store.model.snapshot import Snapshot
from store.records import SAME_DEPTH_MM, Entry, Reading, StationFacts
from store.units import Units
from store.water.learned import Learned, learned
from store.water.updating import ReadingCheck

WORTH_A_LOOK_MM_D = 1.0
"""A leak above this at its low estimate calls for a look; one below this at its high
estimate is none to speak of (assumed)."""


@dataclass(frozen=True)
class LearnedLine:
    """One thing learned; quantiles are 10, 50 and 90 percent.

    `taught_on` is the day of the reading that taught it most; None where readings did
    not tell it apart from what was assumed.
    """

    station: StationFacts
    parameter: str
    now: tuple[float, float, float]
    prior: tuple[float, float, float]
    taught_on: date | None
    text: str


@dataclass(frozen=True)
class DoubtedReading:
    """A reading the model finds hardly possible; it was doubted, not dropped.

    `entry_id` is that of its entry, None where an event told that the tank was dry.
    """

    station: StationFacts
    on: date
    text: str
    entry_id: str | None


def learned_lines(
    snapshot: Snapshot, levels: Levels, station_id: str
) -> tuple[tuple[LearnedLine, ...], tuple[DoubtedReading, ...]]:
    """What a station taught, and its doubted readings, oldest first.

    Raises:
        BadValue: the station has no level.
    """
    station = levels.of(station_id).station
    followed = levels.followed[station_id]

    def day_of(check: ReadingCheck) -> date:
        return station.first + timedelta(days=check.observation.day)

    counted = any(use.camera_per_day is not None for use in snapshot.histories[station_id].uses)
    found = []
    for one in learned(followed, 0):
        if one.parameter == "apron_yield" and station.tank_site.apron_m2 == 0.0:
            continue
        if one.parameter == "visit_l" and not counted:
            continue
        taught_on = None if one.taught_by is None else day_of(followed.checks[one.taught_by])
        text = _words(one, station.facts, snapshot.units)
        found.append(LearnedLine(station.facts, one.parameter, one.now, one.prior, taught_on, text))
    return tuple(found), doubted_readings(snapshot, levels, station_id)


def doubted_readings(
    snapshot: Snapshot, levels: Levels, station_id: str
) -> tuple[DoubtedReading, ...]:
    """The doubted readings of a station, oldest first; none where it has no level."""
    if station_id not in levels.by_station:
        return ()
    station = levels.of(station_id).station
    doubted = []
    for check in levels.followed[station_id].checks:
        if check.doubted:
            on = station.first + timedelta(days=check.observation.day)
            entry_id = _entry_of(check, on, station.tank.depth_mm, snapshot.log.get(station_id, ()))
            text = _doubt(check, station.tank.depth_mm, snapshot)
            doubted.append(DoubtedReading(station.facts, on, text, entry_id))
    return tuple(doubted)


def _entry_of(check: ReadingCheck, on: date, depth_mm: float, log: Sequence[Entry]) -> str | None:
    """The entry that a check is about; None for a dry tank that an event told of."""
    seen = check.observation
    for entry in log:
        if isinstance(entry.fact, Reading) and entry.day == on and entry.fact.mark == seen.mark:
            water_mm = depth_mm - entry.fact.below_rim_of(depth_mm)
            if seen.depth_mm is None or abs(seen.depth_mm - water_mm) < SAME_DEPTH_MM:
                return entry.entry_id
    return None


def _words(one: Learned, facts: StationFacts, units: Units) -> str:
    low, middle, high = one.now
    match one.parameter:
        case "apron_yield":
            return (
                f"The apron brings about {middle:.0%} of what its size suggests "
                f"({low:.0%} to {high:.0%})."
            )
        case "shelter":
            return (
                f"Evaporation is about {middle:.0%} of open water ({low:.0%} to {high:.0%}); "
                f"{facts.exposure.value} suggests {one.prior[1]:.0%}."
            )
        case "drinking":
            return f"Outside the rut animals drink {_times(one.now)} the average."
        case "rut":
            return f"In the rut animals drink {_times(one.now)} the average."
        case "rut_day":
            low_day, day, high_day = (_season_date(value) for value in one.now)
            return f"Use is highest about {day} ({low_day} to {high_day})."
        case "rut_width":
            return f"The weeks of most use are {_times(one.now)} as long as usual."
        case "visit_l":
            low_l, middle_l, high_l = (units.volume(value) for value in one.now)
            return (
                f"An animal on the camera takes about {middle_l:.1f} {units.volume_name} a visit "
                f"({low_l:.1f} to {high_l:.1f})."
            )
        case "leak_mm_d":
            low_d, middle_d, high_d = (units.depth(value) for value in one.now)
            if high < WORTH_A_LOOK_MM_D:
                return (
                    f"Loses next to nothing beyond evaporation ({low_d:.2f} to {high_d:.2f} "
                    f"{units.depth_name} a day)."
                )
            look = ": look for a crack" if low > WORTH_A_LOOK_MM_D else ""
            return (
                f"Loses {middle_d:.2f} {units.depth_name} a day more than evaporation explains "
                f"({low_d:.2f} to {high_d:.2f}){look}."
            )
        case "rain":
            return f"Gets {_times(one.now)} the rain of the record."
        case "snow_catch":
            return f"Catches {_times(one.now)} the snow of the record."
        case other:
            raise BadValue(f"There are no words for the parameter {other}.")


def _season_date(day: float) -> str:
    """A day of the season as a date of a year without a 29 February."""
    when = date(2023, 1, 1) + timedelta(days=round(day) - 1)
    return f"{when.day} {when:%B}"


def _times(now: tuple[float, float, float]) -> str:
    low, middle, high = now
    return f"about {middle:.1f} times ({low:.1f} to {high:.1f})"


def _doubt(check: ReadingCheck, depth_mm: float, snapshot: Snapshot) -> str:
    units = snapshot.units
    low, high = (units.depth(depth_mm - check.expected_depth_mm[end]) for end in (2, 0))
    seen = check.observation
    if seen.mark is not None:
        read = seen.mark.value
    else:
        below = units.depth(depth_mm - (seen.depth_mm or 0.0))
        read = f"{below:.1f} {units.depth_name} below the rim"
    expected = f"{low:.1f} to {high:.1f} {units.depth_name}"
    if check.contradicted:
        return f"Read {read}, against another reading of that day; one of them is wrong."
    why = (
        "a fill, drain or leak that is not in the log?"
        if check.unlogged > check.blunder
        else "a typing error, the wrong tank, or a leak?"
    )
    return f"Read {read} where {expected} was expected: {why}"
