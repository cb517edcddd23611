"""What stations without readings borrow from stations like them.

A station's deviation from its prior is taken as one part common to its class (the
apron surface for the yield, the exposure for the shelter) and one part its own.
Fact the readings of the others say about the common part moves and narrows the
prior of a station that has none: the normal model with known variances of empirical
Bayes (Efron and Morris 1975, J. Am. Stat. Assoc. 70:311-319, value from memory).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np

from store.records import StationFacts
from store.water.parameters import Parameters
from store.water.priors import PARAMETER_NAMES, StationPriors
from store.weather.days import BoolArray, FloatArray

CLASS_SHARE = 0.5
"""Share of the prior variance that stations of a class have in common (assumed)."""
LEAST_LEARNED = 0.05
"""A station whose variance fell by less than this share says nothing."""


def borrowed_priors(
    stations: Sequence[StationFacts],
    priors: StationPriors,
    parameters: Parameters,
    taught: BoolArray,
) -> StationPriors:
    """Priors of all stations, changed for those that no reading taught.

    `parameters` are members that `priors` and the readings left, shape (stations,
    members); `taught` has shape (stations,). Taught stations keep their prior.
    """
    median, spread = priors.log_median.copy(), priors.log_spread.copy()
    surfaces = [station.apron_surface for station in stations]
    exposures = [station.exposure for station in stations]
    _borrow("apron_yield", surfaces, priors, parameters, taught, median, spread)
    _borrow("shelter", exposures, priors, parameters, taught, median, spread)
    return StationPriors(median, spread)


def _borrow(
    name: str,
    classes: Sequence[Hashable],
    priors: StationPriors,
    parameters: Parameters,
    taught: BoolArray,
    median: FloatArray,
    spread: FloatArray,
) -> None:
    """Write the borrowed medians and spreads of one parameter."""
    column = PARAMETER_NAMES.index(name)
    members = np.log(getattr(parameters, name))
    apart = members.mean(axis=1) - priors.log_median[:, column]
    variance = members.var(axis=1)
    usual = priors.log_spread[:, column] ** 2
    speaks = taught & (variance < (1.0 - LEAST_LEARNED) * usual)
    for one in set(classes):
        alike = np.array([other == one for other in classes])
        said, heard = alike & speaks, alike & ~taught
        if not (said.any() and heard.any()):
            continue
        fallen = 1.0 - variance[said] / usual[said]
        deviation = apart[said] / fallen
        error = variance[said] / fallen
        weight = 1.0 / (error + (1.0 - CLASS_SHARE) * usual[said])
        for station in np.flatnonzero(heard):
            common = CLASS_SHARE * usual[station]
            known = 1.0 / (1.0 / common + weight.sum())
            median[station, column] += known * float((weight * deviation).sum())
            spread[station, column] = np.sqrt(known + (1.0 - CLASS_SHARE) * usual[station])
