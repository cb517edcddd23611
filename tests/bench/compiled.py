"""The balance as a plain loop over days, stations and members, to be compiled.

The arithmetic of `store/water/balance.py` in the same order, so that the volumes agree
to the last bit. Written for numba; as plain Python it runs too, some hundred times slower.
"""

from __future__ import annotations

import numpy as np

from store.water.balance import Balance
from store.water.drinking import RUT_AFTER_D, RUT_BEFORE_D
from store.water.geometry import AREA_BINS, depth_at_volume_mm
from store.water.parameters import TankSite
from store.weather.days import FloatArray

OUTPUTS = 8
"""Arrays `everything` fills: volume, overflow, evaporation, leak, drinking, inflow, level
and the share of a contaminant left."""


def inputs(balance: Balance) -> tuple[FloatArray, ...]:
    """The arguments both loops take first."""
    shape = balance.start_volume_l.shape
    columns, terms, parameters = balance.columns, balance.terms, balance.parameters
    stations = (columns.capacity_l, columns.unreachable_l, columns.bins_per_l, columns.first_bin)
    daily = (
        *(terms.rain_l, terms.snow_l, terms.runoff_l, terms.evaporation_mm),
        *(terms.demand_l, terms.rut_l, terms.rut_day),
    )
    wide = (len(balance.volume_l), shape[0], 1)
    return (
        balance.start_volume_l,
        *(values[:, 0] for values in stations),
        columns.surface_m2,
        *(np.ascontiguousarray(np.broadcast_to(values, wide))[:, :, 0] for values in daily),
        *(np.array(np.broadcast_to(values, shape)) for values in vars(parameters).values()),
    )


def depth_bins_mm(balance: Balance, tank_sites: list[TankSite]) -> FloatArray:
    """Water depths in the bins that `columns.surface_m2` has for surfaces."""
    makes = {
        first: tank_site.tank
        for first, tank_site in zip(balance.columns.first_bin[:, 0], tank_sites, strict=True)
    }
    middle = (np.arange(AREA_BINS + 1) + 0.5) / AREA_BINS
    return np.concatenate(
        [
            depth_at_volume_mm(makes[first], middle * makes[first].capacity_l)
            for first in sorted(makes)
        ]
    )


def volume_alone(
    start, capacity, unreachable, bins_per_l, first_bin, surface,
    rain, snow, runoff, evaporation, demand, rut_l, season,
    apron_yield, shelter, drinking, leak, rain_catch, snow_catch, rut, rut_day, rut_width,
    _visit_l, volume,
):  # fmt: skip
    for d in range(volume.shape[0]):
        for s in range(volume.shape[1]):
            for m in range(volume.shape[2]):
                now = start[s, m] if d == 0 else volume[d - 1, s, m]
                area = surface[int(now * bins_per_l[s]) + first_bin[s]]
                left = now - area * (shelter[s, m] * evaporation[d, s] + leak[s, m])
                wanted = drinking[s, m] * demand[d, s]
                if rut_l[d, s] > 0.0:
                    late = (season[d, s] - rut_day[s, m]) / rut_width[s, m]
                    late = max(late * (1.0 / RUT_AFTER_D), late * (-1.0 / RUT_BEFORE_D))
                    wanted = np.exp(-0.5 * (late * late)) * rut[s, m] * rut_l[d, s] + wanted
                drunk = left - wanted
                left = max(max(drunk, min(left, unreachable[s])), 0.0)
                inflow = rain_catch[s, m] * (apron_yield[s, m] * runoff[d, s] + rain[d, s])
                inflow += snow_catch[s, m] * snow[d, s]
                volume[d, s, m] = min(left + inflow, capacity[s])


def everything(
    start, capacity, unreachable, bins_per_l, first_bin, surface,
    rain, snow, runoff, evaporation, demand, rut_l, season,
    apron_yield, shelter, drinking, leak, rain_catch, snow_catch, rut, rut_day, rut_width,
    _visit_l, depth,
    volume, overflow, evaporated, leaked, drunk, arrived, level, contaminant,
):  # fmt: skip
    for d in range(volume.shape[0]):
        for s in range(volume.shape[1]):
            heel = 0.01 * capacity[s]
            for m in range(volume.shape[2]):
                now = start[s, m] if d == 0 else volume[d - 1, s, m]
                area = surface[int(now * bins_per_l[s]) + first_bin[s]]
                fall = shelter[s, m] * evaporation[d, s]
                lost = min(area * (fall + leak[s, m]), now)
                air = lost * fall / (fall + leak[s, m]) if fall + leak[s, m] > 0.0 else lost
                left = now - lost
                wanted = drinking[s, m] * demand[d, s]
                if rut_l[d, s] > 0.0:
                    late = (season[d, s] - rut_day[s, m]) / rut_width[s, m]
                    late = max(late * (1.0 / RUT_AFTER_D), late * (-1.0 / RUT_BEFORE_D))
                    wanted = np.exp(-0.5 * (late * late)) * rut[s, m] * rut_l[d, s] + wanted
                drink = min(wanted, max(left - unreachable[s], 0.0))
                inflow = rain_catch[s, m] * (apron_yield[s, m] * runoff[d, s] + rain[d, s])
                inflow += snow_catch[s, m] * snow[d, s]
                spilled = max(left - drink + inflow - capacity[s], 0.0)
                evening = left - drink + inflow - spilled
                kept = now - air
                factor = (left - drink) / kept if kept > 0.0 else 1.0
                if spilled > 0.0:
                    factor *= np.exp(-spilled / capacity[s])
                factor *= max(now, heel) / max(evening, heel)
                volume[d, s, m] = evening
                overflow[d, s, m] = spilled
                evaporated[d, s, m] = air
                leaked[d, s, m] = lost - air
                drunk[d, s, m] = drink
                arrived[d, s, m] = inflow
                level[d, s, m] = depth[int(evening * bins_per_l[s]) + first_bin[s]]
                contaminant[d, s, m] = factor * (1.0 if d == 0 else contaminant[d - 1, s, m])
