"""Which season a tract goes by: the default of its latitude, and what its keeper set.

Spring comes four days later with each degree of latitude north (Hopkins 1920, The
Bioclimatic Law, Mon. Wea. Rev. 48(6):355): raking and installs move by whole weeks. The rut
follows the length of the day and stays (common practice, no source). South of the equator
all of it is half a year apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta
from typing import Any

from store.errors import BadValue
from store.records import SeasonLimit, SeasonWindow, TractFacts
from store.season.month_day import COMMON_YEAR, MonthDay, Span, month_day
from store.season.windows import DEFAULT_SEASON, Season
from store.vocabulary import LimitKind, WindowKind

USUAL_LATITUDES_DEG = (39.0, 45.0)
"""Where raking is an April job and installs are one of early May (assumed)."""
SPRING_DAYS_PER_DEG = 4.0
MOST_WEEKS = 4
LONGEST_WINDOW_DAYS = 183
"""A window longer than this was typed the wrong way round."""
SOUTHERN_START = MonthDay(7, 1)
_OF_SPRING = (WindowKind.RAKE, WindowKind.INSTALL)
_PERCENT = 100.0
LIMIT_FIELDS = {
    LimitKind.FILL_BELOW: ("fill_below_share", 1.0 / _PERCENT),
    LimitKind.DRY_CHANCE: ("dry_chance_most", 1.0 / _PERCENT),
    LimitKind.VISIT_DAYS: ("visit_days", 1.0),
    LimitKind.RAMP_DAYS: ("ramp_days", 1.0),
}
"""The field of `Season` that a limit sets, and what its number is multiplied by."""


def default_season(latitude_deg: float | None) -> Season:
    """The season of a place before its keeper changes anything; None is the usual latitude."""
    if latitude_deg is None:
        return DEFAULT_SEASON
    south = latitude_deg < 0.0
    weeks = _spring_weeks(abs(latitude_deg))
    spans: dict[str, Any] = {}
    for kind in WindowKind:
        span = DEFAULT_SEASON.span(kind)
        days = 7 * weeks if kind in _OF_SPRING else 0
        first, last = span.first.later(days), span.last.later(days)
        if south:
            first, last = _half_a_year_on(first), _half_a_year_on(last)
        spans[kind.name.lower()] = span if span.first == first else span_of(kind, first, last)
    return replace(DEFAULT_SEASON, **spans, starts=SOUTHERN_START if south else MonthDay(1, 1))


def tract_season(
    tract: TractFacts, facts: Iterable[SeasonWindow | SeasonLimit], latitude_deg: float | None
) -> Season:
    """The season of a tract: its default with the windows and limits set, oldest first.

    Raises:
        BadValue: they contradict each other.
    """
    changes: dict[str, Any] = {}
    for fact in facts:
        if fact.tract_id != tract.tract_id:
            continue
        match fact:
            case SeasonWindow(window=kind, first=first, last=last):
                changes[kind.name.lower()] = span_of(kind, month_day(first), month_day(last))
            case SeasonLimit(limit=limit, value=value):
                name, factor = LIMIT_FIELDS[limit]
                changes[name] = value * factor
    return replace(default_season(latitude_deg), **changes)


def limit_of(season: Season, limit: LimitKind) -> float:
    """A limit of a season in the unit its keeper sets it in."""
    name, factor = LIMIT_FIELDS[limit]
    return float(getattr(season, name)) / factor


def span_of(kind: WindowKind, first: MonthDay, last: MonthDay) -> Span:
    """A window of these days, named by the part of the year it lies in.

    Raises:
        BadValue: it is longer than half a year.
    """
    begins = first.in_year(COMMON_YEAR)
    named = _NAMES.get(kind)
    name = DEFAULT_SEASON.span(kind).name if named is None else named(first, last)
    span = Span(name, first, last)
    days = (span.last_after(begins) - begins).days + 1
    if days > LONGEST_WINDOW_DAYS:
        raise BadValue(
            f"{name} would last {days} days, from {first} to {last}; swap its days, or give "
            "half a year at most."
        )
    return span


def _raking(first: MonthDay, _last: MonthDay) -> str:
    return f"{_month(first)} raking"


def _installs(first: MonthDay, _last: MonthDay) -> str:
    return f"{_month(first)} installs, soil still moist"


def _ready(_first: MonthDay, last: MonthDay) -> str:
    return f"Ready by {_part(last)} {_month(last)}"


def _fill(first: MonthDay, last: MonthDay) -> str:
    begins = first.in_year(COMMON_YEAR)
    days = (last.in_year(COMMON_YEAR) - begins).days % 365
    middle = first.later(days // 2)
    return f"{_part(middle).capitalize()}-{_month(middle)} fill"


_NAMES = {
    WindowKind.RAKE: _raking,
    WindowKind.INSTALL: _installs,
    WindowKind.READY: _ready,
    WindowKind.FILL: _fill,
}


def _month(day: MonthDay) -> str:
    return f"{day.in_year(COMMON_YEAR):%B}"


def _part(day: MonthDay) -> str:
    return ("early", "mid", "late")[min((day.day - 1) // 10, 2)]


def _spring_weeks(latitude_deg: float) -> int:
    low, high = USUAL_LATITUDES_DEG
    beyond_deg = latitude_deg - min(max(latitude_deg, low), high)
    weeks = round(SPRING_DAYS_PER_DEG * beyond_deg / 7.0)
    return min(max(weeks, -MOST_WEEKS), MOST_WEEKS)


def _half_a_year_on(day: MonthDay) -> MonthDay:
    month = (day.month + 5) % 12 + 1
    last = (MonthDay(month % 12 + 1, 1).in_year(COMMON_YEAR) - timedelta(days=1)).day
    return MonthDay(month, min(day.day, last))
