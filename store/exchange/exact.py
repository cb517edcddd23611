"""Write a quantity so that reading it again gives the stored number to the last digit."""

from __future__ import annotations

from collections.abc import Callable

from store.reports.report import Column, Measure, Where
from store.transfer.cells import AREA, LENGTH, VOLUME
from store.units import US_UNITS

DECIMALS = 12
Twins = tuple[float | None, float | None]
"""A quantity in US units, or where no number of those gives it exactly, as stored."""


def quantity(
    us: str, stored: str, heading: str, measure: Measure, where: Where = Where.PRINT
) -> tuple[Column, ...]:
    """The columns of a quantity: its twins in a file, and in print as it is read."""
    return (
        Column(us, where=Where.FILE),
        Column(stored, where=Where.FILE),
        Column(heading, heading, measure, digits=PRINTED[measure], where=where),
    )


PRINTED = {Measure.DEPTH: 1, Measure.VOLUME: 0, Measure.AREA: 0}
"""Decimals that a person needs of a quantity."""


def _twins(stored: float | None, shown: float, read: Callable[[float], float]) -> Twins:
    if stored is None:
        return None, None
    for digits in range(DECIMALS + 1):
        if read(round(shown, digits)) == stored:
            return round(shown, digits), None
    return None, stored


def inches_or_mm(mm: float | None) -> Twins:
    return _twins(mm, US_UNITS.depth(mm or 0.0), LENGTH["_in"])


def gallons_or_litres(litres: float | None) -> Twins:
    return _twins(litres, US_UNITS.volume(litres or 0.0), VOLUME["gallons"])


def ft2_or_m2(m2: float | None) -> Twins:
    return _twins(m2, US_UNITS.area(m2 or 0.0), AREA["_ft2"])
