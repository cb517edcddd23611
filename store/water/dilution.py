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

from store.water.accounts import fluxes
from store.water.balance import Balance, ChangeKind
from store.weather.days import FloatArray

HEEL_SHARE = 0.01
"""Below this share of the capacity a concentration is counted as if dissolved in so
much water, so that a tank that dries out keeps what was in it (assumed)."""


def dilution(balance: Balance) -> FloatArray:
    """Factor by which the concentration changes each day, shape (days, stations, members).

    The product along the days is the concentration against the start. Exactly 1
    where nothing flows. A reading corrects the volume and leaves the concentration;
    a fill keeps the mass; draining keeps the concentration of what is left, and
    emptying the tank leaves nothing.
    """
    factor = weather_dilution(balance)
    for applied in balance.applied:
        change = applied.change
        heel = HEEL_SHARE * balance.columns.capacity_l[change.station, 0]
        counted = np.maximum(applied.before_l, heel) / np.maximum(applied.after_l, heel)
        if change.kind is ChangeKind.ADD:
            factor[change.day, change.station] *= counted
        elif change.kind is ChangeKind.DRAIN:
            left = np.divide(
                applied.after_l,
                applied.before_l,
                out=np.ones_like(applied.before_l),
                where=applied.before_l > 0.0,
            )
            factor[change.day, change.station] *= counted * left
    return factor


def weather_dilution(balance: Balance) -> FloatArray:
    """The part of `dilution` that weather and animals bring about, without hand work."""
    flow = fluxes(balance)
    kept = flow.start_l - flow.evaporation_l
    stayed = kept - flow.leak_l - flow.drinking_l
    mass = np.divide(stayed, kept, out=np.ones(kept.shape), where=kept > 0.0)
    mass *= np.exp(-flow.overflow_l / balance.columns.capacity_l)
    before_changes = flow.end_l - flow.changed_l
    return mass * _counted(balance, flow.start_l) / _counted(balance, before_changes)


def _counted(balance: Balance, volume_l: FloatArray) -> FloatArray:
    return np.maximum(volume_l, HEEL_SHARE * balance.columns.capacity_l)
