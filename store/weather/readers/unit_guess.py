"""Which units a file is in when it does not say: by what the values rule out.

A daily-summaries file holds mm and C, or inches and F, or whole tenths, under
the same headings (NCEI, GHCN-Daily documentation of the order service).
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass

from store.errors import BadFile, BadValue
from store.weather.files import FileUnits
from store.weather.readers.cells import number

SHOWN = {
    FileUnits.METRIC: "metric (mm, C)",
    FileUnits.US: "us (inches, F)",
    FileUnits.TENTHS: "tenths (tenths of mm and C)",
}
HOTTEST_C = 50.0
COOLEST_YEAR_F = 50.0
"""A place whose warmest day of a whole year stays below 50 F (10 C) has no deer."""
COOLEST_YEAR_TENTHS = 135.0
HOTTEST_F = 135.0
"""The highest air temperature measured is 134 F (WMO extremes archive)."""
WETTEST_IN = 20.0
ENOUGH_AMOUNTS = 5
"""So many different amounts of rain tell whole numbers from decimals."""


@dataclass(frozen=True)
class Evidence:
    """The different texts seen in columns without a unit, and whether a year is covered."""

    rain: Collection[str]
    temperature: Collection[str]
    whole_year: bool


def ruled_out(evidence: Evidence) -> dict[FileUnits, str]:
    """The unit systems that the values contradict, each with the reason."""
    rain_texts, temperature_texts = _numbers(evidence.rain), _numbers(evidence.temperature)
    rain = [value for value in rain_texts.values() if value > 0.0]
    temperature = temperature_texts.values()
    hottest = max(temperature, default=math.nan)
    wettest = max(rain, default=math.nan)
    temperature_decimals = _any_point(temperature_texts)
    against: dict[FileUnits, str] = {}
    if hottest > HOTTEST_C:
        against[FileUnits.METRIC] = f"a high of {hottest:g} is not in C"
    elif _hundredths(rain) and (
        (not temperature_decimals and temperature)
        or (not temperature and evidence.whole_year and wettest < 10.0)
    ):
        against[FileUnits.METRIC] = "rain is written to hundredths, as inches are"
    if hottest > HOTTEST_F:
        against[FileUnits.US] = f"a high of {hottest:g} is not in F"
    elif wettest > WETTEST_IN:
        against[FileUnits.US] = f"{wettest:g} inches of rain in a day is not credible"
    elif temperature_decimals and hottest <= HOTTEST_C:
        against[FileUnits.US] = "temperatures have decimals and none is above 50"
    elif evidence.whole_year and hottest <= COOLEST_YEAR_F:
        against[FileUnits.US] = f"in F the year's highest would be {hottest:g}"
    elif len(rain) >= ENOUGH_AMOUNTS and all(value.is_integer() for value in rain):
        against[FileUnits.US] = "every amount of rain is a whole number"
    if temperature_decimals or _any_point(rain_texts):
        against[FileUnits.TENTHS] = "values have decimals"
    elif evidence.whole_year and hottest <= COOLEST_YEAR_TENTHS:
        against[FileUnits.TENTHS] = f"in tenths the year's highest would be {hottest / 10:g} C"
    return against


def guess_units(
    evidence: Evidence, labelled: Collection[FileUnits], file_name: str
) -> tuple[FileUnits, str]:
    """The one unit system left, with a sentence why.

    `labelled` are the systems that other columns of the file name in their heading.

    Raises:
        BadFile: none or several are left; the person has to say.
    """
    against = ruled_out(evidence)
    left = [units for units in FileUnits if units not in against]
    reasons = [f"not {units}: {reason}" for units, reason in against.items()]
    if len(labelled) == 1:
        left = [units for units in left if units in labelled]
        reasons.append("other columns name their unit")
    if len(left) != 1:
        choice = " or ".join(SHOWN[units] for units in left or FileUnits)
        why = f" ({'; '.join(reasons)})" if reasons else ""
        raise BadFile(
            f"{file_name} does not say its units and its values do not decide{why}; "
            f"state the units: {choice}."
        )
    return left[0], f"Units taken as {SHOWN[left[0]]}: {'; '.join(reasons)}."


def _numbers(texts: Collection[str]) -> dict[str, float]:
    """Cells that hold a number, and the number."""
    found = {}
    for text in texts:
        try:
            value = number(text)
        except BadValue:
            continue
        if not math.isnan(value):
            found[text] = value
    return found


def _any_point(texts: Collection[str]) -> bool:
    return any("." in text or "," in text for text in texts)


def _hundredths(values: Collection[float]) -> bool:
    return any(abs(value * 10.0 - round(value * 10.0)) > 1e-6 for value in values)
