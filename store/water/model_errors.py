"""How far the model's own rain and demand stray from what a tank gets.

The rain of a storm at the station is the recorded one times a lognormal error that
holds until a dry day; demand is multiplied by a lognormal error that wanders from
day to day. Both have a mean of one. Without them the bands of a taught model lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from store.water.forcing import Forcing
from store.water.seeds import Purpose, station_rng
from store.weather.days import BoolArray, FloatArray

STORM_SPREAD = 0.55
"""Standard deviation of the logarithm of a storm's error (tuned, tests/bench/twins.py)."""
DEMAND_SPREAD = 0.55
"""Standard deviation of the logarithm of the demand's error (tuned, as above)."""
DEMAND_MEMORY_D = 10.0
"""Days after which a demand error has faded to 1/e (tuned, as above)."""
WET_MM = 0.1
BLOCK_DAYS = 64
"""Errors are drawn in blocks of calendar days, so a longer run keeps its past."""

_KEEP = float(np.exp(-1.0 / DEMAND_MEMORY_D))
_RENEW = float(np.sqrt(1.0 - _KEEP**2))


@dataclass(frozen=True, eq=False)
class ErrorState:
    """Where the errors stand in the evening, as standard normal numbers.

    `storm` and `demand` have shape (stations, members); `wet` has shape (stations,
    members or 1) and is true while a storm lasts.
    """

    storm: FloatArray
    demand: FloatArray
    wet: BoolArray

    def of_station(self, station: int) -> ErrorState:
        """The state of one station."""
        row = slice(station, station + 1)
        return ErrorState(
            self.storm[row], self.demand[row], self.wet[row] if len(self.wet) > 1 else self.wet
        )


@dataclass(frozen=True, eq=False)
class Errors:
    """Multipliers for `run_balance`, shape (days, stations, members)."""

    rain: FloatArray
    demand: FloatArray


def wet_days(forcing: Forcing) -> BoolArray:
    """Days on which water comes to a tank, shape (days, stations or 1, members or 1)."""
    return np.asarray(forcing.rain_mm + forcing.snow_mm + forcing.apron_mm > WET_MM)


def blank_state(stations: int, members: int) -> ErrorState:
    """The state before the first day of every station."""
    zero = np.zeros((stations, members))
    return ErrorState(zero, zero, np.zeros((stations, 1), dtype=bool))


def draw_normals(
    station_ids: Sequence[str], purpose: Purpose, block: int, members: int
) -> NDArray[np.float32]:
    """Fresh numbers of one block of days, shape (2, BLOCK_DAYS, stations, members)."""
    shape = (2, BLOCK_DAYS, members)
    drawn = np.empty((2, BLOCK_DAYS, len(station_ids), members), dtype=np.float32)
    for row, station_id in enumerate(station_ids):
        rng = station_rng(station_id, purpose, block)
        drawn[:, :, row] = rng.standard_normal(shape, dtype=np.float32)
    return drawn


def carry_errors(
    state: ErrorState, fresh: NDArray[np.float32], wet: BoolArray, begins: BoolArray
) -> tuple[Errors, ErrorState]:
    """Errors of the next days and the state after them.

    `fresh` has shape (2, days, stations, members); `wet` has shape
    (days, stations or 1, members or 1), `begins` (days, stations): true on a
    station's first day.
    """
    storm, demand = state.storm.copy(), state.demand.copy()
    new_storm = storms_begin(state.wet, wet, begins)
    storms, demands = np.empty(fresh.shape[1:]), np.empty(fresh.shape[1:])
    for day in range(len(wet)):
        carry_day(storm, demand, fresh[:, day], new_storm[day], begins[day])
        storms[day], demands[day] = storm, demand
    return Errors(rain_errors(storms), demand_errors(demands)), ErrorState(
        storm, demand, np.broadcast_to(wet[-1], new_storm.shape[1:]).copy()
    )


def storms_begin(wet_before: BoolArray, wet: BoolArray, begins: BoolArray) -> BoolArray:
    """Where a storm takes a new error, shape (days, stations or 1, members or 1).

    `wet_before` is how it was on the evening before; `wet` and `begins` as `carry_errors`.
    """
    shape = np.broadcast_shapes(wet.shape[1:], wet_before.shape)
    wet = np.broadcast_to(wet, (len(wet), *shape))
    before = np.concatenate([np.broadcast_to(wet_before, (1, *shape)), wet[:-1]])
    return np.asarray(wet & (~before | begins[:, :, np.newaxis]))


def carry_day(
    storm: FloatArray,
    demand: FloatArray,
    fresh: NDArray[np.float32],
    new_storm: BoolArray,
    begins: BoolArray,
) -> None:
    """Carry the errors on by a day, in place; the arguments are one day of `carry_errors`'."""
    if new_storm.any():
        np.copyto(storm, fresh[0], where=new_storm)
    demand *= _KEEP
    demand += _RENEW * fresh[1]
    if begins.any():
        np.copyto(demand, fresh[1], where=begins[:, np.newaxis])


def rain_errors(storm: FloatArray) -> FloatArray:
    """Multipliers of the water that comes in, in the place of the numbers of storms."""
    return _lognormal(storm, STORM_SPREAD)


def demand_errors(demand: FloatArray) -> FloatArray:
    """Multipliers of what animals want, in the place of the numbers of demand."""
    return _lognormal(demand, DEMAND_SPREAD)


def _lognormal(normal: FloatArray, spread: float) -> FloatArray:
    """exp(spread * normal) scaled to a mean of one, in place."""
    normal *= spread
    normal -= spread**2 / 2.0
    return np.exp(normal, out=normal)
