"""How first dry days and gallons are written in the outlook."""

from __future__ import annotations

from store.units import Units
from store.views.outlook import Outlook
from tui import words


def first_dry(found: Outlook) -> str:
    """The early, middle and late date, and the share of courses that never see it dry."""
    dates = (found.first_dry.low, found.first_dry.median, found.first_dry.high)
    known = [f"{words.day_month(day):6}" for day in dates if day is not None]
    if len(known) == len(dates):
        return " ".join(known)
    return " ".join([*known, f"not in {words.chance(1.0 - found.ever_dry_chance)}"])


def needed(found: Outlook, units: Units) -> str:
    """What would fill it on the top-up date, or that it is filled then."""
    if found.fill is not None:
        return f"brought {words.day_month(found.fill.on)}"
    if found.top_up_l is None:
        return words.UNKNOWN
    low, middle, high = (f"{units.volume(litres):.0f}" for litres in found.top_up_l)
    return f"{middle} ({low}-{high})"


def amount(volume_l: float | None, units: Units) -> str:
    return "to the rim" if volume_l is None else words.volume(volume_l, units)


def fill_words(volume_l: float | None, units: Units) -> str:
    return ("filled " if volume_l is None else "with ") + amount(volume_l, units)
