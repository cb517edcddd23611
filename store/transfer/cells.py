"""Read one row of a CSV cell by cell, collecting what is wrong instead of stopping."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum
from typing import TypeVar

from store.csv_text import Row
from store.errors import BadValue, Problem
from store.typed import day_from, number_from
from store.units import (
    celsius_from_fahrenheit,
    litres_from_gallons,
    m2_from_ft2,
    mm_from_inches,
)

Convert = Callable[[float], float]
Word = TypeVar("Word", bound=StrEnum)

LENGTH: Mapping[str, Convert] = {
    "_in": mm_from_inches,
    "_cm": lambda cm: cm * 10.0,
    "_mm": lambda mm: mm,
}
AREA: Mapping[str, Convert] = {"_ft2": m2_from_ft2, "_m2": lambda m2: m2}
VOLUME: Mapping[str, Convert] = {
    "gallons": litres_from_gallons,
    "litres": lambda litres: litres,
    "liters": lambda litres: litres,
}
RAIN: Mapping[str, Convert] = {"_mm": lambda mm: mm, "_in": mm_from_inches}
TEMPERATURE: Mapping[str, Convert] = {"_c": lambda celsius: celsius, "_f": celsius_from_fahrenheit}
COUNT: Mapping[str, Convert] = {"": lambda count: count}
DEGREES: Mapping[str, Convert] = {"": lambda degrees: degrees}

SAME = 0.02
SAME_NEAR_ZERO = 0.1
"""Twins in other units agree within this share of each other, for rounding; near zero,
where a share means nothing, within this much."""

YES = frozenset({"yes", "y", "true", "1", "x"})
NO = frozenset({"no", "n", "false", "0", ""})


class Cells:
    """The cells of one row; every method notes a `Problem` and returns None if it cannot."""

    def __init__(self, row: Row, problems: list[Problem]) -> None:
        self.rejected = 0
        """How many problems this row has so far."""
        self._row = row
        self._problems = problems
        if "" in row.cells:
            self.reject("", row.cells[""])

    def reject(self, field: str, reason: str) -> None:
        self.rejected += 1
        self._problems.append(Problem(self._row.line, field, reason))

    def text(self, name: str, *, required: bool = False) -> str:
        value = self._row.cells.get(name, "")
        if required and not value:
            self.reject(name, "is empty; fill it in")
        return value

    def number(
        self,
        stem: str,
        units: Mapping[str, Convert],
        *,
        least: float = 0.0,
        most: float = math.inf,
        above_least: bool = False,
        most_kept: float = math.inf,
    ) -> float | None:
        """A quantity from the column `stem` + unit that is filled in, converted.

        `least` and `most` bound the number as written, `most_kept` what it is converted to,
        beyond which it is a slip. Two columns may be filled in
        as long as they say the same.
        """
        found: list[tuple[str, float]] = []
        for suffix, convert in units.items():
            name = stem + suffix
            text = self.text(name)
            if not text:
                continue
            try:
                value = number_from(text)
            except BadValue as error:
                self.reject(name, f"{error}, without unit")
                return None
            if value < least or value > most or (above_least and value == least):
                self.reject(name, f"{text} is not possible; {_bounds(least, most, above_least)}")
                return None
            if convert(value) > most_kept:
                self.reject(name, f"{text} is too much; check its unit and its point")
                return None
            found.append((name, convert(value)))
        if any(
            not math.isclose(value, found[0][1], rel_tol=SAME, abs_tol=SAME_NEAR_ZERO)
            for _, value in found[1:]
        ):
            names = " and ".join(name for name, _ in found)
            self.reject(found[0][0], f"{names} contradict each other; fill in one of them")
            return None
        return found[0][1] if found else None

    def word(self, name: str, words: type[Word]) -> Word | None:
        """One of a set of words; None where the cell is empty."""
        text = self.text(name)
        if not text:
            return None
        wanted = " ".join(text.casefold().replace("_", " ").replace("-", " ").split())
        for word in words:
            if word.value.replace("-", " ") == wanted:
                return word
        self.reject(name, f"{text!r} is not one of {', '.join(word.value for word in words)}")
        return None

    def yes(self, name: str) -> bool:
        text = self.text(name).casefold()
        if text not in YES | NO:
            self.reject(name, f"{text!r} is neither yes nor no")
        return text in YES

    def day(self, name: str, *, required: bool = True) -> date | None:
        """An ISO 8601 calendar date, as 2026-05-09."""
        text = self.text(name, required=required)
        if not text:
            return None
        try:
            return day_from(text)
        except BadValue as error:
            self.reject(name, str(error))
            return None


def _bounds(least: float, most: float, above_least: bool) -> str:
    low = f"more than {least:g}" if above_least else f"at least {least:g}"
    return f"it must be {low}" + ("" if math.isinf(most) else f" and at most {most:g}")
