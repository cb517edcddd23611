"""What following stations gives: what was known on every day, and where they stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

import numpy as np

from store.water.hindsight import LookedBack
from store.water.model_errors import ErrorState
from store.water.parameters import Parameters
from store.water.seeds import Purpose, station_rng
from store.water.updating import ReadingCheck, members_by_weight
from store.weather.days import FloatArray


@dataclass(frozen=True, eq=False)
class FilterState:
    """Where stations stand on an evening, all that a run needs to go on from it.

    `volume_l` and `parameters` have shape (stations, members). `evenings_read` says on how
    many evenings each was read so far, `looked_back` what a reading still to come is asked.
    """

    volume_l: FloatArray
    parameters: Parameters
    errors: ErrorState
    evenings_read: tuple[int, ...]
    looked_back: tuple[LookedBack, ...]

    def of_station(self, station: int) -> FilterState:
        """The state of one station."""
        row = slice(station, station + 1)
        return FilterState(
            self.volume_l[row],
            self.parameters.map(lambda values: values[row]),
            self.errors.of_station(station),
            self.evenings_read[row],
            self.looked_back[row],
        )


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
    states: Mapping[int, FilterState] = field(default_factory=dict)
    """Where the stations stood on evenings that were asked for, by day."""
    earlier_l: FloatArray | None = None
    """Of a run that went on from a state, `hindsight_l` of the days before it, as
    `Hindsight.earlier_l`."""

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
        return replace(
            self,
            states={},
            earlier_l=None,
            station_ids=self.station_ids[row],
            p10_l=self.p10_l[first_day:, row],
            p50_l=self.p50_l[first_day:, row],
            p90_l=self.p90_l[first_day:, row],
            hindsight_l=self.hindsight_l[:, first_day:, row],
            overflow_l=self.overflow_l[first_day:, row],
            volume_l=self.volume_l[row],
            prior=self.prior.map(lambda values: values[row]),
            parameters=self.parameters.map(lambda values: values[row]),
            errors=self.errors.of_station(station),
            checks=tuple(
                check.moved(-first_day, station=0)
                for check in self.checks
                if check.observation.station == station
            ),
        )
