"""What stations learn from the readings of stations like them.

A station's deviation from its prior is taken as one part common to its class (the
apron surface for the yield, the exposure for the shelter, the tract for the rut) and
one part its own. What the readings of the others say about the common part moves and
narrows the prior: the normal model with known variances of empirical Bayes (Efron and
Morris 1975, J. Am. Stat. Assoc. 70:311-319, value from memory). A station without
readings borrows all of it; one with readings of its own hears of the rut alone, for what
it drank in the last one is little told by the summer.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from store.records import StationFacts
from store.water.parameters import Parameters
from store.water.priors import PARAMETER_NAMES, StationPriors
from store.weather.days import BoolArray, FloatArray

CLASS_SHARE = 0.5
"""Share of the prior variance that stations of a class have in common (assumed)."""
HABITS = ("rut", "rut_day")
"""What animals do in the rut, much alike all over a tract (assumed)."""
CLASSES: Mapping[str, Callable[[StationFacts], Hashable]] = MappingProxyType(
    {
        "apron_yield": lambda station: station.apron_surface,
        "shelter": lambda station: station.exposure,
        **{name: lambda station: station.tract_id for name in HABITS},
    }
)
"""Of whom a station without readings borrows what."""
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
    for name, class_of in CLASSES.items():
        column, classes = PARAMETER_NAMES.index(name), [class_of(one) for one in stations]
        learned = _learned(name, priors, parameters, taught)
        for station in np.flatnonzero(~taught).tolist():
            told = _told(learned, classes, station)
            if told is not None:
                median[station, column] += told.shift
                spread[station, column] = told.spread
    return StationPriors(median, spread)


def weights_by_neighbours(
    stations: Sequence[StationFacts],
    priors: StationPriors,
    parameters: Parameters,
    taught: BoolArray,
) -> FloatArray:
    """How much each member counts once a taught station hears of its tract's rut.

    Shape (stations, members). The prior that its members were drawn from is exchanged for
    the one its neighbours leave.
    """
    log_weight = np.zeros(parameters.rut.shape)
    classes = [station.tract_id for station in stations]
    for name in HABITS:
        column = PARAMETER_NAMES.index(name)
        learned = _learned(name, priors, parameters, taught)
        for station in np.flatnonzero(taught).tolist():
            told = _told(learned, classes, station)
            if told is not None:
                apart = np.log(getattr(parameters, name)[station])
                apart -= priors.log_median[station, column]
                usual = priors.log_spread[station, column]
                log_weight[station] += 0.5 * (apart / usual) ** 2
                log_weight[station] -= 0.5 * ((apart - told.shift) / told.spread) ** 2
    return np.asarray(np.exp(log_weight - log_weight.max(axis=1, keepdims=True)))


@dataclass(frozen=True)
class _Told:
    """By how much others of its class move the logarithm of a prior, and its new spread."""

    shift: float
    spread: float


@dataclass(frozen=True, eq=False)
class _Learned:
    """What all stations say of the logarithm of one parameter; arrays of shape (stations,).

    `apart` is the mean from its prior, `usual` the variance of the prior; `says` is whether a
    station was taught enough to say anything.
    """

    apart: FloatArray
    variance: FloatArray
    usual: FloatArray
    says: BoolArray


def _learned(
    name: str, priors: StationPriors, parameters: Parameters, taught: BoolArray
) -> _Learned:
    column = PARAMETER_NAMES.index(name)
    members = np.log(getattr(parameters, name))
    apart = members.mean(axis=1) - priors.log_median[:, column]
    variance = members.var(axis=1)
    usual = priors.log_spread[:, column] ** 2
    return _Learned(apart, variance, usual, taught & (variance < (1.0 - LEAST_LEARNED) * usual))


def _told(learned: _Learned, classes: Sequence[Hashable], hearer: int) -> _Told | None:
    """What the stations of its class but itself tell a station; None if nothing."""
    usual = learned.usual
    said = learned.says & np.array([one == classes[hearer] for one in classes])
    said[hearer] = False
    if not said.any():
        return None
    fallen = 1.0 - learned.variance[said] / usual[said]
    deviation, error = learned.apart[said] / fallen, learned.variance[said] / fallen
    weight = 1.0 / (error + (1.0 - CLASS_SHARE) * usual[said])
    known = 1.0 / (1.0 / (CLASS_SHARE * usual[hearer]) + weight.sum())
    own = (1.0 - CLASS_SHARE) * usual[hearer]
    return _Told(known * float((weight * deviation).sum()), float(np.sqrt(known + own)))
