"""Members and model errors for days to come, so that outlooks carry both."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.water.filter_run import FilterRun
from store.water.forcing import Forcing
from store.water.model_errors import (
    BLOCK_DAYS,
    Errors,
    ErrorState,
    carry_errors,
    draw_normals,
    wet_days,
)
from store.water.parameters import Parameters
from store.water.seeds import Purpose, station_rng
from store.weather.days import FloatArray


@dataclass(frozen=True, eq=False)
class Ahead:
    """Where forecast members begin: arrays of shape (stations, members)."""

    station_ids: tuple[str, ...]
    volume_l: FloatArray
    parameters: Parameters
    errors: ErrorState


def forecast_start(followed: FilterRun, members: int) -> Ahead:
    """Forecast members begun from followed ones, each used as often as the others.

    With the weather of a past year in every forecast member, `members` is best a
    multiple of the years.
    """
    stations, followed_members = followed.volume_l.shape
    dealt = np.empty((stations, members), dtype=np.intp)
    for row, station_id in enumerate(followed.station_ids):
        rng = station_rng(station_id, Purpose.DEAL)
        rounds = -(-members // followed_members)
        orders = [rng.permutation(followed_members) for _ in range(rounds)]
        dealt[row] = np.concatenate(orders)[:members]

    def taken(values: FloatArray) -> FloatArray:
        return np.take_along_axis(values, dealt, axis=1)

    errors = followed.errors
    return Ahead(
        station_ids=followed.station_ids,
        volume_l=taken(followed.volume_l),
        parameters=followed.parameters.map(taken),
        errors=ErrorState(
            taken(errors.storm),
            taken(errors.demand),
            np.take_along_axis(np.broadcast_to(errors.wet, followed.volume_l.shape), dealt, axis=1),
        ),
    )


def forecast_errors(ahead: Ahead, forcing: Forcing) -> Errors:
    """Model errors for the days of `forcing`, shape (days, stations, members).

    They go on from the last evening. Forcing with members has one for each of
    `ahead`, which is then how long each member's storms last.
    """
    blocks = [
        draw_normals(ahead.station_ids, Purpose.AHEAD, block, ahead.volume_l.shape[1])
        for block in range(-(-forcing.days // BLOCK_DAYS))
    ]
    fresh = np.concatenate(blocks, axis=1)[:, : forcing.days]
    begins = np.zeros((forcing.days, len(ahead.station_ids)), dtype=bool)
    return carry_errors(ahead.errors, fresh, wet_days(forcing), begins)[0]
