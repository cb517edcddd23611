"""Dates as people write them; day-first or month-first is decided over a whole column."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from datetime import date, datetime

from dateutil import parser as date_parser

from store.errors import BadFile, BadValue
from store.weather.files import DateOrder

FIRST_YEAR, LAST_YEAR = 1750, 2200
"""Years outside are taken for a slip; daily records begin in the 18th century."""

_MIDNIGHT = r"(?:[T ]0?0:00(?::00(?:\.0+)?)?Z?)?"
_ISO = re.compile(rf"(\d{{4}})([-/.]?)(\d{{2}})\2(\d{{2}}){_MIDNIGHT}")
_ISO_SHORT = re.compile(rf"(\d{{4}})([-/.])(\d{{1,2}})\2(\d{{1,2}}){_MIDNIGHT}")
_YEAR_LAST = re.compile(rf"(\d{{1,2}})([-/.])(\d{{1,2}})\2(\d{{4}}){_MIDNIGHT}")
_MONTH_NAMED = re.compile(r"(?=.*[A-Za-z]{3})(?=.*\b\d{4}\b)[\w ,.-]+")


def civil_date(year: int, month: int, day: int) -> date:
    """A date that exists and is near enough to have weather.

    Raises:
        BadValue: no such day, or a year out of all reason.
    """
    try:
        found = date(year, month, day)
    except (ValueError, OverflowError):
        raise BadValue(f"{year:04d}-{month:02d}-{day:02d} is not a day of the calendar") from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise BadValue(f"the year {year} is outside {FIRST_YEAR} to {LAST_YEAR}")
    return found


def date_reader(
    texts: Collection[str], order: DateOrder | None, file_name: str
) -> Callable[[str], date]:
    """A function from the text of a date cell to its date.

    Year-month-day is read as it stands, a named month by its name. Dates with the
    year last need an order: the one stated, else the only one in which dates of
    the column exist. The function raises `BadValue` with the reason.

    Raises:
        BadFile: the order has to be stated, or the column mixes both.
    """
    year_last = [match for text in texts if (match := _YEAR_LAST.fullmatch(text))]
    day_first = _day_first(year_last, order, file_name) if year_last else False

    def read(text: str) -> date:
        if match := _ISO.fullmatch(text) or _ISO_SHORT.fullmatch(text):
            return civil_date(int(match[1]), int(match[3]), int(match[4]))
        if match := _YEAR_LAST.fullmatch(text):
            first, second, year = int(match[1]), int(match[3]), int(match[4])
            return civil_date(year, second, first) if day_first else civil_date(year, first, second)
        if not text:
            raise BadValue("the date is blank")
        if _MONTH_NAMED.fullmatch(text):
            return _named_month(text)
        raise BadValue(f"{text!r} is not a date; write it as 2025-10-31")

    return read


def _day_first(year_last: list[re.Match[str]], order: DateOrder | None, file_name: str) -> bool:
    if order is not None:
        return order is DateOrder.DAY_FIRST
    only_day_first = [m[0] for m in year_last if int(m[1]) > 12 >= int(m[3])]
    only_month_first = [m[0] for m in year_last if int(m[3]) > 12 >= int(m[1])]
    if only_day_first and only_month_first:
        raise BadFile(
            f"{file_name} mixes day-first and month-first dates ({only_day_first[0]}, "
            f"{only_month_first[0]}); write them all as 2025-10-31."
        )
    if not only_day_first and not only_month_first:
        raise BadFile(
            f"{file_name} has dates such as {year_last[0][0]} that can be read day-first or "
            "month-first; state the date order."
        )
    return bool(only_day_first)


def _named_month(text: str) -> date:
    """Parsed against two defaults, so that a missing day or month is noticed."""
    try:
        found, again = (
            date_parser.parse(text, default=default)
            for default in (datetime(2000, 1, 1), datetime(2001, 2, 2))
        )
    except (ValueError, OverflowError):
        raise BadValue(f"{text!r} is not a date; write it as 2025-10-31") from None
    if found != again or found != datetime(found.year, found.month, found.day):
        raise BadValue(f"{text!r} is not one whole day; write it as 2025-10-31")
    return civil_date(found.year, found.month, found.day)
