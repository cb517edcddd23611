"""What a look, and what a fill, is worth in wet days of the heavy-use weeks.

A look is worth the expected value of the sample information it gives (Raiffa and Schlaifer
1961, Applied Statistical Decision Theory): the wet days when the fill is decided after the
reading, less those when it is decided now. The readings that may be seen are drawn from the
members and the others weighted by them, as in importance sampling (Menzies 2016, Med.
Decis. Making 36(3):308-320). A member never weighs on its own decision, so that few members
do not make a look seem worth more than it is.
"""

from __future__ import annotations

import numpy as np

from store.weather.days import FloatArray


def days_saved_by_a_look(
    level_mm: FloatArray,
    error_mm: float,
    wet_left: FloatArray,
    wet_filled: FloatArray,
    fill_costs_days: float,
    noise: FloatArray,
) -> float:
    """Expected wet days saved by deciding a fill after a reading; 0 at the least.

    Arrays have shape (members,): the level the reading is about, wet days without and with
    the fill, and standard normals for the error of the reading, whose standard deviation is
    `error_mm`.
    """
    read_mm = level_mm + error_mm * noise
    distance = (level_mm[np.newaxis] - read_mm[:, np.newaxis]) / error_mm
    log_weights = -0.5 * distance**2
    np.fill_diagonal(log_weights, -np.inf)
    weights = np.exp(log_weights - log_weights.max(axis=1, keepdims=True))
    gain = wet_filled - fill_costs_days - wet_left
    fills = weights @ gain > 0.0
    after = float(np.where(fills, wet_left + gain, wet_left).mean())
    now = max(float(wet_left.mean()), float((wet_left + gain).mean()))
    return max(after - now, 0.0)


def visit_costs(use_weights: FloatArray) -> float:
    """Days of heavy use that a visit costs, with the use of the days after it.

    `use_weights` holds one share of the use at the height of the rut for each day until the
    habit is back; what is lost falls evenly from all on the first day to nothing (assumed).
    """
    lost = 1.0 - np.arange(len(use_weights)) / max(len(use_weights), 1)
    return float((lost * use_weights).sum())
