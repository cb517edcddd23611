"""The daily water balance of many tanks at once.

A column is one member of one station. A day goes in this order: the water of the
morning evaporates and leaks over its surface; animals drink what they can reach;
rain, snow and runoff come in; what stands above the rim spills; last come the
changes somebody made, in the order given. Columns never touch each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.water.forcing import Forcing
from store.water.one_day import (
    Tanks,
    aligned_empty,
    demand_into,
    fast_columns,
    filled_to_shape,
    full_parameters,
    gain_into,
    lose_into,
    water_comes,
)
from store.water.parameters import Parameters, TankSite
from store.water.terms import CHUNK_CELLS, Columns, Terms, columns_of, daily_terms
from store.weather.days import BoolArray, FloatArray

BLOCK_COLUMNS = 12_500
"""Columns taken through all days together, so that the score of arrays of a day stays in
the cache (20,000 at once take an eighth longer)."""


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
    None: to the rim for ADD; for DRAIN all but `kept_share` of the water goes; SET needs
    a volume.
    """

    day: int
    station: int
    kind: ChangeKind
    volume_l: ArrayLike | None = None
    kept_share: float = 0.0


@dataclass(frozen=True, eq=False)
class Applied:
    """A change with the volumes before and after it, shape (members,)."""

    change: Change
    before_l: FloatArray
    after_l: FloatArray


@dataclass(frozen=True, eq=False)
class Balance:
    """A run: volumes at the end of each day, shape (days, stations, members).

    `overflow_l` is what spilled over the rim, the mean of the members, shape (days,
    stations). Start the next run from `volume_l[-1]` to carry on. Whatever else flowed
    is derived from the volumes by `accounts`. Days without a tank keep the
    volume they have; a retired tank is emptied by a DRAIN.
    """

    start_volume_l: FloatArray
    volume_l: FloatArray
    overflow_l: FloatArray
    columns: Columns
    terms: Terms
    parameters: Parameters
    applied: tuple[Applied, ...]
    rain_error: FloatArray | None
    demand_error: FloatArray | None

    def of_stations(self, first: int, stop: int) -> Balance:
        """The part of the run that is about some stations; the arrays are views."""
        rows = slice(first, stop)

        def part(values: FloatArray, axis: int) -> FloatArray:
            values = np.atleast_2d(values)
            if values.shape[axis] == 1:
                return values
            return values[rows] if axis == 0 else values[:, rows]

        terms: dict[str, Any] = {name: part(value, 1) for name, value in vars(self.terms).items()}
        columns = {
            name: value if name == "surface_m2" else value[rows]
            for name, value in vars(self.columns).items()
        }
        return Balance(
            start_volume_l=self.start_volume_l[rows],
            volume_l=self.volume_l[:, rows],
            overflow_l=self.overflow_l[:, rows],
            columns=Columns(**columns),
            terms=Terms(**terms),
            parameters=self.parameters.map(lambda values: part(values, 0)),
            applied=tuple(
                replace(a, change=replace(a.change, station=a.change.station - first))
                for a in self.applied
                if first <= a.change.station < stop
            ),
            rain_error=None if self.rain_error is None else part(self.rain_error, 1),
            demand_error=None if self.demand_error is None else part(self.demand_error, 1),
        )


def run_balance(
    tank_sites: Sequence[TankSite],
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
    of members is whatever the arguments broadcast to.

    Raises:
        BadValue: an unknown start volume, or a change outside the run or without its
            volume.
    """
    columns = columns_of(tank_sites)
    terms = daily_terms(tank_sites, forcing, in_place, covered)
    shape = np.broadcast_shapes(
        (len(tank_sites), 1),
        np.shape(start_volume_l),
        terms.rain_l.shape[1:],
        *(np.shape(value) for value in vars(parameters).values()),
        *(error.shape[1:] for error in (rain_error, demand_error) if error is not None),
    )
    start = np.clip(filled_to_shape(start_volume_l, shape), 0.0, columns.capacity_l)
    if not np.isfinite(start).all():
        raise BadValue("The volume a run starts from is unknown; give a level for every tank.")
    by_day = changes_by_day(changes, forcing.days, len(tank_sites))
    with fast_columns():
        balance = Balance(
            start,
            aligned_empty((forcing.days, *shape)),
            np.zeros((forcing.days, len(tank_sites))),
            columns,
            terms,
            parameters,
            (),
            rain_error,
            demand_error,
        )
        applied: list[Applied] = []
        blocks = min(-(-start.size // BLOCK_COLUMNS), len(tank_sites))
        edges = np.linspace(0, len(tank_sites), blocks + 1).astype(int).tolist()
        for first, stop in pairwise(edges):
            applied += _run_days(balance.of_stations(first, stop), by_day, first)
        return replace(balance, applied=tuple(applied))


def _run_days(
    balance: Balance, changes: dict[int, list[Change]], first_station: int
) -> list[Applied]:
    """Fill volumes and overflow day by day, with `out=` because this loop is the cost.

    Fact weather and animals want is worked out for some days at once, which counts
    where columns are few; water coming in only on days that have any.
    """
    columns, terms = balance.columns, balance.terms
    shape = balance.start_volume_l.shape
    tanks = Tanks.of(columns, shape)
    parameters = full_parameters(balance.parameters, shape)
    leaks = bool(np.any(parameters.leak_mm_d))
    wet = water_comes(terms)
    at_once = max(1, CHUNK_CELLS // max(balance.start_volume_l.size, 1))
    fall_mm, wanted_l, work = (aligned_empty((at_once, *shape)) for _ in range(3))
    applied: list[Applied] = []
    now = balance.start_volume_l
    for day, evening in enumerate(balance.volume_l):
        row = day % at_once
        if row == 0:
            days = slice(day, min(day + at_once, len(wet)))
            fall, wanted = fall_mm[: days.stop - day], wanted_l[: days.stop - day]
            np.multiply(parameters.shelter, terms.evaporation_mm[days], out=fall)
            if leaks:
                np.add(fall, parameters.leak_mm_d, out=fall)
            demand_into(wanted, work[: len(wanted)], terms, parameters, days, balance.demand_error)
        lose_into(evening, tanks, now, fall[row], wanted[row])
        if wet[day]:
            error = None if balance.rain_error is None else balance.rain_error[day]
            gain_into(evening, balance.overflow_l[day], tanks, terms, parameters, day, error)
        for change in changes.get(day, ()):
            here = replace(change, station=change.station - first_station)
            if 0 <= here.station < shape[0]:
                done = apply_change(here, evening[here.station], columns)
                applied.append(replace(done, change=change))
        now = evening
    return applied


def apply_change(change: Change, volume_l: FloatArray, columns: Columns) -> Applied:
    """Make one change to a station's members in place."""
    before = volume_l.copy()
    capacity = columns.capacity_l[change.station, 0]
    if change.kind is ChangeKind.SET:
        after = np.asarray(change.volume_l, dtype=np.float64)
    elif change.volume_l is None:
        left = change.kept_share * before
        after = np.asarray(capacity) if change.kind is ChangeKind.ADD else left
    else:
        sign = 1.0 if change.kind is ChangeKind.ADD else -1.0
        after = before + sign * np.asarray(change.volume_l, dtype=np.float64)
    volume_l[:] = np.clip(after, 0.0, capacity)
    return Applied(change, before, volume_l.copy())


def changes_by_day(changes: Sequence[Change], days: int, stations: int) -> dict[int, list[Change]]:
    """Changes by the day of a run, in the order given.

    Raises:
        BadValue: a change outside the run, or without a volume it needs.
    """
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
