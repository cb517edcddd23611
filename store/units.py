"""The one place that converts between the units people use and the model's.

The store and the model work in millimetres, litres, square metres and degrees
Celsius, which fit together: 1 mm of water on 1 m2 is 1 L. US customary units
exist only at the edge, in what a person types and reads.

Sources: the inch is 25.4 mm exactly and the US gallon 231 cubic inches, that is
3.785411784 L, exactly (NIST Special Publication 811, Appendix B.8, which gives the pound and
the mile as well).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

MM_PER_INCH = 25.4
LITRES_PER_GALLON = 3.785411784
M2_PER_FT2 = 0.3048**2
M_PER_FT = 0.3048
M_S_PER_MPH = 0.44704
KG_PER_POUND = 0.45359237
KM_PER_MILE = 1.609344
MJ_PER_LANGLEY = 0.04184
POUNDS_PER_GALLON = 8.34
"""Weight of fresh water at 15 C, 8.338 lb a gallon (CRC density, NIST SP 811)."""

KG_PER_LITRE = 0.9991
"""Density of fresh water at 15 C (CRC density, as above)."""


MM_PER_M = 1000.0


class Quantity(StrEnum):
    """What a typed amount measures; it is stored in mm, litres, m2, kg, km/h or metres."""

    DEPTH = "depth"
    VOLUME = "volume"
    RAIN = "rain"
    AREA = "area"
    WEIGHT = "weight"
    SPEED = "speed"
    HEIGHT = "height"
    """Of land above the sea, in metres."""


_LENGTHS_MM = {
    **dict.fromkeys(("in", "inch", "inches", '"'), MM_PER_INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'"), M_PER_FT * MM_PER_M),
    "mm": 1.0,
    "cm": 10.0,
    "m": MM_PER_M,
}
TYPED_UNITS: Mapping[Quantity, Mapping[str, float]] = MappingProxyType(
    {
        Quantity.DEPTH: _LENGTHS_MM,
        Quantity.RAIN: _LENGTHS_MM,
        Quantity.HEIGHT: {name: mm / MM_PER_M for name, mm in _LENGTHS_MM.items()},
        Quantity.VOLUME: {
            **dict.fromkeys(("gal", "gallon", "gallons"), LITRES_PER_GALLON),
            **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), 1.0),
        },
        Quantity.AREA: {
            **dict.fromkeys(("ft2", "sq ft", "sqft", "ft\N{SUPERSCRIPT TWO}"), M2_PER_FT2),
            **dict.fromkeys(("m2", "sq m", "sqm", "m\N{SUPERSCRIPT TWO}"), 1.0),
        },
        Quantity.WEIGHT: {
            **dict.fromkeys(("lb", "lbs", "pound", "pounds"), KG_PER_POUND),
            **dict.fromkeys(("kg", "kilogram", "kilograms"), 1.0),
        },
        Quantity.SPEED: {
            "mph": KM_PER_MILE,
            **dict.fromkeys(("km/h", "kmh", "kph"), 1.0),
        },
    }
)
"""By quantity: every way to write a unit, in small letters, and how much is stored for one."""


class UnitSystem(StrEnum):
    """What a person reads and types; what is stored does not depend on it."""

    US = "us"
    METRIC = "metric"


def mm_from_inches(inches: float) -> float:
    return inches * MM_PER_INCH


def inches_from_mm(mm: float) -> float:
    return mm / MM_PER_INCH


def litres_from_gallons(gallons: float) -> float:
    return gallons * LITRES_PER_GALLON


def gallons_from_litres(litres: float) -> float:
    return litres / LITRES_PER_GALLON


def m2_from_ft2(square_feet: float) -> float:
    return square_feet * M2_PER_FT2


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@dataclass(frozen=True)
class Units:
    """How one unit system names, reads and writes the quantities on screen.

    `depth`, `volume`, `rain` and `area` turn a stored value into a displayed one;
    the `*_from` methods turn what a person typed back into the stored unit.
    """

    system: UnitSystem
    depth_name: str
    volume_name: str
    rain_name: str
    area_name: str
    weight_name: str
    speed_name: str
    height_name: str
    _mm_per_depth: float
    _litres_per_volume: float
    _mm_per_rain: float
    _m2_per_area: float
    _weight_per_litre: float
    _kg_per_weight: float
    _km_per_speed: float

    def depth(self, mm: float) -> float:
        return mm / self._mm_per_depth

    def depth_from(self, shown: float) -> float:
        return shown * self._mm_per_depth

    def volume(self, litres: float) -> float:
        return litres / self._litres_per_volume

    def volume_from(self, shown: float) -> float:
        return shown * self._litres_per_volume

    def rain(self, mm: float) -> float:
        return mm / self._mm_per_rain

    def rain_from(self, shown: float) -> float:
        return shown * self._mm_per_rain

    def area(self, m2: float) -> float:
        return m2 / self._m2_per_area

    def water_weight(self, litres: float) -> float:
        """The weight of so much water; the tank it is carried in comes on top."""
        return litres * self._weight_per_litre

    def weight(self, kg: float) -> float:
        return kg / self._kg_per_weight

    def weight_from(self, shown: float) -> float:
        return shown * self._kg_per_weight

    def speed(self, km_per_hour: float) -> float:
        return km_per_hour / self._km_per_speed

    def speed_from(self, shown: float) -> float:
        return shown * self._km_per_speed

    def area_from(self, shown: float) -> float:
        return shown * self._m2_per_area

    def name_of(self, quantity: Quantity) -> str:
        """The unit a quantity is shown in, and typed in where the person names none."""
        return {
            Quantity.DEPTH: self.depth_name,
            Quantity.VOLUME: self.volume_name,
            Quantity.RAIN: self.rain_name,
            Quantity.AREA: self.area_name,
            Quantity.WEIGHT: self.weight_name,
            Quantity.SPEED: self.speed_name,
            Quantity.HEIGHT: self.height_name,
        }[quantity]

    def shown(self, quantity: Quantity, stored: float) -> float:
        """A stored amount in the unit it is shown in."""
        return stored / TYPED_UNITS[quantity][self.name_of(quantity).casefold()]

    @property
    def distance_name(self) -> str:
        return "mi" if self.system is UnitSystem.US else "km"

    def distance(self, km: float) -> float:
        return km / self._km_per_speed


US_UNITS = Units(
    UnitSystem.US, "in", "gal", "in", "ft2", "lb", "mph", "ft",
    MM_PER_INCH, LITRES_PER_GALLON, MM_PER_INCH, M2_PER_FT2, POUNDS_PER_GALLON / LITRES_PER_GALLON,
    KG_PER_POUND, KM_PER_MILE,
)  # fmt: skip
METRIC_UNITS = Units(
    UnitSystem.METRIC,
    "cm",
    "L",
    "mm",
    "m2",
    "kg",
    "km/h",
    "m",
    10.0,
    1.0,
    1.0,
    1.0,
    KG_PER_LITRE,
    1.0,
    1.0,
)


def units(system: UnitSystem) -> Units:
    """The `Units` of a system."""
    return US_UNITS if system is UnitSystem.US else METRIC_UNITS
