"""Where ensembles put what came out, what that scores, and what chance allows.

`observed` has shape (...) and `members` (..., members). A NaN anywhere in a case
makes its place NaN, and `covered` leaves it out.
"""

from __future__ import annotations

from math import lgamma, log

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.weather.days import FloatArray


def randomised_pit(observed: ArrayLike, members: ArrayLike, rng: np.random.Generator) -> FloatArray:
    """Where the observation falls in the ensemble, 0 to 1, shape (...).

    Uniform for a calibrated ensemble: of m members with b below and t equal, a
    uniform place among the m + 1 ranks from b to b + t (Czado, Gneiting and Held
    2009, Biometrics 65:1254-1261, value from memory, with the observation counted
    among the members).
    """
    y = np.asarray(observed, dtype=np.float64)[..., np.newaxis]
    x = np.asarray(members, dtype=np.float64)
    below, equal = (x < y).sum(axis=-1), (x == y).sum(axis=-1)
    place = (below + rng.random(below.shape) * (equal + 1.0)) / (x.shape[-1] + 1.0)
    return np.where(np.isnan(y[..., 0]) | np.isnan(x).any(axis=-1), np.nan, place)


def crps(observed: ArrayLike, members: ArrayLike, estimator: str = "qd") -> FloatArray:
    """The continuous ranked probability score by `scoringrules`, shape (...).

    That library compiles its parts as it is loaded, which takes seconds: so it is where
    something is scored, and not in every process that only looks for tests.
    """
    from scoringrules import crps_ensemble

    return np.asarray(crps_ensemble(observed, members, estimator=estimator))


def brier(happened: ArrayLike, chance: ArrayLike) -> FloatArray:
    """The Brier score of each case by `scoringrules`, loaded where something is scored."""
    from scoringrules import brier_score

    return np.asarray(brier_score(happened, chance))


def covered(pit: ArrayLike, share: float) -> float:
    """The share of cases whose observation lies inside the central band of `share`.

    Raises:
        BadValue: no case is known.
    """
    known = np.asarray(pit, dtype=np.float64)
    known = known[~np.isnan(known)]
    if not known.size:
        raise BadValue("There is no case to score.")
    return float((np.abs(known - 0.5) <= share / 2.0).mean())


def binomial_limits(cases: int, probability: float, level: float = 0.95) -> tuple[int, int]:
    """The fewest and the most hits that chance allows, `level` of the probability between."""
    logs = log(probability), log(1.0 - probability)
    log_chance = [
        lgamma(cases + 1)
        - lgamma(hits + 1)
        - lgamma(cases - hits + 1)
        + hits * logs[0]
        + (cases - hits) * logs[1]
        for hits in range(cases + 1)
    ]
    below = np.cumsum(np.exp(log_chance))
    tail = (1.0 - level) / 2.0
    return int(np.searchsorted(below, tail)), int(np.searchsorted(below, 1.0 - tail))
