"""Runoff from the soil apron around a tank, by the NRCS curve number.

Sources: USDA-NRCS TR-55 (1986), Urban Hydrology for Small Watersheds, eqs 2-1 to
2-4 and Table 2-2; Hawkins, Hjelmfelt and Zevenbergen (1985), ASCE J. Irrig.
Drain. Eng. 111(4):330-340, for dry and wet ground. Curve numbers were fitted to
fields and whole storms: on a few square metres and on daily totals they are an
index, and readings have the last word.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from store.units import MM_PER_INCH
from store.vocabulary import ApronSurface
from store.weather.days import BoolArray, FloatArray


@dataclass(frozen=True)
class RunoffLaw:
    """How a surface sheds water: by curve number, or beyond a loss by a plain share.

    Crops dry the ground they grow on; `bare` ground is dry by the limits of the dormant
    season all year. With a `shed_share` the curve number counts for nothing.
    """

    curve_number: float
    bare: bool = False
    loss_mm: float = 0.0
    shed_share: float | None = None


RUNOFF_LAW: Mapping[ApronSurface, RunoffLaw] = MappingProxyType(
    {
        ApronSurface.SCULPTED_SOIL: RunoffLaw(94.0, bare=True),
        ApronSurface.LOOSE_SOIL: RunoffLaw(86.0, bare=True),
        ApronSurface.GRASS: RunoffLaw(79.0),
        ApronSurface.WOODS_LITTER: RunoffLaw(70.0),
        ApronSurface.GRAVEL: RunoffLaw(89.0, bare=True),
        ApronSurface.LINER: RunoffLaw(98.0, loss_mm=1.0, shed_share=0.95),
    }
)
"""Curve number at average moisture, TR-55 Table 2-2; the hydrologic group is assumed.

Sculpted soil: newly graded, no vegetation, group D, because the soil is bared,
shaped and trodden (groups A to D: 77, 86, 91, 94). Loose soil: fallow, bare,
group B. Grass: open space in fair condition, group C (value from memory). Woods
litter: woods, good, group C. Gravel: gravel road, group C. Liner: a millimetre wets it
(assumed); membranes shed 90 to 100 percent of rain (published: Frasier, Cooley and
Griggs 1979, J. Range Manage.).
"""

DORMANT_LIMITS_MM = (0.5 * MM_PER_INCH, 1.1 * MM_PER_INCH)
GROWING_LIMITS_MM = (1.4 * MM_PER_INCH, 2.1 * MM_PER_INCH)
"""Five-day rain below which the ground is dry and above which it is wet, NEH
section 4, Table 4.2 (value from memory)."""


def retention_mm(curve_number: ArrayLike) -> FloatArray:
    """Potential retention S in mm, TR-55 eq. 2-4 (1000 / CN - 10 inches)."""
    return MM_PER_INCH * (1000.0 / np.asarray(curve_number, dtype=np.float64) - 10.0)


def runoff_mm(water_mm: ArrayLike, curve_number: ArrayLike) -> FloatArray:
    """Runoff depth Q in mm from a day's water in mm, TR-55 eq. 2-3; broadcasts."""
    retention = retention_mm(curve_number)
    excess = np.maximum(np.asarray(water_mm) - 0.2 * retention, 0.0)
    total = excess + retention
    return np.asarray(np.divide(excess**2, total, out=np.zeros_like(total), where=total > 0.0))


def dry_curve_number(curve_number: ArrayLike) -> FloatArray:
    """Curve number of dry ground, class I, Hawkins et al. (1985)."""
    number = np.asarray(curve_number, dtype=np.float64)
    return np.asarray(number / (2.281 - 0.01281 * number))


def wet_curve_number(curve_number: ArrayLike) -> FloatArray:
    """Curve number of wet ground, class III, Hawkins et al. (1985)."""
    number = np.asarray(curve_number, dtype=np.float64)
    return np.asarray(number / (0.427 + 0.00573 * number))


def water_of_five_days_mm(water_mm: FloatArray) -> FloatArray:
    """Rain and melt in mm of the five days before each day; shape (days, ...)."""
    total = np.zeros_like(water_mm)
    for back in range(1, 6):
        total[back:] += water_mm[:-back]
    return total


def moisture_class(five_days_mm: FloatArray, growing: BoolArray) -> NDArray[np.int8]:
    """Antecedent moisture class 0 dry, 1 average, 2 wet (I, II, III); broadcasts."""
    dry = np.where(growing, GROWING_LIMITS_MM[0], DORMANT_LIMITS_MM[0])
    wet = np.where(growing, GROWING_LIMITS_MM[1], DORMANT_LIMITS_MM[1])
    return (five_days_mm >= dry).astype(np.int8) + (five_days_mm > wet).astype(np.int8)


def curve_number_by_class(curve_number: ArrayLike, moisture: NDArray[np.int8]) -> FloatArray:
    """Curve number of a surface in each moisture class; broadcasts."""
    number = np.asarray(curve_number, dtype=np.float64)
    return np.choose(moisture, [dry_curve_number(number), number, wet_curve_number(number)])


def shed_mm(
    law: RunoffLaw,
    water_mm: FloatArray,
    moisture: NDArray[np.int8],
    bare_moisture: NDArray[np.int8],
) -> FloatArray:
    """What a surface sheds of a day's water, by the moisture before it; arrays of one shape."""
    if law.shed_share is not None:
        return np.asarray(law.shed_share * np.maximum(water_mm - law.loss_mm, 0.0))
    classes = bare_moisture if law.bare else moisture
    return runoff_mm(water_mm, curve_number_by_class(law.curve_number, classes))
