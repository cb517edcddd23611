"""The members of stations as they go from evening to evening."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from store.errors import BadValue
from store.water.filter_run import FilterState
from store.water.forcing import Forcing
from store.water.hindsight import Hindsight
from store.water.model_errors import (
    BLOCK_DAYS,
    ErrorState,
    blank_state,
    carry_day,
    demand_errors,
    draw_normals,
    rain_errors,
)
from store.water.observing import Observation, UseCount
from store.water.one_day import (
    Tanks,
    aligned_empty,
    demand_into,
    filled_to_shape,
    gain_into,
    lose_into,
    water_comes,
)
from store.water.parameters import Parameters, TankSite
from store.water.priors import PARAMETER_NAMES, StationPriors, renewed
from store.water.seeds import Purpose, station_rng
from store.water.terms import Columns, Terms, columns_of, daily_terms
from store.water.updating import Beliefs, ReadingCheck, read_on, update, update_by_counts
from store.weather.days import BoolArray, FloatArray

VISIT_ROW = PARAMETER_NAMES.index("visit_l")


@dataclass(frozen=True, eq=False)
class _Block:
    """Days that share their draws: what drives them, and the members of their evenings.

    `fresh` has shape (2, days, stations, members), `share` (days, stations) or None,
    `volumes_l` (days, stations, members).
    """

    first_ordinal: int
    terms: Terms
    wet: BoolArray
    fresh: NDArray[np.float32]
    share: FloatArray | None
    volumes_l: FloatArray


class FilterMembers:
    """Members of some stations; arrays of shape (stations, members), changed in place.

    `values` holds the parameters in the order of `PARAMETER_NAMES`, `volume_l` the evening
    that was reached.
    """

    def __init__(
        self,
        station_ids: Sequence[str],
        tank_sites: Sequence[TankSite],
        values: FloatArray,
        volume_l: FloatArray,
        errors: ErrorState,
        evenings_read: Sequence[int],
    ) -> None:
        self.station_ids, self.tank_sites = station_ids, tank_sites
        self.values, self.volume_l = values, volume_l
        self.columns: Columns = columns_of(tank_sites)
        self.wet = errors.wet
        self._storm, self._demand = errors.storm.copy(), errors.demand.copy()
        self._read = list(evenings_read)
        shape = volume_l.shape
        self._tanks = Tanks.of(self.columns, shape)
        self._fall, self._error = aligned_empty(shape), aligned_empty(shape)
        self._rain = aligned_empty(shape)
        self._wanted, self._work = aligned_empty((1, *shape)), aligned_empty((1, *shape))
        self._row, self._evening = -1, 0
        self._block: _Block | None = None

    @property
    def volumes_l(self) -> FloatArray:
        """The evenings of the block under way, shape (days, stations, members)."""
        return self._now.volumes_l

    @property
    def _now(self) -> _Block:
        assert self._block is not None
        return self._block

    @property
    def errors(self) -> ErrorState:
        return ErrorState(self._storm.copy(), self._demand.copy(), self.wet.copy())

    @property
    def _parameters(self) -> Parameters:
        return Parameters(*self.values)

    def begin_block(
        self,
        forcing: Forcing,
        in_place: BoolArray | None,
        covered: BoolArray | None,
        demand_share: FloatArray | None,
    ) -> None:
        """Take up the next days, which lie within one block of draws."""
        first, members = forcing.first_day.toordinal(), self.values.shape[2]
        block, offset = divmod(first, BLOCK_DAYS)
        fresh = _drawn(tuple(self.station_ids), block, members)
        terms = daily_terms(self.tank_sites, forcing, in_place, covered)
        self._block = _Block(
            first,
            terms,
            water_comes(terms),
            fresh[:, offset : offset + forcing.days],
            demand_share,
            aligned_empty((forcing.days, *self.volume_l.shape)),
        )
        self._row = -1

    def begin_anew(self, stations: BoolArray) -> None:
        """Forget the errors of stations whose own run begins in the morning."""
        if stations.any():
            self._storm[stations], self._demand[stations] = 0.0, 0.0

    def carry_errors(self, new_storm: BoolArray, begins: BoolArray, wet: BoolArray) -> None:
        """Go to the next day of the block, whose errors take the place of yesterday's."""
        self._row += 1
        self._evening = self._now.first_ordinal + self._row
        fresh = self._now.fresh[:, self._row]
        carry_day(self._storm, self._demand, fresh, new_storm, begins)
        self.wet = np.broadcast_to(wet, new_storm.shape)

    def pass_day(self, overflow_l: FloatArray) -> None:
        """Let a day go by up to what people do; the mean that spilled goes to `overflow_l`."""
        block, row, parameters = self._now, self._row, self._parameters
        np.copyto(self._error, self._demand)
        demand_errors(self._error)
        if block.share is not None:
            np.multiply(self._error, block.share[row][:, np.newaxis], out=self._error)
        np.multiply(parameters.shelter, block.terms.evaporation_mm[row], out=self._fall)
        np.add(self._fall, parameters.leak_mm_d, out=self._fall)
        self._want(parameters)
        evening = block.volumes_l[row]
        lose_into(evening, self._tanks, self.volume_l, self._fall, self._wanted[0])
        if block.wet[row]:
            np.copyto(self._rain, self._storm)
            rain = rain_errors(self._rain)
            gain_into(evening, overflow_l, self._tanks, block.terms, parameters, row, rain)
        self.volume_l = evening

    def _want(self, parameters: Parameters) -> None:
        """Work out what animals want that day."""
        days = slice(self._row, self._row + 1)
        demand_into(self._wanted, self._work, self._now.terms, parameters, days, None)
        np.multiply(self._wanted[0], self._error, out=self._wanted[0])

    def read(
        self, station: int, readings: Sequence[Observation], purpose: Purpose
    ) -> tuple[NDArray[np.intp], tuple[ReadingCheck, ...]]:
        """Learn from the readings of a station: where each member came from, and the checks.

        `purpose` is what numbers are drawn for, another one for each time on an evening.
        """
        rng = station_rng(self.station_ids[station], purpose, self._evening)
        updated = update(
            self._beliefs(station),
            self.tank_sites[station].tank,
            readings,
            rng,
            self._read[station],
        )
        self._read[station] = read_on(self._read[station], updated.checks)
        self._take(station, updated.beliefs, updated.source)
        return updated.source, updated.checks

    def count(self, station: int, counts: Sequence[UseCount]) -> NDArray[np.intp]:
        """Learn from counts of animals: where each member came from."""
        self._want(self._parameters)
        rng = station_rng(self.station_ids[station], Purpose.COUNT, self._evening)
        visit_l = self.values[VISIT_ROW, station]
        told, source = update_by_counts(
            self._beliefs(station), counts, self._wanted[0, station], visit_l, rng
        )
        self._take(station, told, source)
        return source

    def _beliefs(self, station: int) -> Beliefs:
        return Beliefs(self.volume_l[station], self.values[:, station])

    def _take(self, station: int, beliefs: Beliefs, source: NDArray[np.intp]) -> None:
        self.volume_l[station] = beliefs.volume_l
        self.values[:, station] = beliefs.parameters
        for standing in (self._storm, self._demand):
            standing[station] = standing[station][source]

    def renew(self, priors: StationPriors, stations: BoolArray) -> None:
        """Let the habits of animals at some stations drift over the turn of a year."""
        for station in np.flatnonzero(stations).tolist():
            rng = station_rng(self.station_ids[station], Purpose.NEW_YEAR, self._evening)
            self.values[:, station] = renewed(self.values[:, station], priors, station, rng)

    def state(self, hindsight: Hindsight, day: int) -> FilterState:
        """Where the stations stand on the evening that was reached, `day` of the run."""
        stations = range(len(self.station_ids))
        return FilterState(
            self.volume_l.copy(),
            Parameters(*self.values.copy()),
            self.errors,
            tuple(self._read),
            tuple(hindsight.standing(station, day) for station in stations),
        )


