"""How the dates of a fouled tank, and what they rest on, are written."""

from __future__ import annotations

from datetime import date

from rich.text import Text

from store.contamination.estimates import Choice, DateQuantiles
from store.model.recovery import EventRecovery
from store.vocabulary import Cause
from tui import words

NOT_BAILED = {Cause.SPILL: "Bailing a spill is for licensed practice."}
AGENCY_FIRST = "call the agency that takes spill reports"


def day(when: date | None, today: date) -> str:
    """A day in at most six characters."""
    return words.short_day(when, today, words.BEYOND)


def span(dates: DateQuantiles, today: date) -> str:
    """The range that holds the day in 80 of 100 cases."""
    if dates.low is None and dates.high is None:
        return words.OUT_OF_SIGHT
    low = day(dates.low, today)
    return f"{low} or later" if dates.high is None else f"{low} to {day(dates.high, today)}"


def clear_day(choice: Choice, today: date) -> str:
    """The day the water is clear; a rule of thumb does not know it."""
    if choice.chance is None and choice.clear.median is None:
        return words.UNKNOWN
    return day(choice.clear.median, today)


def signs_words(found: EventRecovery) -> list[Text]:
    """What the signs that were seen changed; nothing where none was seen."""
    if not found.event.signs:
        return []
    before, after = found.outlook.before_signs.used, found.outlook.waiting.used
    return [
        Text(
            f"In use again, without the signs seen: {words.plain_day(before.median)}; "
            f"with them: {words.plain_day(after.median)}."
        )
    ]


def times(rounds: int) -> str:
    """How often the tank is bailed and refilled, behind those words; nothing for once."""
    return {0: "", 1: "", 2: " twice"}.get(rounds, f" {rounds} times")


def basis_words(found: EventRecovery) -> str:
    return f"Reckoned by {found.outlook.basis}; {found.outlook.caveat}."
