"""Numbers and days as a person types them, read the same way in every field and file."""

from __future__ import annotations

import math
import re
from datetime import date

from store.errors import BadValue

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?")
_DECIMAL_COMMA = re.compile(r"[+-]?\d*,\d{1,2}")
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
