"""From the forcing of a site to litres and millimetres at each station."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from store.water.forcing import Forcing
from store.water.geometry import AREA_BINS
from store.water.parameters import Setting
from store.water.runoff import curve_number_by_class, runoff_mm
from store.weather.days import BoolArray, FloatArray

COVERED_EVAPORATION = 0.1
"""Share of the evaporation that a cover lets through (assumed)."""


@dataclass(frozen=True, eq=False)
class Columns:
    """Constants of the stations, each of shape (stations, 1), and their surfaces.

    `surface_m2` holds the area bins of all tanks one after the other; the surface
    at a volume is `surface_m2[int(volume * bins_per_l + first_bin)]`.
    """

    capacity_l: FloatArray
    unreachable_l: FloatArray
    bins_per_l: FloatArray
    first_bin: FloatArray
    surface_m2: FloatArray


@dataclass(frozen=True, eq=False)
class Terms:
    """Daily terms of the stations, before any parameter.

    Shape (days, stations, members or 1): rain, snow water and runoff in L,
    open-water evaporation in mm, demand at average use in L.
    """

    rain_l: FloatArray
    snow_l: FloatArray
    runoff_l: FloatArray
    evaporation_mm: FloatArray
    demand_l: FloatArray


def columns_of(settings: Sequence[Setting]) -> Columns:
    """The constants of the stations side by side."""
    capacity = _column([setting.tank.capacity_l for setting in settings])
    bins = AREA_BINS + 1
    return Columns(
        capacity_l=capacity,
        unreachable_l=_column([setting.unreachable_l for setting in settings]),
        bins_per_l=AREA_BINS / capacity,
        first_bin=_column([float(bins * row) for row in range(len(settings))]),
        surface_m2=np.concatenate([setting.tank.area_bins_m2 for setting in settings]),
    )


def daily_terms(
    settings: Sequence[Setting],
    forcing: Forcing,
    in_place: BoolArray | None = None,
    covered: BoolArray | None = None,
) -> Terms:
    """Terms of all days; `in_place` and `covered` have shape (days, stations).

    Without a tank in place nothing comes in and nothing is drunk. A cover overlaps
    the rim: no rain, no runoff, no drinking, a tenth of the evaporation (assumed).
    """
    opening = _column([setting.tank.opening_m2 for setting in settings])
    apron = _column([setting.apron_m2 for setting in settings])
    number = _column([setting.curve_number for setting in settings])
    runoff = runoff_mm(forcing.apron_mm, curve_number_by_class(number, forcing.moisture))
    shape = (forcing.days, len(settings))
    tank = np.ones(shape, dtype=bool) if in_place is None else in_place
    cover = np.zeros(shape, dtype=bool) if covered is None else covered
    open_tank = (tank & ~cover)[:, :, np.newaxis]
    through = np.where(cover, COVERED_EVAPORATION, 1.0)[:, :, np.newaxis]
    return Terms(
        rain_l=forcing.rain_mm * opening * open_tank,
        snow_l=forcing.snow_mm * opening * open_tank,
        runoff_l=runoff * apron * open_tank,
        evaporation_mm=forcing.evaporation_mm * through,
        demand_l=forcing.demand_l * open_tank,
    )


def _column(values: Sequence[float]) -> FloatArray:
    return np.array(values, dtype=np.float64).reshape(-1, 1)
