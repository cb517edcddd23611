"""How far two places lie apart, and how long the way takes."""

from __future__ import annotations

import math
from dataclasses import dataclass

EARTH_RADIUS_KM = 6371.0088
"""Mean radius R1 (Moritz 2000, Geodetic Reference System 1980, J. Geodesy 74:128-133)."""

MINUTES_PER_HOUR = 60.0


@dataclass(frozen=True)
class Place:
    """A point on the globe; degrees, north and east positive."""

    latitude_deg: float
    longitude_deg: float


def distance_km(one: Place, other: Place) -> float:
    """The great-circle distance by the haversine formula.

    Source: Sinnott 1984, Virtues of the Haversine, Sky and Telescope 68(2):159.
    """
    north, other_north = math.radians(one.latitude_deg), math.radians(other.latitude_deg)
    half_up = (other_north - north) / 2.0
    half_across = math.radians(other.longitude_deg - one.longitude_deg) / 2.0
    h = (
        math.sin(half_up) ** 2
        + math.cos(north) * math.cos(other_north) * math.sin(half_across) ** 2
    )
    return 2.0 * EARTH_RADIUS_KM * math.asin(math.sqrt(min(h, 1.0)))


def way_minutes(one: Place | None, other: Place | None, km_per_hour: float, detour: float) -> float:
    """Minutes of the way between two places; 0 where one of them is not known.

    `detour` is the length of the way over the straight distance.
    """
    if one is None or other is None:
        return 0.0
    return distance_km(one, other) * detour / km_per_hour * MINUTES_PER_HOUR
