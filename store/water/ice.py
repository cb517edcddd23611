"""Ice on a tank, from freezing degree-days. A warning, not a depth to walk on.

Sources: USACE Engineer Manual 1110-2-1612, Ice Engineering (modified Stefan
equation, h = alpha sqrt(AFDD)); Gow and Govoni (1983), CRREL Report 83-4, for
loss 3 to 4 times as fast as growth. No published rule covers a small tank in the
ground: soil heat makes these figures an upper estimate.
"""

from __future__ import annotations

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
    thickness = np.zeros_like(mean_c)
    frost = np.zeros(mean_c.shape[1:])
    for day, mean in enumerate(mean_c):
        change = np.where(mean < 0.0, -mean, -DECAY_RATIO * mean)
        frost = np.maximum(frost + change, 0.0)
        thickness[day] = ALPHA_MM * np.sqrt(frost)
    return thickness


def is_closed(thickness_mm: ArrayLike) -> BoolArray:
    """Whether ice is thick enough to stop drinking and evaporation."""
    return np.asarray(thickness_mm) >= CLOSED_MM
