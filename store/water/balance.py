"""The daily water balance of many tanks at once.

A column is one member of one station. A day goes in this order: the water of the
morning evaporates and leaks over its surface; animals drink what they can reach;
rain, snow and runoff come in; what stands above the rim spills; last come the
changes somebody made, in the order given. Columns never touch each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.water.forcing import Forcing
from store.water.parameters import Parameters, Setting
from store.water.terms import Columns, Terms, columns_of, daily_terms
from store.weather.days import BoolArray, FloatArray


class ChangeKind(StrEnum):
    SET = "set"
    """The level was read: the volume is now `volume_l`."""
    ADD = "add"
    """Water was brought; what is more than the tank takes is not counted."""
    DRAIN = "drain"
    """Water was taken out."""


@dataclass(frozen=True, eq=False)
class Change:
    """Something done to the water of a station at the end of a day.

    `day` and `station` are indices; `volume_l` is a number or of shape (members,).
    None: to the rim for ADD, to the bottom for DRAIN; SET needs a volume.
    """

    day: int
    station: int
    kind: ChangeKind
    volume_l: ArrayLike | None = None


@dataclass(frozen=True, eq=False)
class Applied:
    """A change with the volumes before and after it, shape (members,)."""

    change: Change
    before_l: FloatArray
    after_l: FloatArray


@dataclass(frozen=True, eq=False)
class Balance:
    """A run: volumes at the end of each day, shape (days, stations, members).

    Start the next run from `volume_l[-1]` to carry on. Everything that flowed is
    derived from the volumes by `accounts.fluxes`. Days without a tank keep the
    volume they have; a retired tank is emptied by a DRAIN.
    """

    start_volume_l: FloatArray
    volume_l: FloatArray
    columns: Columns
    terms: Terms
    parameters: Parameters
    applied: tuple[Applied, ...]
    rain_error: FloatArray | None
    demand_error: FloatArray | None


def run_balance(
    settings: Sequence[Setting],
    forcing: Forcing,
    parameters: Parameters,
    start_volume_l: ArrayLike,
    *,
    changes: Sequence[Change] = (),
    in_place: BoolArray | None = None,
    covered: BoolArray | None = None,
    rain_error: FloatArray | None = None,
    demand_error: FloatArray | None = None,
) -> Balance:
    """Run all stations and members through the days of the forcing.

    `start_volume_l` broadcasts to (stations, members); `in_place` and `covered`
    have shape (days, stations); `rain_error` and `demand_error` multiply the water
    coming in and the demand, shape (days, stations or 1, members or 1). The number
    of members is whatever the arguments broadcast to. Raises `BadValue` for an
    unknown start volume and for a change outside the run or without its volume.
    """
    columns = columns_of(settings)
    terms = daily_terms(settings, forcing, in_place, covered)
    shape = np.broadcast_shapes(
        (len(settings), 1),
        np.shape(start_volume_l),
        terms.rain_l.shape[1:],
        *(np.shape(value) for value in vars(parameters).values()),
        *(error.shape[1:] for error in (rain_error, demand_error) if error is not None),
    )
    start = np.clip(_spread(start_volume_l, shape), 0.0, columns.capacity_l)
    if not np.isfinite(start).all():
        raise BadValue("The volume a run starts from is unknown; give a level for every tank.")
    by_day = _by_day(changes, forcing.days, len(settings))
    volume = np.empty((forcing.days, *shape))
    applied = _run_days(volume, start, columns, terms, parameters, by_day, rain_error, demand_error)
    return Balance(
        start, volume, columns, terms, parameters, tuple(applied), rain_error, demand_error
    )


def _run_days(
    volume: FloatArray,
    start: FloatArray,
    columns: Columns,
    terms: Terms,
    parameters: Parameters,
    changes: dict[int, list[Change]],
    rain_error: FloatArray | None,
    demand_error: FloatArray | None,
) -> list[Applied]:
    """Fill `volume` day by day; written with `out=` because this loop is the cost."""
    shape = start.shape
    capacity, unreachable = (
        _spread(columns.capacity_l, shape),
        _spread(columns.unreachable_l, shape),
    )
    bins_per_l, first_bin = _spread(columns.bins_per_l, shape), _spread(columns.first_bin, shape)
    shelter, drinking = _spread(parameters.shelter, shape), _spread(parameters.drinking, shape)
    leak, leaks = _spread(parameters.leak_mm_d, shape), bool(np.any(parameters.leak_mm_d))
    wet = _any_by_day(terms.rain_l) | _any_by_day(terms.snow_l) | _any_by_day(terms.runoff_l)
    one, two, bins = np.empty(shape), np.empty(shape), np.empty(shape, dtype=np.intp)
    applied: list[Applied] = []
    now = start
    for day, evening in enumerate(volume):
        np.multiply(now, bins_per_l, out=one)
        np.add(one, first_bin, out=one)
        np.copyto(bins, one, casting="unsafe")
        columns.surface_m2.take(bins, out=two, mode="clip")
        np.multiply(shelter, terms.evaporation_mm[day], out=one)
        if leaks:
            np.add(one, leak, out=one)
        np.multiply(one, two, out=one)
        np.subtract(now, one, out=two)
        np.multiply(drinking, terms.demand_l[day], out=one)
        if demand_error is not None:
            np.multiply(one, demand_error[day], out=one)
        np.subtract(two, one, out=one)
        np.minimum(two, unreachable, out=two)
        np.maximum(one, two, out=one)
        np.maximum(one, 0.0, out=evening)
        if wet[day]:
            np.add(evening, inflow_l(terms, parameters, day, rain_error), out=evening)
            np.minimum(evening, capacity, out=evening)
        for change in changes.get(day, ()):
            applied.append(_apply(change, evening[change.station], columns))
        now = evening
    return applied


def inflow_l(
    terms: Terms, parameters: Parameters, days: int | slice, rain_error: FloatArray | None
) -> FloatArray:
    """Rain, snow and runoff in L reaching the tanks on a day or a slice of days."""
    water = terms.rain_l[days]
    if terms.runoff_l[days].any():
        water = water + parameters.apron_yield * terms.runoff_l[days]
    water = parameters.rain * water
    if terms.snow_l[days].any():
        water = water + parameters.snow_catch * terms.snow_l[days]
    return water if rain_error is None else water * rain_error[days]


def _apply(change: Change, volume_l: FloatArray, columns: Columns) -> Applied:
    """Make one change to a station's members in place."""
    before = volume_l.copy()
    capacity = columns.capacity_l[change.station, 0]
    if change.kind is ChangeKind.SET:
        after = np.asarray(change.volume_l, dtype=np.float64)
    elif change.volume_l is None:
        after = np.asarray(capacity if change.kind is ChangeKind.ADD else 0.0)
    else:
        sign = 1.0 if change.kind is ChangeKind.ADD else -1.0
        after = before + sign * np.asarray(change.volume_l, dtype=np.float64)
    volume_l[:] = np.clip(after, 0.0, capacity)
    return Applied(change, before, volume_l.copy())


def _by_day(changes: Sequence[Change], days: int, stations: int) -> dict[int, list[Change]]:
    by_day: dict[int, list[Change]] = {}
    for change in changes:
        if not (0 <= change.day < days and 0 <= change.station < stations):
            raise BadValue(
                f"A change on day {change.day} at station {change.station} lies outside a run "
                f"of {days} days and {stations} stations; leave it out or lengthen the run."
            )
        if change.kind is ChangeKind.SET and change.volume_l is None:
            raise BadValue(f"The reading of day {change.day} has no volume; give one.")
        if change.volume_l is not None and not (np.asarray(change.volume_l) >= 0.0).all():
            raise BadValue(
                f"The volume of the change on day {change.day} must be 0 or more; correct it."
            )
        by_day.setdefault(change.day, []).append(change)
    return by_day


def _spread(values: ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    return np.array(np.broadcast_to(np.asarray(values, dtype=np.float64), shape))


def _any_by_day(values: FloatArray) -> BoolArray:
    return np.asarray(values.any(axis=(1, 2)))
