"""What was changed of a station's facts, from one entry of them to the next, in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from store.records import StationFacts
from store.typed import as_typed, degrees_as_typed
from store.units import Quantity, Units

NONE = "none"


def _amount(quantity: Quantity) -> Callable[[Any, Units], str]:
    def write(value: Any, units: Units) -> str:
        if value is None:
            return NONE
        return f"{as_typed(units.shown(quantity, value))} {units.name_of(quantity)}"

    return write


def _plain(value: Any, _units: Units) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) or NONE


def _degrees(value: Any, _units: Units) -> str:
    return degrees_as_typed(value) or NONE


_LENGTH, _AREA = _amount(Quantity.DEPTH), _amount(Quantity.AREA)
_OF_TANK = (
    ("shape", "shape", _plain),
    ("depth_mm", "depth", _LENGTH),
    ("length_mm", "length", _LENGTH),
    ("width_mm", "width", _LENGTH),
    ("diameter_mm", "diameter", _LENGTH),
    ("bottom_length_mm", "bottom length", _LENGTH),
    ("bottom_width_mm", "bottom width", _LENGTH),
    ("bottom_diameter_mm", "bottom diameter", _LENGTH),
)
_OF_STATION = (
    ("name", "name", _plain),
    ("rim_above_ground_mm", "rim above ground", _LENGTH),
    ("apron_area_m2", "apron", _AREA),
    ("apron_surface", "apron surface", _plain),
    ("exposure", "exposure", _plain),
    ("access", "access", _plain),
    ("expected_use", "expected use", _plain),
    ("bear_country", "bear country", _plain),
    ("latitude_deg", "latitude", _degrees),
    ("longitude_deg", "longitude", _degrees),
    ("directions", "directions", _plain),
)


def facts_changes(before: StationFacts, after: StationFacts, units: Units) -> tuple[str, ...]:
    """Each thing that differs, as 'apron 160 ft2, was 120 ft2'."""
    told = [
        f"{label} {write(getattr(new, name), units)}, was {write(getattr(old, name), units)}"
        for old, new, fields in (
            (before.tank, after.tank, _OF_TANK),
            (before, after, _OF_STATION),
        )
        for name, label, write in fields
        if getattr(old, name) != getattr(new, name)
    ]
    if before.tank.depth_volume != after.tank.depth_volume:
        told.append("another table of depths")
    if before.tract_id != after.tract_id:
        told.append("another tract")
    return tuple(told)
