"""Following stations through time: members with model error, taught by readings.

Every evening goes in the order of a visit: a level that was set (an install, an
unknown start), the readings, what was taken out or brought, and the readings after it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.water.balance import Change, ChangeKind, apply_change, changes_by_day
from store.water.filter_members import beginning
from store.water.filter_run import FilterRun, FilterState
from store.water.forcing import Forcing
from store.water.hindsight import Hindsight, LookedBack
from store.water.model_errors import BLOCK_DAYS, ErrorState, storms_begin, wet_days
from store.water.observing import Observation, UseCount
from store.water.one_day import fast_columns
from store.water.parameters import Parameters, TankSite
from store.water.priors import StationPriors
from store.water.quantiles import member_quantiles
from store.water.seeds import Purpose
from store.water.updating import ReadingCheck
from store.weather.days import BoolArray, FloatArray


def follow(
    station_ids: Sequence[str],
    tank_sites: Sequence[TankSite],
    forcing: Forcing,
    prior: Parameters,
    start_volume_l: ArrayLike,
    *,
    observations: Sequence[Observation] = (),
    counts: Sequence[UseCount] = (),
    changes: Sequence[Change] = (),
    in_place: BoolArray | None = None,
    covered: BoolArray | None = None,
    errors: ErrorState | None = None,
    demand_share: FloatArray | None = None,
    new_years: Collection[int] = (),
    priors: StationPriors | None = None,
    evenings_read: Sequence[int] | None = None,
    starts: Sequence[int] | None = None,
    looked_back: tuple[LookedBack, ...] = (),
    marks: Collection[int] = (),
) -> FilterRun:
    """Follow every station, learning from its readings.

    `prior` has shape (stations, members), `start_volume_l` broadcasts to it; `in_place` and
    `covered` have shape (days, stations). Forcing with members has as many. `errors` is the
    state an earlier run left, whose stations in place go on from it; a station's errors begin
    on its first day in place. `counts` tell of what animals want. `demand_share` (days,
    stations) multiplies what animals want. On the evenings of `new_years` the habits of animals
    drift towards `priors`. `evenings_read` says on how many evenings each station was read
    before the run and `looked_back` what a reading may be asked about the days before it;
    `marks` are evenings of which the state is wanted. `starts` names the day on which each
    station's own run begins, below 0 where it did before. A station's numbers depend on nothing
    but its own arguments, so it may be followed alone, or with others.

    Raises:
        BadValue: a reading outside the run, or as `run_balance`.
    """
    days, stations = forcing.days, len(tank_sites)
    on_coming, leaving = _on_coming_and_leaving(observations, days, stations)
    counted = _by_day(counts, days, stations)
    before, after = _parted(changes, on_coming)
    by_day = changes_by_day(before, days, stations)
    own = _own_starts(starts, days, stations)
    begins = _first_days(in_place, days, stations)
    if errors is not None:
        begins[0] &= own[0]
    members = beginning(station_ids, tank_sites, prior, start_volume_l, errors, evenings_read)
    wet, hindsight = wet_days(forcing), Hindsight(days, stations, looked_back)
    quantiles, overflow = np.empty((3, days, stations)), np.zeros((days, stations))
    checks: list[ReadingCheck] = []
    states: dict[int, FilterState] = {}
    with fast_columns():
        for start, stop in _blocks(days, forcing.first_day.toordinal()):
            span = slice(start, stop)
            members.begin_block(
                forcing.between(start, stop),
                None if in_place is None else in_place[span],
                None if covered is None else covered[span],
                None if demand_share is None else demand_share[span],
            )
            new_storm = storms_begin(members.wet, wet[span], begins[span] | own[span])
            hindsight.begin(start, members.volumes_l)
            for day in range(start, stop):
                members.begin_anew(own[day])
                members.carry_errors(new_storm[day - start], begins[day], wet[day])
                members.pass_day(overflow[day])
                for change in by_day.get(day, ()):
                    apply_change(change, members.volume_l[change.station], members.columns)
                for station, seen in on_coming.get(day, {}).items():
                    source, said = members.read(station, seen, Purpose.READING)
                    hindsight.look_back(station, day, source)
                    checks += said
                for station, uses in counted.get(day, {}).items():
                    hindsight.look_back(station, day, members.count(station, uses))
                for change in after.get(day, ()):
                    apply_change(change, members.volume_l[change.station], members.columns)
                for station, seen in leaving.get(day, {}).items():
                    source, said = members.read(station, seen, Purpose.READING_AFTER_WORK)
                    hindsight.look_back(station, day, source)
                    checks += said
                if priors is not None and day in new_years:
                    members.renew(priors, _stood(in_place, day, stations))
                if day in marks:
                    states[day] = members.state(hindsight, day)
            quantiles[:, span] = member_quantiles(members.volumes_l)
            hindsight.end(quantiles[:, span])
    return FilterRun(
        station_ids=tuple(station_ids),
        last_day=date.fromordinal(forcing.first_day.toordinal() + days - 1),
        p10_l=quantiles[0],
        p50_l=quantiles[1],
        p90_l=quantiles[2],
        hindsight_l=hindsight.quantiles_l,
        overflow_l=overflow,
        volume_l=members.volume_l.copy(),
        prior=prior,
        parameters=Parameters(*members.values),
        errors=members.errors,
        checks=tuple(checks),
        states=states,
        earlier_l=hindsight.earlier_l,
    )


Seen = TypeVar("Seen", Observation, UseCount)


def _by_day(
    observations: Sequence[Seen], days: int, stations: int
) -> dict[int, dict[int, list[Seen]]]:
    """Readings or counts by day, then by station."""
    result: dict[int, dict[int, list[Seen]]] = {}
    for seen in sorted(observations, key=lambda seen: (seen.day, seen.station)):
        if not (0 <= seen.day < days and 0 <= seen.station < stations):
            raise BadValue(
                f"A reading on day {seen.day} at station {seen.station} lies outside a run "
                f"of {days} days and {stations} stations; leave it out or lengthen the run."
            )
        result.setdefault(seen.day, {}).setdefault(seen.station, []).append(seen)
    return result


def _on_coming_and_leaving(
    observations: Sequence[Observation], days: int, stations: int
) -> tuple[dict[int, dict[int, list[Observation]]], dict[int, dict[int, list[Observation]]]]:
    """Readings by day, then by station: those before the day's work, and those after it."""
    parts: tuple[list[Observation], list[Observation]] = ([], [])
    for seen in observations:
        parts[seen.after_work].append(seen)
    return _by_day(parts[0], days, stations), _by_day(parts[1], days, stations)


