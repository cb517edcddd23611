"""The day in autumn from which animals come more often, from counts of single days.

A Poisson rate that changes once: the exact posterior of the day, with the rates integrated
out under gamma priors (Raftery and Akman 1986, Biometrika 73(1):85-89; Carlin, Gelfand and
Smith 1992, Appl. Stat. 41(2):389-405). Only days after which more come count.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.errors import BadValue
from store.weather.days import FloatArray

PRIOR_SHAPE = 0.5
FEWEST_COUNTS = 8
"""Fewer counts than this tell no change from chance (assumed)."""
FEWEST_EACH_SIDE = 3
CLEAR_WITHIN_D = 30
"""A jump whose 80 percent interval is wider is not clear (assumed)."""


@dataclass(frozen=True)
class Pulse:
    """The first day of more use: 10, 50 and 90 percent quantiles, and animals a day around it."""

    low: date
    middle: date
    high: date
    before: float
    after: float
    counts: int

    @property
    def is_clear(self) -> bool:
        return (self.high - self.low).days <= CLEAR_WITHIN_D


def pulse_of(counts: Sequence[tuple[date, float]]) -> Pulse:
    """The jump in counts of animals a day, in any order.

    Raises:
        BadValue: too few counts, or none after which more animals came.
    """
    if len(counts) < FEWEST_COUNTS:
        raise BadValue(
            f"{len(counts)} counts are too few to see a jump in; at least {FEWEST_COUNTS} are "
            "needed."
        )
    days = [day for day, _ in sorted(counts)]
    values = np.array([count for _, count in sorted(counts)])
    chances = change_chances(values)
    first = np.arange(1, len(values))
    before = np.cumsum(values)[:-1] / first
    after = (values.sum() - np.cumsum(values)[:-1]) / (len(values) - first)
    counted = (first >= FEWEST_EACH_SIDE) & (len(values) - first >= FEWEST_EACH_SIDE)
    weights = np.where(counted & (after > before), chances, 0.0)
    if not weights.sum():
        raise BadValue("Use did not rise in these counts, so there is no jump to date.")
    ladder = np.cumsum(weights) / weights.sum()
    low, middle, high = (int(np.searchsorted(ladder, share)) for share in (0.1, 0.5, 0.9))
    return Pulse(
        days[low + 1],
        days[middle + 1],
        days[high + 1],
        float(before[middle]),
        float(after[middle]),
        len(values),
    )


def change_chances(values: FloatArray) -> FloatArray:
    """The chance that the rate changes after value 1, 2 .. n - 1; shape (n - 1,).

    Given that it changes once, each place equally likely beforehand.
    """
    count, total = len(values), float(values.sum())
    rate = PRIOR_SHAPE / max(total / count, 1e-9)
    sums = np.cumsum(values)[:-1]
    first = np.arange(1, count)
    log_weights = np.array(
        [
            _log_evidence(float(part), int(size), rate)
            + _log_evidence(total - float(part), count - int(size), rate)
            for part, size in zip(sums, first, strict=True)
        ]
    )
    weights = np.exp(log_weights - log_weights.max())
    return np.asarray(weights / weights.sum())


def _log_evidence(total: float, days: int, rate: float) -> float:
    """Of counts that sum to `total`, but for factors that are the same wherever it changes."""
    shape = total + PRIOR_SHAPE
    return (
        PRIOR_SHAPE * math.log(rate)
        - math.lgamma(PRIOR_SHAPE)
        + math.lgamma(shape)
        - shape * math.log(days + rate)
    )
