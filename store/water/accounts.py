"""Where the water of a run came from and went, derived from its volumes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from store.water.balance import Balance, inflow_l
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
    """The accounts of the days from index `start` up to and without `stop`.

    The losses of a morning follow from its volume alone, by the same arithmetic as
    the run; the end of the day before any change gives the rest.
    """
    days = slice(start, len(balance.volume_l) if stop is None else stop)
    columns, terms, parameters = balance.columns, balance.terms, balance.parameters
    end = balance.volume_l[days]
    before = balance.volume_l[start - 1] if start > 0 else balance.start_volume_l
    morning = np.concatenate([before[np.newaxis], end[:-1]])

    evaporation_mm = parameters.shelter * terms.evaporation_mm[days]
    loss_mm = evaporation_mm + parameters.leak_mm_d
    bins = (morning * columns.bins_per_l + columns.first_bin).astype(np.intp)
    lost = np.minimum(columns.surface_m2.take(bins, mode="clip") * loss_mm, morning)
    share = np.divide(evaporation_mm, loss_mm, out=np.ones(loss_mm.shape), where=loss_mm > 0.0)
    evaporation = lost * share
    left = morning - lost

    demand = parameters.drinking * terms.demand_l[days]
    if balance.demand_error is not None:
        demand = demand * balance.demand_error[days]
    drunk = np.minimum(demand, np.maximum(left - columns.unreachable_l, 0.0))

    error = 1.0 if balance.rain_error is None else balance.rain_error[days]
    rain = parameters.rain * terms.rain_l[days] * error
    snow = parameters.snow_catch * terms.snow_l[days] * error
    runoff = parameters.rain * parameters.apron_yield * terms.runoff_l[days] * error
    total = left - drunk + inflow_l(terms, parameters, days, balance.rain_error)
    spilled = np.maximum(total - columns.capacity_l, 0.0)

    def full(values: FloatArray) -> FloatArray:
        return np.broadcast_to(values, end.shape)

    return Fluxes(
        start_l=morning,
        rain_l=full(rain),
        snow_l=full(snow),
        runoff_l=full(runoff),
        evaporation_l=full(evaporation),
        leak_l=full(lost - evaporation),
        drinking_l=full(drunk),
        overflow_l=full(spilled),
        changed_l=_changed(balance, days),
        end_l=end,
    )


def _changed(balance: Balance, days: slice) -> FloatArray:
    changed = np.zeros(balance.volume_l.shape)
    for applied in balance.applied:
        changed[applied.change.day, applied.change.station] += applied.after_l - applied.before_l
    return changed[days]
