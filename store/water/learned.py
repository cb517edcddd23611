"""What a station's readings have taught about its parameters, in plain numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.water.filter_run import FilterRun
from store.water.priors import PARAMETER_NAMES
from store.water.quantiles import member_quantiles
from store.water.updating import ReadingCheck
from store.weather.days import FloatArray

NARROWED_TO = 0.8
SHIFTED_BY = 0.5
"""A parameter is told apart from its prior when its band shrank to this share, or its
median moved by so many prior spreads (assumed)."""
BAND_SPREADS = 2.0 * 1.2816
"""Standard deviations between the 10 and the 90 percent quantile of a normal."""


@dataclass(frozen=True)
class Learned:
    """One parameter of a station: 10, 50 and 90 percent quantiles before and after.

    `narrowed` is the width of the band now over the prior's and `shifted` the move
    of the median in prior spreads, both of the logarithm. `taught_by` is the place
    in `FilterRun.checks` of the reading that moved it most; None where the readings
    did not tell it apart from its prior.
    """

    parameter: str
    prior: tuple[float, float, float]
    now: tuple[float, float, float]
    narrowed: float
    shifted: float
    taught_by: int | None


def learned(followed: FilterRun, station: int) -> tuple[Learned, ...]:
    """Every parameter of the station at that index, in the order of `PARAMETER_NAMES`."""
    own = [
        (place, check)
        for place, check in enumerate(followed.checks)
        if check.observation.station == station
    ]
    return tuple(
        _learned(
            name,
            member_quantiles(getattr(followed.prior, name)[station]),
            member_quantiles(getattr(followed.parameters, name)[station]),
            [(place, _move(check, index)) for place, check in own],
        )
        for index, name in enumerate(PARAMETER_NAMES)
    )


def _learned(
    name: str, prior: FloatArray, now: FloatArray, moves: list[tuple[int, float]]
) -> Learned:
    narrowed = _width(now) / _width(prior)
    shifted = float(np.log(now[1] / prior[1])) / (_width(prior) / BAND_SPREADS)
    apart = bool(moves) and (narrowed <= NARROWED_TO or abs(shifted) >= SHIFTED_BY)
    return Learned(
        parameter=name,
        prior=_three(prior),
        now=_three(now),
        narrowed=narrowed,
        shifted=shifted,
        taught_by=max(moves, key=lambda move: move[1])[0] if apart else None,
    )


def _move(check: ReadingCheck, parameter: int) -> float:
    """How far a reading moved the median and the width, in logarithms."""
    before, after = check.parameters_before[parameter], check.parameters_after[parameter]
    width = abs(_width(after) - _width(before)) / BAND_SPREADS
    return abs(float(np.log(after[1] / before[1]))) + width


def _width(quantiles: FloatArray) -> float:
    return float(np.log(quantiles[2] / quantiles[0]))


def _three(quantiles: FloatArray) -> tuple[float, float, float]:
    low, middle, high = (float(value) for value in quantiles)
    return low, middle, high
