"""Snow: which part of a day's water falls as snow, and how a pack melts.

Sources: Jennings et al. (2018), Nature Communications 9:1148, for the temperature
at which half falls as snow; USDA-NRCS National Engineering Handbook, Part 630,
chapter 11 (2004), 630.1103, for the melt factor.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from store.weather.days import FloatArray

HALF_SNOW_C = 1.0
"""Mean over the stations of Jennings et al. (2018); -0.4 to 2.4 for 95 % of them."""
SNOW_RANGE_C = 2.0
"""All snow this far below `HALF_SNOW_C`, all rain this far above (assumed)."""
MELT_MM_C_D = 2.74
"""Melt a day per degree above 0 when nothing better is known, NEH 630.1103."""


def snow_share(mean_c: ArrayLike) -> FloatArray:
    """Share of the day's water that falls as snow, by mean temperature in deg C."""
    above = np.asarray(mean_c) - HALF_SNOW_C
    return np.clip(0.5 - above / (2.0 * SNOW_RANGE_C), 0.0, 1.0)


def melt_mm(snow_mm: FloatArray, mean_c: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Melt of each day and the pack left in the evening, mm of water.

    All shapes (days, ...). There is no pack at the start; a day's snow
    joins it before it melts.
    """
    melt, pack = np.zeros_like(snow_mm), np.zeros_like(snow_mm)
    most = MELT_MM_C_D * np.maximum(mean_c, 0.0)
    lying = np.zeros(snow_mm.shape[1:])
    for day, fallen in enumerate(snow_mm):
        lying = lying + fallen
        melt[day] = np.minimum(most[day], lying)
        lying = lying - melt[day]
        pack[day] = lying
    return melt, pack
