"""Read typed texts field by field, keeping a sentence for each that is wrong."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from datetime import date

NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")


def as_typed(value: float | None) -> str:
    """A number the way a person would type it: no more than three decimals."""
    return "" if value is None else f"{value:.3f}".rstrip("0").rstrip(".")


def plain_number(text: str) -> float | None:
    """The number a text says in plain digits, or None."""
    value = float(text) if NUMBER.fullmatch(text) else math.inf
    return value if math.isfinite(value) else None


class FieldReader:
    """Typed texts by field; `problems` gathers one sentence a field.

    `kept` holds, by field, the text first shown and the stored value behind it: a
    text left as it was stands for exactly that value, not for its rounding.
    """

    def __init__(self, texts: Mapping[str, str], kept: Mapping[str, tuple[str, float]]) -> None:
        self.problems: dict[str, str] = {}
        self.missing: set[str] = set()
        """Fields whose only fault is that nothing was typed yet."""
        self._texts = texts
        self._kept = kept

    def text(self, key: str) -> str:
        return self._texts.get(key, "").strip()

    def wrong(self, key: str, sentence: str) -> None:
        self.problems.setdefault(key, sentence)

    def needed(self, key: str, sentence: str) -> str:
        """A text that may not be empty."""
        if not self.text(key):
            self.missing.add(key)
            self.wrong(key, sentence)
        return self.text(key)

    def number(
        self,
        key: str,
        stored: Callable[[float], float] = float,
        *,
        least: float = -math.inf,
        most: float = math.inf,
        above: float = -math.inf,
    ) -> float | None:
        """The number typed, turned into the stored unit; the bounds are as typed."""
        text = self.text(key)
        if not text:
            return None
        shown, value = self._kept.get(key, ("", math.nan))
        if text == shown:
            return value
        typed = plain_number(text)
        if typed is None:
            self.wrong(key, f"{text!r} is not a number; type digits with a point, as 36.5.")
            return None
        if typed <= above:
            self.wrong(key, f"It must be more than {above:g}, not {text}; measure again.")
            return None
        if typed < least or typed > most:
            self.wrong(key, f"It must be {_bounds(least, most)}, not {text}.")
            return None
        return stored(typed)

    def day(self, key: str, today: date, earliest: date) -> date | None:
        """A date typed as 2026-10-15, from `earliest` to today."""
        text = self.text(key)
        if not text:
            return None
        try:
            day = date.fromisoformat(text)
        except ValueError:
            self.wrong(key, f"{text!r} is not a date; type it as 2026-10-15.")
            return None
        if day > today:
            self.wrong(key, f"{day} is still to come; leave it empty until then.")
            return None
        if day < earliest:
            self.wrong(key, f"{day} is before {earliest}; correct the date.")
            return None
        return day


def _bounds(least: float, most: float) -> str:
    if math.isinf(most):
        return f"at least {least:g}"
    return f"at most {most:g}" if math.isinf(least) else f"from {least:g} to {most:g}"
