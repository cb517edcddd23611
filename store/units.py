"""The one place that converts between the units people use and the model's.

The store and the model work in millimetres, litres, square metres and degrees
Celsius, which fit together: 1 mm of water on 1 m2 is 1 L. US customary units
exist only at the edge, in what a person types and reads.

Sources: the inch is 25.4 mm exactly and the US gallon 231 cubic inches, that is
3.785411784 L, exactly (NIST Special Publication 811, Appendix B.8, which gives the pound and
the mile as well).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

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


US_UNITS = Units(
    UnitSystem.US, "in", "gal", "in", "ft2", "lb", "mph",
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
