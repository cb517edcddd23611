"""Rain that a canopy of hardwoods keeps from the ground.

Source: Helvey and Patric (1965), Canopy and litter interception of rainfall by hardwoods
of eastern United States, Water Resour. Res. 1:193-206: throughfall of a storm in inches
is 0.901 P - 0.031 in the growing and 0.914 P - 0.015 in the dormant season (values from
memory; published throughfall of summer hardwoods is about 80 to 88 percent of rain). A
day is taken for a storm. What runs down the stems reaches no tank.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from store.units import MM_PER_INCH
from store.vocabulary import Exposure
from store.weather.days import BoolArray, FloatArray

GROWING = (0.901, 0.031 * MM_PER_INCH)
DORMANT = (0.914, 0.015 * MM_PER_INCH)
"""Slope of throughfall on rain, and what the leaves and twigs hold in mm."""
CANOPY: Mapping[Exposure, float] = MappingProxyType(
    {Exposure.OPEN: 0.0, Exposure.PART_SHADE: 0.5, Exposure.DEEP_SHADE: 1.0}
)
"""Share of tank and apron that branches stand over (assumed)."""


def intercepted_mm(rain_mm: FloatArray, growing: BoolArray) -> FloatArray:
    """What a closed canopy keeps of a day's rain, in mm; arrays of one shape."""
    slope = np.where(growing, GROWING[0], DORMANT[0])
    held = np.where(growing, GROWING[1], DORMANT[1])
    return np.asarray(rain_mm - np.maximum(slope * rain_mm - held, 0.0))
