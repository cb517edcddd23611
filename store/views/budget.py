"""Where the water of a station came from and went over a period; it must close."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from store.errors import BadValue
from store.model.known_levels import Levels
from store.model.levels import middle_run
from store.records import StationFacts
from store.water.accounts import budget
from store.water.balance import ChangeKind


@dataclass(frozen=True)
class StationBudget:
    """Litres from the evening before `first` to the evening of `last`.

    Of the middle course of the model: learned medians, and readings taken at their
    word. `corrected_l` is what the readings and the install added or took.
    """

    station: StationFacts
    first: date
    last: date
    start_l: float
    rain_l: float
    snow_l: float
    runoff_l: float
    brought_l: float
    evaporation_l: float
    leak_l: float
    drinking_l: float
    overflow_l: float
    taken_out_l: float
    corrected_l: float
    end_l: float

    @property
    def residual_l(self) -> float:
        """What is left over when everything is counted: rounding alone."""
        came = self.rain_l + self.snow_l + self.runoff_l + self.brought_l + self.corrected_l
        went = (
            self.evaporation_l + self.leak_l + self.drinking_l + self.overflow_l + self.taken_out_l
        )
        return self.start_l + came - went - self.end_l


def station_budget(levels: Levels, station_id: str, first: date, last: date) -> StationBudget:
    """The budget of one station.

    Raises:
        BadValue: the station has no level, or the period is not one it was modeled for.
    """
    station = levels.of(station_id).station
    if first > last:
        raise BadValue(f"The first day, {first}, is after the last, {last}; swap them.")
    if first < station.first or last > station.last:
        raise BadValue(
            f"{station.facts.name} is modeled from {station.first} to {station.last}; choose a "
            "period within that."
        )
    source, balance = middle_run(levels)
    column = source.stations.index(station)
    begin, end = source.index(first), source.index(last) + 1
    sums = budget(balance, begin, end)
    moved = dict.fromkeys(ChangeKind, 0.0)
    for applied in balance.applied:
        if applied.change.station == column and begin <= applied.change.day < end:
            moved[applied.change.kind] += float((applied.after_l - applied.before_l)[0])
    return StationBudget(
        station=station.facts,
        first=first,
        last=last,
        start_l=float(sums.start_l[column]),
        rain_l=float(sums.rain_l[column]),
        snow_l=float(sums.snow_l[column]),
        runoff_l=float(sums.runoff_l[column]),
        brought_l=moved[ChangeKind.ADD],
        evaporation_l=float(sums.evaporation_l[column]),
        leak_l=float(sums.leak_l[column]),
        drinking_l=float(sums.drinking_l[column]),
        overflow_l=float(sums.overflow_l[column]),
        taken_out_l=-moved[ChangeKind.DRAIN],
        corrected_l=moved[ChangeKind.SET],
        end_l=float(sums.end_l[column]),
    )


MIDDLE_COURSE = (
    "The budget is of the typical course of the model, with readings taken at their word; the "
    "level itself, with its band, may differ."
)

LINES: tuple[tuple[str, str], ...] = (
    ("at the start", "start_l"),
    ("+ rain into the opening", "rain_l"),
    ("+ snow into the opening", "snow_l"),
    ("+ runoff from the apron", "runoff_l"),
    ("+ brought by hand", "brought_l"),
    ("+ set by install and readings", "corrected_l"),
    ("- evaporated", "evaporation_l"),
    ("- leaked", "leak_l"),
    ("- drunk by animals", "drinking_l"),
    ("- spilled over the rim", "overflow_l"),
    ("- taken out by hand", "taken_out_l"),
    ("= at the end", "end_l"),
    ("left over (rounding)", "residual_l"),
)
"""Names of the lines of a budget, with the field each shows."""


class Period(StrEnum):
    THIS_YEAR = "this year so far"
    LAST_30_DAYS = "the last 30 days"
    LAST_YEAR = "last year"


def period_days(levels: Levels, station_id: str, period: Period, today: date) -> tuple[date, date]:
    """First and last day of a period, as far as the station was modeled in it.

    Raises:
        BadValue: the station has no level, or was not modeled on any of those days.
    """
    station = levels.of(station_id).station
    first, last = _calendar(period, today)
    begin, end = max(first, station.first), min(last, station.last)
    if begin > end:
        raise BadValue(
            f"{station.facts.name} is modeled from {station.first} to {station.last}, and so has "
            f"no budget for {period}; choose another period."
        )
    return begin, end


def _calendar(period: Period, today: date) -> tuple[date, date]:
    match period:
        case Period.THIS_YEAR:
            return date(today.year, 1, 1), today
        case Period.LAST_30_DAYS:
            return today - timedelta(days=29), today
        case Period.LAST_YEAR:
            return date(today.year - 1, 1, 1), date(today.year - 1, 12, 31)
