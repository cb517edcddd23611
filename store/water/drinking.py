"""What animals drink at a station.

Common practice, no source: the table makes average autumn use empty half a
55-gallon drum within two weeks without rain, and leaves a 110-gallon tank with
water. One adult deer needs 3 to 6 quarts (2.8 to 5.7 L) a day, much of it from
forage (Alabama, Biology and Management of White-tailed Deer, citing Brown 1985),
so eight litres is two or three deer on an autumn day. In hot dry country animals
drink most in summer instead: the table is an assumption and readings correct it.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from store.vocabulary import ExpectedUse
from store.weather.days import FloatArray

AVERAGE_L_BY_MONTH = (2.0, 2.0, 2.0, 2.0, 3.0, 3.0, 4.0, 5.0, 7.5, 8.5, 8.5, 5.0)
"""Litres a station a day in the middle of each month, January first (assumed)."""
HOT_ABOVE_C = 27.0
HOT_SHARE_PER_C = 0.05
HOT_MOST = 1.5
"""Each degree of the highest temperature above 27 adds 5 percent, half at most (assumed)."""
USE_FACTOR: Mapping[ExpectedUse, float] = MappingProxyType(
    {ExpectedUse.LIGHT: 0.5, ExpectedUse.AVERAGE: 1.0, ExpectedUse.HEAVY: 2.0}
)
"""Multiple of the average (assumed)."""
REACH_BELOW_RIM_MM = 610.0
"""Animals do not drink what stands deeper below the rim, 24 in (assumed)."""

_MID_MONTH_DAY = (np.arange(12) + 0.5) * 365.25 / 12.0


def average_demand_l(day_of_year: ArrayLike, tmax_c: ArrayLike) -> FloatArray:
    """Litres wanted a day at average use, by day of year and highest temperature."""
    by_season = np.interp(
        np.asarray(day_of_year, dtype=np.float64), _MID_MONTH_DAY, AVERAGE_L_BY_MONTH, period=365.25
    )
    heat = 1.0 + HOT_SHARE_PER_C * np.maximum(np.asarray(tmax_c) - HOT_ABOVE_C, 0.0)
    return np.asarray(by_season * np.minimum(heat, HOT_MOST))
