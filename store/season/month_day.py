"""Days and stretches of any year."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from dateutil.parser import ParserError, parse

from store.errors import BadValue


@dataclass(frozen=True, order=True)
class MonthDay:
    """A day of any year; 29 February falls on the 28th of a common year.

    Raises:
        BadValue: a day that no year has.
    """

    month: int
    day: int

    def __post_init__(self) -> None:
        try:
            date(2024, self.month, self.day)
        except ValueError as error:
            raise BadValue(
                f"Month {self.month}, day {self.day} is in no calendar; give a day that exists."
            ) from error

    def __str__(self) -> str:
        """As the logbook keeps it: 04-15."""
        return f"{self.month:02}-{self.day:02}"

    @property
    def words(self) -> str:
        """As a person reads it: 15 April."""
        return f"{self.day} {self.in_year(COMMON_YEAR):%B}"

    def in_year(self, year: int) -> date:
        try:
            return date(year, self.month, self.day)
        except ValueError:
            return date(year, self.month, self.day - 1)

    def in_season(self, year: int, starts: MonthDay) -> date:
        """The day in the season year that ends in `year` and starts on `starts`."""
        before = NEW_YEAR < starts <= self
        return self.in_year(year - 1 if before else year)

    def later(self, days: int) -> MonthDay:
        """So many days on, counted in a common year."""
        day = self.in_year(COMMON_YEAR) + timedelta(days=days)
        return MonthDay(day.month, day.day)


def month_day(text: str) -> MonthDay:
    """A day of any year, written as 04-15.

    Raises:
        BadValue: it is written otherwise, or no year has it.
    """
    month, _, day = text.strip().partition("-")
    if not (month.isdecimal() and day.isdecimal() and len(month) <= 2 and len(day) <= 2):
        raise BadValue(f"'{text}' is no day of the year; write month and day, as 04-15.")
    return MonthDay(int(month), int(day))


def month_days(text: str) -> tuple[MonthDay, MonthDay]:
    """Two days of any year as a person types them: 5 April to 2 May, 04-05 to 05-02.

    Raises:
        BadValue: they are not two days of the year.
    """
    parts = re.split(r"\s+(?:to|-)\s+", text.strip(), flags=re.IGNORECASE)
    if len(parts) != 2:
        raise BadValue(f"'{text.strip()}' are not two days; write them as 5 April to 2 May.")
    return _typed_month_day(parts[0]), _typed_month_day(parts[1])


def _typed_month_day(text: str) -> MonthDay:
    """A day read twice over different defaults, so that a missing month or a year shows."""
    if re.fullmatch(r"\d{1,2}-\d{1,2}", text):
        return month_day(text)
    defaults = datetime(2024, 1, 1), datetime(2028, 2, 2)
    try:
        one, other = (parse(text, default=default) for default in defaults)
    except (ParserError, OverflowError) as error:
        raise BadValue(f"'{text}' is no day of the year; write it as 5 April.") from error
    if (one.month, one.day) != (other.month, other.day) or one.year == other.year:
        raise BadValue(f"'{text}' is not a month and a day alone; write it as 5 April.")
    return MonthDay(one.month, one.day)


COMMON_YEAR = 2025
NEW_YEAR = MonthDay(1, 1)


@dataclass(frozen=True)
class Span:
    """A named stretch of any year, both ends included; it may run across New Year."""

    name: str
    first: MonthDay
    last: MonthDay

    def last_after(self, first: date) -> date:
        """The last day of the span that begins on `first`."""
        last = self.last.in_year(first.year)
        return last if last >= first else self.last.in_year(first.year + 1)
