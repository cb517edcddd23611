"""Read typed texts field by field, keeping a sentence for each that is wrong."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import date

from store.errors import BadValue
from store.typed import amount_typed, day_typed, degrees_typed, number_from
from store.units import Quantity, Units


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

    def number(self, key: str, *, least: float = -math.inf, most: float = math.inf) -> float | None:
        """The number typed, which has no unit, from `least` to `most`."""
        return self._within(key, number_from, lambda value: value, least, most)

    def degrees(self, key: str, *, least: float, most: float) -> float | None:
        """The latitude or longitude typed, south and west negative or with their letter."""
        return self._within(key, degrees_typed, lambda value: value, least, most)

    def amount(
        self,
        key: str,
        quantity: Quantity,
        units: Units,
        *,
        least: float = -math.inf,
        most: float = math.inf,
        above: float = -math.inf,
    ) -> float | None:
        """The amount typed, in the unit it is stored in; the bounds are in the shown unit."""

        def read(text: str) -> float:
            return amount_typed(text, quantity, units)

        def shown(stored: float) -> float:
            return units.shown(quantity, stored)

        return self._within(key, read, shown, least, most, above)

    def _within(
        self,
        key: str,
        read: Callable[[str], float],
        shown: Callable[[float], float],
        least: float,
        most: float,
        above: float = -math.inf,
    ) -> float | None:
        text = self.text(key)
        if not text:
            return None
        first, stored = self._kept.get(key, ("", math.nan))
        if text == first:
            return stored
        try:
            value = read(text)
        except BadValue as error:
            self.wrong(key, f"{error}.")
            return None
        if shown(value) <= above:
            self.wrong(key, f"It must be more than {above:g}, not {text}; measure again.")
            return None
        if not least <= shown(value) <= most:
            self.wrong(key, f"It must be {_bounds(least, most)}, not {text}.")
            return None
        return value

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
