"""The dates a contaminated tank is told by: ranges, choices and outlooks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from store.contamination.choices import Way
from store.contamination.costs import Cost
from store.contamination.mixing import Array
from store.contamination.parameters import CAVEAT
from store.contamination.recovery_run import RecoveryRun
from store.contamination.signs import weighted_quantile

RULE_OF_THUMB = "rule of thumb"


@dataclass(frozen=True)
class DateQuantiles:
    """Early, middle and late dates (10, 50 and 90 percent); None: not within sight."""

    low: date | None
    median: date | None
    high: date | None

    def not_before(self, day: date) -> DateQuantiles:
        """The same, with earlier dates moved to that day."""
        low, median, high = (
            None if one is None else max(one, day) for one in (self.low, self.median, self.high)
        )
        return DateQuantiles(low, median, high)


@dataclass(frozen=True)
class Choice:
    """One way out. `chance` is that of being used again by the date asked for, 0 to 1."""

    way: Way
    clear: DateQuantiles
    used: DateQuantiles
    chance: float | None
    cost: Cost

    def not_before(self, day: date) -> Choice:
        """The same for work done on a day: nothing comes of it earlier."""
        return replace(self, clear=self.clear.not_before(day), used=self.used.not_before(day))


@dataclass(frozen=True, eq=False)
class WeightedRun:
    """A run and the weights of its members, (members,), which sum to 1."""

    run: RecoveryRun
    weights: Array


@dataclass(frozen=True, eq=False)
class RecoveryForecast:
    """The choices, waiting first, with the signs seen; `before_signs` waits without them.

    `expected` is the run as things stand with the `weights` of its members, for
    `station_outlook`; None by rule of thumb.
    """

    choices: tuple[Choice, ...]
    before_signs: Choice
    basis: str
    expected: WeightedRun | None = None
    caveat: str = CAVEAT

    @property
    def waiting(self) -> Choice:
        return self.choices[0]


def choice(way: Way, one: RecoveryRun, weights: Array, price: Cost, before: date | None) -> Choice:
    """The dates of a run; also for several events of a station taken together."""
    used = one.used_days
    chance = None
    if before is not None:
        chance = min(float(weights[used <= (before - one.first_day).days].sum()), 1.0)
    return Choice(
        way=way,
        clear=date_quantiles(one.first_day, one.clear_days, weights),
        used=date_quantiles(one.first_day, used, weights),
        chance=chance,
        cost=price,
    )


def date_quantiles(first_day: date, days: Array, weights: Array) -> DateQuantiles:
    """The 80 percent range of dates and its median, from days per member."""
    low, median, high = (
        first_day + timedelta(days=int(at)) if np.isfinite(at) else None
        for at in weighted_quantile(days, weights, (0.1, 0.5, 0.9))
    )
    return DateQuantiles(low, median, high)
