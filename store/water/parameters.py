"""Stations and their parameters as the balance needs them, with the defaults."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from store.errors import BadValue
from store.records import StationFacts
from store.vocabulary import Exposure
from store.water.drinking import REACH_BELOW_RIM_MM, RUT_DAY, USE_FACTOR
from store.water.geometry import Tank, tank_from_measures, volume_below_rim_l
from store.water.interception import CANOPY
from store.water.runoff import RUNOFF_LAW, RunoffLaw
from store.weather.days import FloatArray

SHELTER: Mapping[Exposure, float] = MappingProxyType(
    {Exposure.OPEN: 1.0, Exposure.PART_SHADE: 0.7, Exposure.DEEP_SHADE: 0.45}
)
"""Multiple of open-water evaporation (assumed). No published figure covers a tank in
the ground under trees; one layer of shade cloth over a pan cuts 75 percent
(Martinez Alvarez et al. 2006, Span. J. Agric. Res. 4:280-288), so deep shade stays
well above 0.25."""
DRY_SHARE = 0.05
REMNANT_SHARE = 0.01
"""Shares of the capacity that count as nothing (assumed)."""
RIM_STOPS_RUNOFF_MM = 25.0
"""An apron cannot drain over a rim standing higher above the ground (assumed)."""
APRON_YIELD = 1.0
"""Multiple of the curve-number runoff that reaches the tank (assumed)."""
LEAK_MM_D = 0.0
VISIT_L = 2.0
"""Litres an animal takes on a visit (assumed: half of what a deer takes in a day)."""
RAIN_CATCH = 1.0
SNOW_CATCH = 1.0
"""Multiples of rain and of snow as recorded (assumed)."""


@dataclass(frozen=True, eq=False)
class TankSite:
    """What never changes in a run at one station.

    `unreachable_l` is the water too deep for animals; `apron_m2` is 0 where the rim
    stands too high for runoff; `canopy` is the share that branches stand over.
    """

    tank: Tank
    apron_m2: float
    runoff: RunoffLaw
    unreachable_l: float
    canopy: float = 0.0

    @property
    def dry_l(self) -> float:
        """Below so much water the tank is dry to an animal: a remnant, or out of reach."""
        capacity_l = self.tank.capacity_l
        return max(DRY_SHARE * capacity_l, self.unreachable_l + REMNANT_SHARE * capacity_l)


@dataclass(frozen=True, eq=False)
class Parameters:
    """Uncertain multipliers, each of a shape that broadcasts to (stations, members).

    `apron_yield` on runoff, `shelter` on open-water evaporation, `drinking` on
    average demand beside the rut, `rain` on rain and the runoff it makes, `snow_catch` on snow
    falling into the opening; `leak_mm_d` is a fall of the level in mm a day. `rut`
    multiplies what is drunk more in the rut, whose height is on `rut_day` of the season
    and `rut_width` times as wide as usual. `visit_l` is what an animal takes on a visit that a
    camera counts; the balance does without it.
    """

    apron_yield: FloatArray
    shelter: FloatArray
    drinking: FloatArray
    leak_mm_d: FloatArray
    rain: FloatArray
    snow_catch: FloatArray
    rut: FloatArray = field(default_factory=lambda: np.ones((1, 1)))
    rut_day: FloatArray = field(default_factory=lambda: np.full((1, 1), RUT_DAY))
    rut_width: FloatArray = field(default_factory=lambda: np.ones((1, 1)))
    visit_l: FloatArray = field(default_factory=lambda: np.full((1, 1), VISIT_L))

    def map(self, change: Callable[[FloatArray], FloatArray]) -> Parameters:
        """The same parameters, each array changed."""
        return Parameters(**{name: change(value) for name, value in vars(self).items()})


def tank_site_of(station: StationFacts) -> TankSite:
    """Tank and apron of a station for the balance; raises `BadValue` for impossible measures."""
    tank = tank_from_measures(station.tank)
    if not (np.isfinite(station.apron_area_m2) and station.apron_area_m2 >= 0.0):
        raise BadValue(
            f"The apron of {station.name} cannot be {station.apron_area_m2:g} m2; "
            "enter its area, or 0 for none."
        )
    drains = station.rim_above_ground_mm <= RIM_STOPS_RUNOFF_MM
    return TankSite(
        tank=tank,
        apron_m2=station.apron_area_m2 if drains else 0.0,
        runoff=RUNOFF_LAW[station.apron_surface],
        unreachable_l=float(volume_below_rim_l(tank, REACH_BELOW_RIM_MM)),
        canopy=CANOPY[station.exposure],
    )


def default_parameters(stations: Sequence[StationFacts]) -> Parameters:
    """Defaults of every station, arrays of shape (stations, 1)."""

    def column(values: Sequence[float]) -> FloatArray:
        return np.array(values, dtype=np.float64).reshape(-1, 1)

    count, use = len(stations), [USE_FACTOR[station.expected_use] for station in stations]
    return Parameters(
        apron_yield=column([APRON_YIELD] * count),
        shelter=column([SHELTER[station.exposure] for station in stations]),
        drinking=column(use),
        leak_mm_d=column([LEAK_MM_D] * count),
        rain=column([RAIN_CATCH] * count),
        snow_catch=column([SNOW_CATCH] * count),
        rut=column(use),
        rut_day=column([RUT_DAY] * count),
        rut_width=column([1.0] * count),
        visit_l=column([VISIT_L] * count),
    )
