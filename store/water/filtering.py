"""Following stations through time: members with model error, taught by readings.

Every evening goes in the order of a visit: a level that was set (an install, an
unknown start), the readings, then what was taken out or brought.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.water.balance import Change, ChangeKind, apply_change, run_balance, wanted_of_evening_l
from store.water.forcing import Forcing
from store.water.hindsight import Hindsight
from store.water.model_errors import (
    BLOCK_DAYS,
    ErrorState,
    blank_state,
    carry_errors,
    draw_normals,
    wet_days,
)
from store.water.observing import Observation, UseCount
from store.water.parameters import Parameters, TankSite
from store.water.priors import PARAMETER_NAMES, StationPriors, renewed
from store.water.quantiles import member_quantiles
from store.water.seeds import Purpose, station_rng
from store.water.terms import columns_of
from store.water.updating import Beliefs, ReadingCheck, members_by_weight, update, update_by_counts
from store.weather.days import BoolArray, FloatArray

VISIT_ROW = PARAMETER_NAMES.index("visit_l")


@dataclass(frozen=True, eq=False)
class FilterRun:
    """Stations followed to the last day of the forcing.

    `p10_l`, `p50_l` and `p90_l` are volumes at the end of each day, shape (days,
    stations), knowing the readings up to that day; `hindsight_l` are the three once the next
    reading or count is known too, shape (3, days, stations). `overflow_l` is what spilled, the
    mean of the members. `volume_l` and `parameters` are the members of the last
    evening, shape (stations, members), all equally likely; `errors` is where the
    model's errors stand. `prior` is what it began from and `checks` holds every
    reading, by day.
    """

    station_ids: tuple[str, ...]
    last_day: date
    p10_l: FloatArray
    p50_l: FloatArray
    p90_l: FloatArray
    hindsight_l: FloatArray
    overflow_l: FloatArray
    volume_l: FloatArray
    prior: Parameters
    parameters: Parameters
    errors: ErrorState
    checks: tuple[ReadingCheck, ...]

    def drawn_again(self, weight: FloatArray) -> FilterRun:
        """The same with its members of the last evening drawn again by weight.

        `weight` has shape (stations, members); a station whose members weigh alike keeps
        them. What was said of earlier days stays.
        """
        source = np.tile(np.arange(weight.shape[1]), (len(weight), 1))
        for station, station_id in enumerate(self.station_ids):
            if np.ptp(weight[station]) > 0.0:
                rng = station_rng(station_id, Purpose.NEIGHBOURS, self.last_day.toordinal())
                source[station] = members_by_weight(weight[station], rng)

        def drawn(values: FloatArray) -> FloatArray:
            return np.take_along_axis(values, source, axis=1)

        errors = self.errors
        wet = errors.wet
        return replace(
            self,
            volume_l=drawn(self.volume_l),
            parameters=self.parameters.map(drawn),
            errors=ErrorState(
                drawn(errors.storm),
                drawn(errors.demand),
                wet if wet.shape[1] == 1 else np.take_along_axis(wet, source, axis=1),
            ),
        )

    def of_station(self, station: int, first_day: int = 0) -> FilterRun:
        """One station of the run, its days counted from `first_day`."""
        row = slice(station, station + 1)
        errors = self.errors
        return replace(
            self,
            station_ids=self.station_ids[row],
            p10_l=self.p10_l[first_day:, row],
            p50_l=self.p50_l[first_day:, row],
            p90_l=self.p90_l[first_day:, row],
            hindsight_l=self.hindsight_l[:, first_day:, row],
            overflow_l=self.overflow_l[first_day:, row],
            volume_l=self.volume_l[row],
            prior=self.prior.map(lambda values: values[row]),
            parameters=self.parameters.map(lambda values: values[row]),
            errors=ErrorState(
                errors.storm[row],
                errors.demand[row],
                errors.wet[row] if len(errors.wet) > 1 else errors.wet,
            ),
            checks=tuple(
                check.moved(-first_day, station=0)
                for check in self.checks
                if check.observation.station == station
            ),
        )


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
) -> FilterRun:
    """Follow every station, learning from its readings.

    `prior` has shape (stations, members), `start_volume_l` broadcasts to it;
    `in_place` and `covered` have shape (days, stations). Forcing with members has
    as many. `errors` is the state an earlier run left, whose stations in place go on
    from it; a station's errors begin on its first day in place. `counts` tell of what animals
    want. `demand_share` (days,
    stations) multiplies what animals want. On the evenings of `new_years` the habits of
    animals drift towards `priors`. `evenings_read` says on how many evenings each station was
    read before the run. A station's numbers depend on nothing but its own
    arguments, so it may be followed alone, or with others of its site.

    Raises:
        BadValue: a reading outside the run, or as `run_balance`.
    """
    days, stations = forcing.days, len(tank_sites)
    values = np.array([getattr(prior, name) for name in vars(prior)])
    members = values.shape[2]
    readings = _by_day(observations, days, stations)
    before, after = _parted(changes, readings)
    wet = wet_days(forcing)
    begins = _first_days(in_place, days, stations)
    if errors is not None:
        begins[0] = False
    columns = columns_of(tank_sites)
    state = blank_state(stations, members) if errors is None else errors
    volume = np.broadcast_to(np.asarray(start_volume_l, dtype=np.float64), (stations, members))
    quantiles, overflow = np.empty((3, days, stations)), np.empty((days, stations))
    checks: list[ReadingCheck] = []
    read = [0] * stations if evenings_read is None else list(evenings_read)
    first = forcing.first_day.toordinal()
    block, fresh = -1, np.empty(0, dtype=np.float32)
    counted = _by_day(counts, days, stations)
    hindsight = Hindsight(days, stations)
    ends = {*readings, *counted, *new_years}
    for start, stop in _spans(days, first, ends):
        if (first + start) // BLOCK_DAYS != block:
            block = (first + start) // BLOCK_DAYS
            fresh = draw_normals(station_ids, Purpose.ERRORS, block, members)
        span, offset = slice(start, stop), first - block * BLOCK_DAYS
        strayed, state = carry_errors(
            state, fresh[:, start + offset : stop + offset], wet[span], begins[span]
        )
        balance = run_balance(
            tank_sites,
            forcing.between(start, stop),
            Parameters(*values),
            volume,
            changes=[_moved(change, -start) for change in before if start <= change.day < stop],
            in_place=None if in_place is None else in_place[span],
            covered=None if covered is None else covered[span],
            rain_error=strayed.rain,
            demand_error=strayed.demand
            if demand_share is None
            else strayed.demand * demand_share[span, :, np.newaxis],
        )
        said = member_quantiles(balance.volume_l)
        hindsight.remember(start, balance.volume_l, said)
        quantiles[:, span] = said
        volume = balance.volume_l[-1]
        evening = first + stop - 1
        for station, seen in readings.get(stop - 1, {}).items():
            rng = station_rng(station_ids[station], Purpose.READING, evening)
            beliefs = Beliefs(volume[station], values[:, station])
            updated = update(beliefs, tank_sites[station].tank, seen, rng, read[station])
            read[station] += 1
            volume[station] = updated.beliefs.volume_l
            values[:, station] = updated.beliefs.parameters
            for standing in (state.storm, state.demand):
                standing[station] = standing[station][updated.source]
            hindsight.look_back(station, stop - 1, updated.source)
            checks += updated.checks
        if stop - 1 in counted:
            wanted = wanted_of_evening_l(balance)
            for station, seen_use in counted[stop - 1].items():
                rng = station_rng(station_ids[station], Purpose.COUNT, evening)
                beliefs = Beliefs(volume[station], values[:, station])
                visit_l = values[VISIT_ROW, station]
                told, source = update_by_counts(beliefs, seen_use, wanted[station], visit_l, rng)
                volume[station], values[:, station] = told.volume_l, told.parameters
                hindsight.look_back(station, stop - 1, source)
                for standing in (state.storm, state.demand):
                    standing[station] = standing[station][source]
        for change in after.get(stop - 1, ()):
            apply_change(change, volume[change.station], columns)
        if priors is not None and stop - 1 in new_years:
            for station, station_id in enumerate(station_ids):
                if in_place is not None and not in_place[:stop, station].any():
                    continue
                rng = station_rng(station_id, Purpose.NEW_YEAR, evening)
                values[:, station] = renewed(values[:, station], priors, station, rng)
        quantiles[:, stop - 1] = hindsight.quantiles_l[:, stop - 1] = member_quantiles(volume)
        overflow[span] = balance.overflow_l
    return FilterRun(
        station_ids=tuple(station_ids),
        last_day=date.fromordinal(first + days - 1),
        p10_l=quantiles[0],
        p50_l=quantiles[1],
        p90_l=quantiles[2],
        hindsight_l=hindsight.quantiles_l,
        overflow_l=overflow,
        volume_l=volume,
        prior=prior,
        parameters=Parameters(*values),
        errors=state,
        checks=tuple(checks),
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


def _parted(
    changes: Sequence[Change], readings: dict[int, dict[int, list[Observation]]]
) -> tuple[list[Change], dict[int, list[Change]]]:
    """Changes the balance makes, and by day those that come after a reading."""
    before: list[Change] = []
    after: dict[int, list[Change]] = {}
    for change in changes:
        if change.kind is not ChangeKind.SET and change.station in readings.get(change.day, {}):
            after.setdefault(change.day, []).append(change)
        else:
            before.append(change)
    return before, after


def _moved(change: Change, days: int) -> Change:
    return replace(change, day=change.day + days)


def _first_days(in_place: BoolArray | None, days: int, stations: int) -> BoolArray:
    """True on the first day a station has a tank, shape (days, stations)."""
    begins = np.zeros((days, stations), dtype=bool)
    first = 0 if in_place is None else in_place.argmax(axis=0)
    begins[first, np.arange(stations)] = True
    return begins


def _spans(days: int, first_ordinal: int, ends: Container[int]) -> Iterator[tuple[int, int]]:
    """Days from a start to a stop, each at one of `ends`, of a block of errors or of the run."""
    start = 0
    for day in range(days):
        stop = day + 1
        if day in ends or (first_ordinal + stop) % BLOCK_DAYS == 0 or stop == days:
            yield start, stop
            start = stop
