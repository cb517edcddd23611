"""Scores of ensembles against what came out.

`observed` has shape (...) and `members` (..., members). A NaN anywhere in a case
makes its score NaN; `covered` and `murphy_split` leave such cases out.
"""

from __future__ import annotations

from math import lgamma, log
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.weather.days import FloatArray


def crps(observed: ArrayLike, members: ArrayLike, *, fair: bool = False) -> FloatArray:
    """Continuous ranked probability score of an ensemble, shape (...), in its own unit.

    mean|x - y| - sum|xi - xj| / (2 m^2) (Gneiting and Raftery 2007, J. Am. Stat.
    Assoc. 102:359-378); `fair` divides by 2 m (m - 1) and needs two members.

    Raises:
        BadValue: fair with one member.
    """
    y = np.asarray(observed, dtype=np.float64)
    x = np.sort(np.asarray(members, dtype=np.float64), axis=-1)
    count = x.shape[-1]
    if fair and count < 2:
        raise BadValue("The fair score of an ensemble needs at least two members.")
    apart = np.abs(x - y[..., np.newaxis]).mean(axis=-1)
    rank_weight = 2.0 * np.arange(count) - count + 1.0
    spread = (x * rank_weight).sum(axis=-1)
    return np.asarray(apart - spread / (count * (count - 1 if fair else count)))


def brier(happened: ArrayLike, probability: ArrayLike) -> FloatArray:
    """Brier score (p - o)^2 of a forecast probability, any shape."""
    return np.asarray((np.asarray(probability, dtype=np.float64) - np.asarray(happened)) ** 2)


class MurphySplit(NamedTuple):
    """Mean Brier score = reliability - resolution + uncertainty."""

    reliability: float
    resolution: float
    uncertainty: float


def murphy_split(happened: ArrayLike, probability: ArrayLike) -> MurphySplit:
    """The Brier score taken apart over the distinct probabilities; both of shape (cases,).

    Source: Murphy (1973), J. Appl. Meteorol. 12:595-600 (value from memory).
    """
    o, p = np.asarray(happened, dtype=np.float64), np.asarray(probability, dtype=np.float64)
    known = ~np.isnan(o + p)
    o, p = o[known], p[known]
    _, group = np.unique(p, return_inverse=True)
    count = np.bincount(group)
    said, came = np.bincount(group, p) / count, np.bincount(group, o) / count
    weight, usual = count / count.sum(), o.mean()
    return MurphySplit(
        float((weight * (said - came) ** 2).sum()),
        float((weight * (came - usual) ** 2).sum()),
        float(usual * (1.0 - usual)),
    )


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