def _parted(
    changes: Sequence[Change], readings: dict[int, dict[int, list[Observation]]]
) -> tuple[list[Change], dict[int, list[Change]]]:
    """Changes made at once, and by day those that come after a reading on coming."""
    before: list[Change] = []
    after: dict[int, list[Change]] = {}
    for change in changes:
        if change.kind is not ChangeKind.SET and change.station in readings.get(change.day, {}):
            after.setdefault(change.day, []).append(change)
        else:
            before.append(change)
    return before, after


def _own_starts(starts: Sequence[int] | None, days: int, stations: int) -> BoolArray:
    """True on the day a station's own run begins, shape (days, stations)."""
    own = np.zeros((days, stations), dtype=bool)
    for station, day in enumerate(starts or ()):
        if 0 <= day < days:
            own[day, station] = True
    return own


def _first_days(in_place: BoolArray | None, days: int, stations: int) -> BoolArray:
    """True on the first day a station has a tank, shape (days, stations)."""
    begins = np.zeros((days, stations), dtype=bool)
    first = 0 if in_place is None else in_place.argmax(axis=0)
    begins[first, np.arange(stations)] = True
    return begins


def _stood(in_place: BoolArray | None, day: int, stations: int) -> BoolArray:
    """Whether each station had a tank on some day up to one, shape (stations,)."""
    if in_place is None:
        return np.ones(stations, dtype=bool)
    return np.asarray(in_place[: day + 1].any(axis=0))


def _blocks(days: int, first_ordinal: int) -> Iterator[tuple[int, int]]:
    """Days from a start to a stop, cut where a block of errors ends."""
    start = 0
    while start < days:
        stop = min(start + BLOCK_DAYS - (first_ordinal + start) % BLOCK_DAYS, days)
        yield start, stop
        start = stop
