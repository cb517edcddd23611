"""How a dissolved contaminant thins out: mixing alone, nothing about harm.

The water of a tank is taken as well mixed. Evaporation leaves the contaminant
behind; leaks and drinking take it along at its concentration; clean inflow first
fills the tank and then pushes water over the rim bit by bit, which washes out
exp(-overflow / capacity) (completely mixed reactor: Levenspiel, Chemical Reaction
Engineering; Viessman and Hammer 1993). Dilution is all this says: whether water
is fit to drink it cannot tell.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from store.water.accounts import SMALLEST, daily_losses
from store.water.balance import (
    Balance,
)
from store.water.one_day import (
    aligned_empty,
    fast_columns,
    filled_to_shape,
    full_parameters,
    inflow_into,
)
from store.weather.days import FloatArray

HEEL_SHARE = 0.01
"""Below this share of the capacity a concentration is counted as if dissolved in so
much water, so that a tank that dries out keeps what was in it (assumed)."""
UNDER_ICE_MIXED_SHARE = 0.1
"""Share of the meltwater that mixes with a tank closed by ice: most runs over the ice to
the rim (assumed)."""


def weather_dilution(balance: Balance, mixed_share: ArrayLike = 1.0) -> FloatArray:
    """The part of `dilution` that weather and animals bring about, without hand work.

    Of the water that overflows `mixed_share` has mixed with the tank, the rest has run
    over it to the rim: a number, or an array that fits (stations, members). Over ice
    `UNDER_ICE_MIXED_SHARE` of that mixes. Ask for stations one by one
    (`Balance.of_stations`) where only some are fouled.
    """
    shape = balance.start_volume_l.shape
    ice = balance.terms.ice
    parameters, capacity = (
        full_parameters(balance.parameters, shape),
        filled_to_shape(balance.columns.capacity_l, shape),
    )
    heel = HEEL_SHARE * capacity
    factor: FloatArray = aligned_empty(balance.volume_l.shape)
    with fast_columns():
        for days, loss in daily_losses(balance):
            # Leak and drinking are not needed apart, so their arrays serve as work space.
            mass, total, kept = factor[days], loss.leak_l, loss.drinking_l
            np.subtract(loss.morning_l, loss.evaporation_l, out=kept)
            np.maximum(kept, SMALLEST, out=total)
            np.subtract(kept, loss.left_l, out=mass)
            np.divide(mass, total, out=mass)
            np.subtract(1.0, mass, out=mass)

            inflow_into(total, kept, balance.terms, parameters, days, balance.rain_error)
            np.add(total, loss.left_l, out=total)
            np.minimum(total, capacity, out=kept)
            np.subtract(kept, total, out=total)
            if total.any():
                np.divide(total, capacity, out=total)
                np.multiply(total, mixed_share, out=total)
                if ice[days].any():
                    np.multiply(total, np.where(ice[days], UNDER_ICE_MIXED_SHARE, 1.0), out=total)
                np.exp(total, out=total)
                np.multiply(mass, total, out=mass)

            np.maximum(loss.morning_l, heel, out=total)
            np.multiply(mass, total, out=mass)
            np.maximum(kept, heel, out=kept)
            np.divide(mass, kept, out=mass)
    return factor
