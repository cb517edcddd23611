"""One cell of a weather file: missing, trace, a number with its unit, or a reason why not."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cache

from store import units
from store.errors import BadValue
from store.typed import number_from

MISSING = frozenset({"", "m", "na", "n/a", "nan", "null", "-"})
"""Cells that say nothing was observed; so does the number -9999, the GHCN-Daily code."""

TRACE = frozenset({"t", "trace"})
MISSING_NUMBER = -9999.0

LIMITS: Mapping[str, tuple[float, float]] = {
    "rain_mm": (0.0, 2000.0),
    "tmin_c": (-90.0, 60.0),
    "tmax_c": (-90.0, 60.0),
    "humidity_pct": (0.0, 100.0),
    "dewpoint_c": (-90.0, 60.0),
    "wind_m_s": (0.0, 100.0),
    "sun_mj_m2": (0.0, 50.0),
}
"""Outside these a value is a slip of the pen.

The extremes measured anywhere are -89.2 and 56.7 C and 1825 mm of rain in a day
(World Meteorological Organization, World Weather and Climate Extremes Archive).
"""

_UNIT_SHOWN = {
    "rain_mm": "mm",
    "tmin_c": "C",
    "tmax_c": "C",
    "humidity_pct": "percent",
    "dewpoint_c": "C",
    "wind_m_s": "m/s",
    "sun_mj_m2": "MJ/m2",
}

TO_STORED: Mapping[str, Callable[[float], float]] = {
    "mm": lambda value: value,
    "in": units.mm_from_inches,
    "tenths_mm": lambda value: value / 10.0,
    "c": lambda value: value,
    "f": units.celsius_from_fahrenheit,
    "tenths_c": lambda value: value / 10.0,
    "m_s": lambda value: value,
    "mph": lambda value: value * units.M_S_PER_MPH,
    "km_h": lambda value: value / 3.6,
    "tenths_m_s": lambda value: value / 10.0,
    "pct": lambda value: value,
    "mj_m2": lambda value: value,
    "w_m2": lambda value: value * 0.0864,
    "langley": lambda value: value * units.MJ_PER_LANGLEY,
}
"""From a file's unit to the stored one (1 W/m2 over a day is 0.0864 MJ/m2)."""


def number(text: str) -> float:
    """A cell's number, NaN where it says missing. Raises: BadValue, as `number_from`."""
    if text.lower() in MISSING:
        return math.nan
    value = number_from(text)
    return math.nan if value == MISSING_NUMBER else value


def cell_reader(field: str, unit: str) -> Callable[[str], float]:
    """A function from the text of a cell to the stored value, NaN where missing.

    The function raises `BadValue` with the reason when the cell cannot be true.
    It remembers each text, as daily weather repeats itself.
    """
    convert = TO_STORED[unit]
    low, high = LIMITS[field]

    @cache
    def read(text: str) -> float:
        if field == "rain_mm" and text.lower() in TRACE:
            return 0.0
        value = convert(number(text))
        if value < low or value > high:
            raise BadValue(f"{text} is outside {low:g} to {high:g} {_UNIT_SHOWN[field]}")
        return value

    return read


def wind_at_2_m(height_m: float) -> float:
    """What turns wind measured at `height_m` into wind at 2 m over short grass.

    FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), equation 47.

    Raises:
        BadValue: a height the logarithmic profile does not reach.
    """
    if not 0.5 <= height_m <= 100.0:
        raise BadValue(f"A wind height of {height_m:g} m is outside 0.5 to 100 m; correct it.")
    return 1.0 if height_m == 2.0 else 4.87 / math.log(67.8 * height_m - 5.42)
