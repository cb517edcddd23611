"""Where the water of a run came from and went, derived from its volumes.

Everything is worked out for a few days at a time, so that what is needed on the way
stays in the cache and takes the same little memory for any number of stations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from store.errors import BadValue
from store.water.balance import (
    Applied,
    Balance,
)
from store.water.one_day import (
    aligned_empty,
    demand_into,
    fast_columns,
    filled_to_shape,
    full_parameters,
)
from store.water.terms import CHUNK_CELLS
from store.weather.days import FloatArray

SMALLEST = float(np.finfo(np.float64).tiny)
"""Takes the place of a divisor of 0 where the dividend is 0 too: the share is then 0."""


@dataclass(frozen=True, eq=False)
class Budget:
    """Litres of a period, the mean of the members; every array has shape (stations,).

    `start_l` is the volume before the first day, `end_l` after the last, the others are
    sums: start + rain + snow + runoff - evaporation - leak - drinking - overflow + changed
    = end. What arrived counts before any spill; `changed_l` is the net of readings, fills and
    draining.
    """

    start_l: FloatArray
    rain_l: FloatArray
    snow_l: FloatArray
    runoff_l: FloatArray
    evaporation_l: FloatArray
    leak_l: FloatArray
    drinking_l: FloatArray
    overflow_l: FloatArray
    changed_l: FloatArray
    end_l: FloatArray


def budget(balance: Balance, start: int = 0, stop: int | None = None) -> Budget:
    """The sums of the days from index `start` up to and without `stop`.

    No array of a size that grows with the days is made.
    """
    begin, end = _period(balance, start, stop)
    terms, parameters = balance.terms, balance.parameters
    evaporation, leak, drinking, changed = np.zeros((4, len(balance.start_volume_l)))
    with fast_columns():
        for _, loss in daily_losses(balance, start, stop):
            evaporation += loss.evaporation_l.mean(axis=2).sum(axis=0)
            leak += loss.leak_l.mean(axis=2).sum(axis=0)
            drinking += loss.drinking_l.mean(axis=2).sum(axis=0)
    for applied in _applied(balance, begin, end):
        changed[applied.change.station] += (applied.after_l - applied.before_l).mean()

    def arrived(values: FloatArray, *multiples: FloatArray) -> FloatArray:
        total = _summed(values, balance.rain_error, begin, end)
        for multiple in multiples:
            total = total * multiple
        return np.asarray(np.broadcast_to(total, balance.start_volume_l.shape).mean(axis=1))

    return Budget(
        start_l=_evening(balance, begin - 1).mean(axis=1),
        rain_l=arrived(terms.rain_l, parameters.rain),
        snow_l=arrived(terms.snow_l, parameters.snow_catch),
        runoff_l=arrived(terms.runoff_l, parameters.rain, parameters.apron_yield),
        evaporation_l=evaporation,
        leak_l=leak,
        drinking_l=drinking,
        overflow_l=balance.overflow_l[begin:end].sum(axis=0),
        changed_l=changed,
        end_l=_evening(balance, end - 1).mean(axis=1),
    )


def day_chunks(balance: Balance, start: int = 0, stop: int | None = None) -> Iterator[slice]:
    """The period in slices of few enough days to stay in the cache; day 0 on its own,
    because its morning is not among the evenings of the run."""
    first, end = _period(balance, start, stop)
    at_once = max(1, CHUNK_CELLS // max(balance.start_volume_l.size, 1))
    while first < end:
        last = 1 if first == 0 else min(first + at_once, end)
        yield slice(first, last)
        first = last


def _period(balance: Balance, start: int, stop: int | None) -> tuple[int, int]:
    days = len(balance.volume_l)
    end = days if stop is None else stop
    if not 0 <= start <= end <= days:
        raise BadValue(
            f"Days {start} up to {end} are not in a run of {days} days; ask for days it has."
        )
    return start, end


def _evening(balance: Balance, day: int) -> FloatArray:
    """The volumes at the end of a day; day -1 is the evening before the run."""
    return balance.volume_l[day] if day >= 0 else balance.start_volume_l


def _applied(balance: Balance, begin: int, end: int) -> list[Applied]:
    return [applied for applied in balance.applied if begin <= applied.change.day < end]


def _summed(values: FloatArray, error: FloatArray | None, begin: int, end: int) -> FloatArray:
    """The sum over days, each multiplied by its error; shape without the days."""
    if error is None:
        return np.asarray(values[begin:end].sum(axis=0))
    shape = np.broadcast_shapes(values.shape[1:], error.shape[1:])
    total = np.zeros(shape)
    for day in range(begin, end):
        if values[day].any():
            total += values[day] * error[day]
    return total


@dataclass(frozen=True, eq=False)
class Losses:
    """What left the tanks before any water came in, shape (days, stations, members)."""

    morning_l: FloatArray
    evaporation_l: FloatArray
    leak_l: FloatArray
    drinking_l: FloatArray
    left_l: FloatArray


def daily_losses(
    balance: Balance, start: int = 0, stop: int | None = None
) -> Iterator[tuple[slice, Losses]]:
    """The losses of a few days at a time: they follow from the morning's volume alone.

    By the same arithmetic as the run. The arrays are those of the days before, filled
    anew: use them before asking for the next days.
    """
    columns, terms, shape = balance.columns, balance.terms, balance.start_volume_l.shape
    parameters = full_parameters(balance.parameters, shape)
    bins_per_l = filled_to_shape(columns.bins_per_l, shape)
    unreachable, leaks = (
        filled_to_shape(columns.unreachable_l, shape),
        bool(parameters.leak_mm_d.any()),
    )
    chunks = list(day_chunks(balance, start, stop))
    size = (max((days.stop - days.start for days in chunks), default=0), *shape)
    whole = [aligned_empty(size) for _ in range(5)] + [aligned_empty(size, np.intp)]
    for days in chunks:
        evaporation, leak, drunk, left, work, bins = (
            array[: days.stop - days.start] for array in whole
        )
        before = balance.start_volume_l[np.newaxis]
        morning = before if days.start == 0 else balance.volume_l[days.start - 1 : days.stop - 1]
        np.multiply(morning, bins_per_l, out=work)
        np.copyto(bins, work, casting="unsafe")
        np.add(bins, columns.first_bin, out=bins)
        columns.surface_m2.take(bins, out=work, mode="clip")
        np.multiply(parameters.shelter, terms.evaporation_mm[days], out=evaporation)
        np.add(evaporation, parameters.leak_mm_d, out=left)
        np.multiply(work, left, out=work)
        np.minimum(work, morning, out=work)
        if leaks:
            np.maximum(left, SMALLEST, out=left)
            np.divide(evaporation, left, out=evaporation)
            np.multiply(evaporation, work, out=evaporation)
            np.subtract(work, evaporation, out=leak)
        else:
            evaporation[...] = work
            leak[...] = 0.0
        np.subtract(morning, work, out=left)
        demand_into(drunk, work, terms, parameters, days, balance.demand_error)
        np.subtract(left, unreachable, out=work)
        np.maximum(work, 0.0, out=work)
        np.minimum(drunk, work, out=drunk)
        np.subtract(left, drunk, out=left)
        yield days, Losses(morning, evaporation, leak, drunk, left)
