"""What each way out of a contamination costs: gallons, loads, hours and visits.

The hours are assumed; they are one person's, without the drive to the tract.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from store.units import litres_from_gallons
from store.vocabulary import Access

LOAD_L: Mapping[Access, float] = MappingProxyType(
    {Access.ATV: litres_from_gallons(45.0), Access.VEHICLE: litres_from_gallons(100.0)}
)
"""Water carried at once (common practice, no source: an ATV 25 to 65 gal, a vehicle
100 gal and more); nothing is carried on foot."""
WAY_IN_HOURS: Mapping[Access, float] = MappingProxyType(
    {Access.VEHICLE: 0.5, Access.ATV: 0.75, Access.FOOT: 1.5}
)
"""To the tank and back, each visit."""
REMOVE_HOURS = 0.5
BAIL_HOURS_PER_100_L = 0.15
"""By bucket: a 100 gal tank in about half an hour."""
LOAD_HOURS = 0.75
"""To fetch and pour out one load."""
RINSE_AND_COVER_HOURS = 0.5
UNCOVER_HOURS = 0.25
MOVE_HOURS = 6.0
"""To dig a tank out, and to dig it in and shape its apron elsewhere, in two visits."""


@dataclass(frozen=True)
class Cost:
    """`water_l` is brought in `loads`; `hours` include the way in on every visit.

    `rounds` is how often the tank is bailed and refilled.
    """

    water_l: float = 0.0
    loads: int = 0
    hours: float = 0.0
    visits: int = 0
    rounds: int = 0


def cost(
    access: Access,
    *,
    visits: int,
    work_hours: float = 0.0,
    bailed_l: float = 0.0,
    water_l: float = 0.0,
    load_l: float | None = None,
) -> Cost:
    """The cost of some visits; `load_l` is what this keeper's own tank carries."""
    carried_l = load_l or LOAD_L.get(access, math.inf)
    loads = math.ceil(water_l / carried_l - 1e-9)
    hours = (
        visits * WAY_IN_HOURS[access]
        + work_hours
        + bailed_l / 100.0 * BAIL_HOURS_PER_100_L
        + loads * LOAD_HOURS
    )
    return Cost(water_l, loads, hours, visits)
