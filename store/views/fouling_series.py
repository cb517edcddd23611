"""How strong a fouled tank's water is, and how much it is used, day by day, with a band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.contamination.estimates import WeightedRun
from store.contamination.habit import BACK
from store.contamination.mixing import Array
from store.contamination.parameters import Priors
from store.model.recovery import EventRecovery

DAYS_AFTER = 45
"""Shown beyond the late date of use."""
EDGES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, eq=False)
class FoulingSeries:
    """Shares from `first_day` on, each array (days,): the median and the 80 percent band.

    `threshold` is the share at which animals come back, as the median of the cause; for
    the habit it is the habit that counts as used again.
    """

    first_day: date
    median: Array
    low: Array
    high: Array
    threshold: float

    @property
    def last_day(self) -> date:
        return self.first_day + timedelta(days=len(self.median) - 1)


def strength_series(recovery: EventRecovery, priors: Priors) -> FoulingSeries | None:
    """The concentration as things stand, against the usual case of the cause.

    None by rule of thumb, and where nothing is dissolved and the habit alone is broken.
    """
    expected = recovery.outlook.expected
    if expected is None or not expected.run.concentration.any():
        return None
    concentration = expected.run.concentration
    return _banded(recovery, expected, concentration, priors["clear_share"].median)


def habit_series(recovery: EventRecovery) -> FoulingSeries | None:
    """The habit of use as things stand, 0 to 1; None by rule of thumb."""
    expected = recovery.outlook.expected
    return None if expected is None else _banded(recovery, expected, expected.run.habit, BACK)


def _banded(
    recovery: EventRecovery, expected: WeightedRun, values: Array, threshold: float
) -> FoulingSeries:
    first = expected.run.first_day
    late = recovery.outlook.waiting.used.high
    days = len(values) if late is None else (late - first).days + 1 + DAYS_AFTER
    bands = daily_quantiles(values[:days], expected.weights)
    return FoulingSeries(first, bands[0.5], bands[0.1], bands[0.9], threshold)


def daily_quantiles(values: Array, weights: Array) -> Mapping[float, Array]:
    """The weighted quantiles at `EDGES` of each day; values (days, members)."""
    order = np.argsort(values, axis=1)
    ranked = np.take_along_axis(values, order, axis=1)
    reached = np.cumsum(weights[order], axis=1)
    last = values.shape[1] - 1
    quantiles = {}
    for edge in EDGES:
        at = np.minimum((reached < edge - 1e-9).sum(axis=1), last)
        quantiles[edge] = np.take_along_axis(ranked, at[:, np.newaxis], axis=1)[:, 0]
    return quantiles
