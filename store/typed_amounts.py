"""Depths and volumes as a person types them: a number, with or without its unit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from store.errors import BadValue
from store.typed import number_from
from store.units import METRIC_UNITS, US_UNITS, Units

Stored = Callable[[float], float]
_NUMBER_AND_UNIT = re.compile(r"(.*?)\s*([a-z]*|\")", re.IGNORECASE | re.DOTALL)
_DEPTHS: Mapping[str, Stored] = {
    **dict.fromkeys(("in", "inch", "inches", '"'), US_UNITS.depth_from),
    "cm": METRIC_UNITS.depth_from,
    "mm": float,
}
_VOLUMES: Mapping[str, Stored] = {
    **dict.fromkeys(("gal", "gallon", "gallons"), US_UNITS.volume_from),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), METRIC_UNITS.volume_from),
}


def depth_mm_typed(text: str, units: Units) -> float:
    """Millimetres from `12`, `12 in` or `30 cm`; a bare number is in the shown unit.

    Raises:
        BadValue: it is no number, or not a depth.
    """
    return _typed(text, units.depth_from, _DEPTHS, "a depth; write it as 12 in or 30 cm")


def volume_l_typed(text: str, units: Units) -> float:
    """Litres from `40`, `40 gal` or `150 L`; a bare number is in the shown unit.

    Raises:
        BadValue: it is no number, or not a volume.
    """
    return _typed(text, units.volume_from, _VOLUMES, "a volume; write it as 40 gal or 150 L")


def _typed(text: str, bare: Stored, known: Mapping[str, Stored], wanted: str) -> float:
    match = _NUMBER_AND_UNIT.fullmatch(text.strip())
    number, unit = match.groups() if match else (text, "")
    stored = known.get(unit.casefold()) if unit else bare
    if stored is None:
        raise BadValue(f"{text.strip()!r} is not {wanted}")
    return stored(number_from(number))
