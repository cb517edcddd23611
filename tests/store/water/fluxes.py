"""Every flux of every day, as the tests and benches look at a run."""

from dataclasses import dataclass, fields

import numpy as np

from store.water.accounts import daily_losses
from store.water.balance import (
    Balance,
    ChangeKind,
)
from store.water.dilution import HEEL_SHARE, weather_dilution
from store.water.one_day import (
    aligned_empty,
)
from store.weather.days import FloatArray


@dataclass(frozen=True, eq=False)
class Fluxes:
    """Litres of each day, every array of shape (days, stations, members).

    start + rain + snow + runoff - evaporation - leak - drinking - overflow + changed
    = end. `rain_l`, `snow_l` and `runoff_l` are what arrived, before any spill;
    `changed_l` is the net of readings, fills and draining.
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


def fluxes(balance: Balance, start: int = 0, stop: int | None = None) -> Fluxes:
    """The accounts of the days from index `start` up to and without `stop`."""
    begin, end = start, len(balance.volume_l) if stop is None else stop
    shape = (end - begin, *balance.start_volume_l.shape)
    flow = Fluxes(**{field.name: aligned_empty(shape) for field in fields(Fluxes)})
    terms, parameters = balance.terms, balance.parameters
    for days, loss in daily_losses(balance, start, stop):
        rows = slice(days.start - begin, days.stop - begin)
        error = 1.0 if balance.rain_error is None else balance.rain_error[days]
        flow.start_l[rows] = loss.morning_l
        flow.rain_l[rows] = parameters.rain * terms.rain_l[days] * error
        flow.snow_l[rows] = parameters.snow_catch * terms.snow_l[days] * error
        flow.runoff_l[rows] = (
            parameters.rain * parameters.apron_yield * terms.runoff_l[days] * error
        )
        flow.evaporation_l[rows] = loss.evaporation_l
        flow.leak_l[rows] = loss.leak_l
        flow.drinking_l[rows] = loss.drinking_l
        total = loss.left_l + flow.rain_l[rows] + flow.snow_l[rows] + flow.runoff_l[rows]
        flow.overflow_l[rows] = np.maximum(total - balance.columns.capacity_l, 0.0)
        flow.end_l[rows] = balance.volume_l[days]
    flow.changed_l[...] = 0.0
    for applied in balance.applied:
        if not begin <= applied.change.day < end:
            continue
        day, station = applied.change.day - begin, applied.change.station
        flow.changed_l[day, station] += applied.after_l - applied.before_l
    return flow


def dilution(balance: Balance) -> FloatArray:
    """Factor by which the concentration changes each day, shape (days, stations, members).

    The product along the days is the concentration against the start. Exactly 1
    where nothing flows. A reading corrects the volume and leaves the concentration;
    a fill keeps the mass; draining keeps the concentration of what is left, and
    emptying the tank leaves nothing.
    """
    factor = weather_dilution(balance)
    for applied in balance.applied:
        change = applied.change
        heel = HEEL_SHARE * balance.columns.capacity_l[change.station, 0]
        counted = np.maximum(applied.before_l, heel) / np.maximum(applied.after_l, heel)
        if change.kind is ChangeKind.ADD:
            factor[change.day, change.station] *= counted
        elif change.kind is ChangeKind.DRAIN:
            left = np.divide(
                applied.after_l,
                applied.before_l,
                out=np.ones_like(applied.before_l),
                where=applied.before_l > 0.0,
            )
            factor[change.day, change.station] *= counted * left
    return factor
