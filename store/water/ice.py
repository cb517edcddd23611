"""Ice on a tank, from freezing degree-days. A warning, not a depth to walk on.

Sources: USACE Engineer Manual 1110-2-1612, Ice Engineering (modified Stefan
equation, h = alpha sqrt(AFDD)); Gow and Govoni (1983), CRREL Report 83-4, for
loss 3 to 4 times as fast as growth. No published rule covers a small tank in the
ground: soil heat makes these figures an upper estimate.
"""

from __future__ import annotations

from itertools import accumulate

import numpy as np
from numpy.typing import ArrayLike

from store.weather.days import BoolArray, FloatArray

ALPHA_MM = 17.0
"""mm per sqrt(deg C d): average lake with snow, 17 to 24, its lower end."""
DECAY_RATIO = 3.5
"""A degree-day of thaw undoes so many degree-days of frost (3 to 4)."""
CLOSED_MM = 25.0
"""Ice this thick keeps animals and the air from the water (assumed)."""


def ice_mm(mean_c: FloatArray) -> FloatArray:
    """Ice in mm on the evening of each day, from mean temperature; none at the start.

    Shape (days, ...)."""
    frost = np.where(mean_c < 0.0, -mean_c, -DECAY_RATIO * mean_c)
    if frost[:1].size == 1:
        one_course = accumulate(frost.ravel().tolist(), lambda so_far, new: max(so_far + new, 0.0),
                                initial=0.0)  # fmt: skip
        frost = np.array(list(one_course)[1:]).reshape(frost.shape)
    else:
        so_far = np.zeros(frost.shape[1:])
        for today in frost:
            np.add(so_far, today, out=today)
            so_far = np.maximum(today, 0.0, out=today)
    return np.asarray(ALPHA_MM * np.sqrt(frost))


def is_closed(thickness_mm: ArrayLike) -> BoolArray:
    """Whether ice is thick enough to stop drinking and evaporation."""
    return np.asarray(thickness_mm) >= CLOSED_MM
