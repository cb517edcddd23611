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


@dataclass(frozen=True)
class _Values:
    """What the evidence amounts to; the highest values are NaN where there are none."""

    rain: tuple[float, ...]
    hottest: float
    wettest: float
    rain_decimals: bool
    temperature_decimals: bool
    whole_year: bool

    @property
    def has_temperature(self) -> bool:
        return not math.isnan(self.hottest)


def ruled_out(evidence: Evidence) -> dict[FileUnits, str]:
    """The unit systems that the values contradict, each with the reason."""
    values = _values(evidence)
    against = {
        FileUnits.METRIC: _against_metric(values),
        FileUnits.US: _against_us(values),
        FileUnits.TENTHS: _against_tenths(values),
    }
    return {units: reason for units, reason in against.items() if reason is not None}


def _values(evidence: Evidence) -> _Values:
    rain_texts, temperature_texts = _numbers(evidence.rain), _numbers(evidence.temperature)
    rain = tuple(value for value in rain_texts.values() if value > 0.0)
    return _Values(
        rain=rain,
        hottest=max(temperature_texts.values(), default=math.nan),
        wettest=max(rain, default=math.nan),
        rain_decimals=_any_point(rain_texts),
        temperature_decimals=_any_point(temperature_texts),
        whole_year=evidence.whole_year,
    )


def _against_metric(values: _Values) -> str | None:
    if values.hottest > HOTTEST_C:
        return f"a high of {values.hottest:g} is not in C"
    whole_degrees = values.has_temperature and not values.temperature_decimals
    dry_year = not values.has_temperature and values.whole_year and values.wettest < 10.0
    if _hundredths(values.rain) and (whole_degrees or dry_year):
        return "rain is written to hundredths, as inches are"
    return None


def _against_us(values: _Values) -> str | None:
    if values.hottest > HOTTEST_F:
        return f"a high of {values.hottest:g} is not in F"
    if values.wettest > WETTEST_IN:
        return f"{values.wettest:g} inches of rain in a day is not credible"
    if values.temperature_decimals and values.hottest <= HOTTEST_C:
        return "temperatures have decimals and none is above 50"
    if values.whole_year and values.hottest <= COOLEST_YEAR_F:
        return f"in F the year's highest would be {values.hottest:g}"
    if len(values.rain) >= ENOUGH_AMOUNTS and all(value.is_integer() for value in values.rain):
        return "every amount of rain is a whole number"
    return None


def _against_tenths(values: _Values) -> str | None:
    if values.temperature_decimals or values.rain_decimals:
        return "values have decimals"
    if values.whole_year and values.hottest <= COOLEST_YEAR_TENTHS:
        return f"in tenths the year's highest would be {values.hottest / 10:g} C"
    return None


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