@lru_cache(maxsize=2)
def _drawn(station_ids: tuple[str, ...], block: int, members: int) -> NDArray[np.float32]:
    """The numbers of a block, which short spans share."""
    return draw_normals(station_ids, Purpose.ERRORS, block, members)


def beginning(
    station_ids: Sequence[str],
    tank_sites: Sequence[TankSite],
    prior: Parameters,
    start_volume_l: ArrayLike,
    errors: ErrorState | None,
    evenings_read: Sequence[int] | None,
) -> FilterMembers:
    """Members at the start of a run; the arguments are those of `filtering.follow`.

    Raises:
        BadValue: an unknown start volume.
    """
    given = [getattr(prior, name) for name in PARAMETER_NAMES]
    values: FloatArray = aligned_empty((len(given), *given[0].shape))
    values[...] = given
    shape = values.shape[1:]
    capacity_l = columns_of(tank_sites).capacity_l
    volume = filled_to_shape(
        np.clip(filled_to_shape(start_volume_l, shape), 0.0, capacity_l), shape
    )
    if not np.isfinite(volume).all():
        raise BadValue("The volume a run starts from is unknown; give a level for every tank.")
    state = blank_state(*shape) if errors is None else errors
    read = [0] * len(tank_sites) if evenings_read is None else evenings_read
    return FilterMembers(station_ids, tank_sites, values, volume, state, read)
