"""Read typed texts field by field, keeping a sentence for each that is wrong."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import date

from store.errors import BadValue
from store.typed import day_typed, number_from


def as_typed(value: float | None) -> str:
    """A number the way a person would type it: no more than three decimals."""
    return "" if value is None else f"{value:.3f}".rstrip("0").rstrip(".")


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
        try:
            typed = number_from(text)
        except BadValue as error:
            self.wrong(key, f"{error}.")
            return None
        if typed <= above:
            self.wrong(key, f"It must be more than {above:g}, not {text}; measure again.")
            return None
        if typed < least or typed > most:
            self.wrong(key, f"It must be {_bounds(least, most)}, not {text}.")
            return None
        return stored(typed)

    def day(self, key: str, today: date, earliest: date) -> date | None:
        """A day as it was typed, from `earliest` to today."""
        text = self.text(key)
        if not text:
            return None
        try:
            day = day_typed(text, today)
        except BadValue as error:
            self.wrong(key, f"{error}.")
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
