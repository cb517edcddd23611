"""Dates: ISO as they stand, the rest only where there is one way to read them."""

from __future__ import annotations

from datetime import date

import pytest

from store.errors import BadFile, BadValue
from store.weather.files import DateOrder
from store.weather.readers.civil_dates import civil_date, date_reader

THE_DAY = date(2025, 3, 9)


@pytest.mark.parametrize(
    "text",
    [
        "2025-03-09",
        "20250309",
        "2025/03/09",
        "2025-3-9",
        "2025-03-09T00:00:00",
        "2025-03-09 00:00",
        "9 March 2025",
        "Mar 9, 2025",
        "09-Mar-2025",
    ],
)
def test_one_way_to_read(text: str) -> None:
    assert date_reader([text], None, "f")(text) == THE_DAY


@pytest.mark.parametrize(
    ("column", "text"),
    [(["09/03/2025", "31/03/2025"], "09/03/2025"), (["3/9/2025", "3/31/2025"], "3/9/2025")],
)
def test_order_is_decided_over_the_column(column: list[str], text: str) -> None:
    assert date_reader(column, None, "f")(text) == THE_DAY


def test_both_orders_are_refused() -> None:
    with pytest.raises(BadFile, match="mixes day-first and month-first"):
        date_reader(["31/03/2025", "3/31/2025"], None, "f")


def test_a_date_in_neither_order_decides_nothing() -> None:
    with pytest.raises(BadFile, match="state the date order"):
        date_reader(["32/13/2025"], None, "f")
    with pytest.raises(BadValue, match="not a day of the calendar"):
        date_reader(["32/13/2025"], DateOrder.DAY_FIRST, "f")("32/13/2025")


@pytest.mark.parametrize(
    "text", ["March 2025", "9 March", "09/03/25", "25-03-09", "tomorrow", "2025-13-01", "1", "?"]
)
def test_what_is_not_one_day(text: str) -> None:
    with pytest.raises(BadValue):
        date_reader([text], None, "f")(text)


@pytest.mark.parametrize("year", [0, 10_000, 2**31, 10**30])
def test_years_beyond_the_calendar_are_refused(year):
    with pytest.raises(BadValue, match="not a day of the calendar"):
        civil_date(year, 1, 1)
