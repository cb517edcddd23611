"""Stretches of days a water budget is drawn up for."""

from __future__ import annotations

from datetime import date, timedelta
from enum import StrEnum

from store.errors import BadValue
from store.model.levels import Levels


class Period(StrEnum):
    THIS_YEAR = "this year so far"
    LAST_30_DAYS = "the last 30 days"
    LAST_YEAR = "last year"


def period_days(levels: Levels, station_id: str, period: Period, today: date) -> tuple[date, date]:
    """First and last day of a period, as far as the station was modeled in it.

    Raises:
        BadValue: the station has no level, or was not modeled on any of those days.
    """
    if station_id not in levels.by_station:
        raise BadValue(levels.without.get(station_id, "That station has no level."))
    station = levels.by_station[station_id].station
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
