"""Numbers, amounts and days as a person types them, read the same way everywhere."""

from __future__ import annotations

import calendar
import math
import re
from datetime import date, datetime, timedelta

from dateutil.parser import ParserError, parse

from store.errors import BadValue
from store.units import TYPED_UNITS, Quantity, Units

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?")
_DECIMAL_COMMA = re.compile(r"[+-]?\d*,\d{1,2}")
_PART = re.compile(
    r"""\s*([+-]?[\d.,]+)\s*([A-Za-z'"\u00b2/ ]*[A-Za-z'"\u00b2](?:2(?!\d))?)\.?\s*"""
)
"""A number with its unit behind it."""
_DEGREES = re.compile(r"([\d.,]+)\s*°?\s*([nsewNSEW])")
_IN_PARTS = frozenset({Quantity.DEPTH, Quantity.RAIN, Quantity.HEIGHT})
"""What is said in feet and inches."""
CLOSE_ENOUGH = 3e-4
"""A number is shown no finer than it takes to be this close, as a share of it."""
MOST_DECIMALS = 3
MOST_CHARACTERS = 40
"""No quantity of the trade takes more characters to write."""


def number_from(text: str) -> float:
    """A number, with a point or a comma before its decimals.

    `2,5` is two and a half; `2,500` could mean two things and is refused.

    Raises:
        BadValue: it is no number.
    """
    text = text.strip()
    if _DECIMAL_COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if len(text) <= MOST_CHARACTERS and _NUMBER.fullmatch(text):
        value = float(text)
        if math.isfinite(value):
            return value
    shown = text if len(text) <= MOST_CHARACTERS else f"{text[:MOST_CHARACTERS]}..."
    raise BadValue(f"{shown!r} is not a number; write digits with a point, as 36.5")


def amount_typed(text: str, quantity: Quantity, units: Units) -> float:
    """An amount in the unit it is stored in: `12`, `12 in`, `2 ft 6 in`, `30 cm`, `150 L`.

    Where no unit is typed, it is the one that `units` shows the quantity in.

    Raises:
        BadValue: it is no number, or the unit is none of this quantity.
    """
    known = TYPED_UNITS[quantity]
    parts = _parts(text)
    if not parts or (len(parts) > 1 and quantity not in _IN_PARTS):
        return number_from(text) * known[units.name_of(quantity).casefold()]
    if any(unit not in known for _, unit in parts):
        first: dict[float, str] = {}
        for name, stored in known.items():
            first.setdefault(stored, name)
        raise BadValue(f"{text.strip()!r} is not a number of {', '.join(first.values())}")
    return sum(number_from(number) * known[unit] for number, unit in parts)


def _parts(text: str) -> list[tuple[str, str]]:
    """Numbers and the units behind them; empty where the text is anything else."""
    parts, at = [], 0
    while found := _PART.match(text, at) if len(text) <= MOST_CHARACTERS else None:
        parts.append((found[1], " ".join(found[2].casefold().split())))
        at = found.end()
    return parts if at == len(text) else []


def as_typed(value: float | None) -> str:
    """A number the way a person would type it: no finer than makes a difference.

    What comes back from another unit a hair off, as 120.018, is shown as 120.
    """
    if value is None:
        return ""
    for decimals in range(MOST_DECIMALS + 1):
        if abs(round(value, decimals) - value) <= CLOSE_ENOUGH * abs(value):
            break
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def degrees_as_typed(value: float | None) -> str:
    """A latitude or longitude, to a tenth of a metre."""
    return "" if value is None else f"{value:.6f}".rstrip("0").rstrip(".")


def degrees_typed(text: str) -> float:
    """A latitude or longitude as 42.5, 42.5 N, 75 W or -75; south and west are negative.

    Raises:
        BadValue: it is none.
    """
    found = _DEGREES.fullmatch(text.strip())
    if found is None:
        return number_from(text)
    degrees = number_from(found[1])
    return -degrees if found[2] in "sSwW" else degrees


def day_from(text: str) -> date:
    """A day written as 2026-05-09.

    Raises:
        BadValue: it is none.
    """
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        shown = text if len(text) <= MOST_CHARACTERS else f"{text[:MOST_CHARACTERS]}..."
        raise BadValue(f"{shown!r} is not a date; write it as 2026-05-09") from None


def day_typed(text: str, today: date, *, ahead: bool = False) -> date:
    """A day as a person says it: today, yesterday, tomorrow, friday, oct 14, 10/5, 2026-05-09.

    A day without its year, and a weekday, is the nearest one up to today, or with `ahead`
    the nearest from tomorrow on. Of 10/5 the month comes first.

    Raises:
        BadValue: it is none.
    """
    wanted = " ".join(text.casefold().split())
    near = {"today": 0, "yesterday": -1, "tomorrow": 1}.get(wanted)
    if near is not None:
        return today + timedelta(days=near)
    for number, name in enumerate(calendar.day_name):
        if len(wanted) >= 3 and name.casefold().startswith(wanted):
            back = (today.weekday() - number) % 7
            return today + timedelta(days=7 - back) if ahead else today - timedelta(days=back)
    try:
        return date.fromisoformat(wanted)
    except ValueError:
        return _without_year(text, wanted, today, ahead=ahead)


def day_among(text: str, today: date, first: date, last: date, near: date | None = None) -> date:
    """A day from `first` to `last`, as a person says it; nothing typed is today.

    Where the year or the week is left open it is the last or the next one, whichever is nearer
    to the day `near`, or to today.

    Raises:
        BadValue: it is no day, or none from `first` to `last`.
    """
    if not text:
        return today
    meant = {day_typed(text, today), day_typed(text, today, ahead=True)}
    shown = [day for day in meant if first <= day <= last]
    if not shown:
        raise BadValue(f"{text!r} is not among the days shown; type one from {first} to {last}")
    return min(shown, key=lambda day: (abs(day - (near or today)), day))


def _without_year(text: str, wanted: str, today: date, *, ahead: bool) -> date:
    """A day parsed over several years: the one that fits, or the one year that was typed."""
    one, other = (_parsed(wanted, year, month) for year, month in ((2024, 1), (2028, 2)))
    if one is None or other is None or (one.month, one.day) != (other.month, other.day):
        shown = text if len(text) <= MOST_CHARACTERS else f"{text[:MOST_CHARACTERS]}..."
        raise BadValue(f"{shown!r} is not a date; write it as oct 14, friday or 2026-05-09")
    around = (_parsed(wanted, today.year + years, 1) for years in range(-4, 5))
    days = sorted({day for day in around if day is not None})
    if len(days) == 1:
        return days[0]
    if ahead:
        return next(day for day in days if day > today)
    return next(day for day in reversed(days) if day <= today)


def _parsed(wanted: str, year: int, month: int) -> date | None:
    """The day in that year, where the text names none; None where there is no such day."""
    if not any(sign.isdigit() for sign in wanted):
        return None
    try:
        return parse(wanted, default=datetime(year, month, month)).date()
    except (ParserError, OverflowError, ValueError, TypeError):
        return None
