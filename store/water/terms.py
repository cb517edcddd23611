"""From the forcing of a site to litres and millimetres at each station."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from store.water.forcing import Forcing
from store.water.geometry import AREA_BINS
from store.water.interception import intercepted_mm
from store.water.parameters import TankSite
from store.water.runoff import shed_mm
from store.weather.days import BoolArray, FloatArray

CHUNK_CELLS = 16_384
"""Station-member-days worked on at once: a handful of such arrays fit in a cache of
2 MB (8,192 to 65,536 measured alike within a tenth)."""
COVERED_EVAPORATION = 0.1
"""Share of the evaporation that a cover lets through (assumed)."""


@dataclass(frozen=True, eq=False)
class Columns:
    """Constants of the stations, each of shape (stations, 1), and their surfaces.

    `surface_m2` holds the area bins of all makes of tank one after the other; the surface
    at a volume is `surface_m2[int(volume * bins_per_l) + first_bin]`.
    """

    capacity_l: FloatArray
    unreachable_l: FloatArray
    bins_per_l: FloatArray
    first_bin: NDArray[np.intp]
    surface_m2: FloatArray


@dataclass(frozen=True, eq=False)
class Terms:
    """Daily terms of the stations, before any parameter.

    Rain, snow water and runoff in L, shape (days, stations, members or 1); open-water
    evaporation in mm, and what animals want at average use in L beside the rut and more
    at its height, shape (days, stations or 1, members or 1). `rut_day` and `ice` as in
    `Forcing`.
    """

    rain_l: FloatArray
    snow_l: FloatArray
    runoff_l: FloatArray
    evaporation_mm: FloatArray
    demand_l: FloatArray
    rut_l: FloatArray
    rut_day: FloatArray
    ice: BoolArray


def columns_of(tank_sites: Sequence[TankSite]) -> Columns:
    """The constants of the stations side by side."""
    capacity = _column([tank_site.tank.capacity_l for tank_site in tank_sites])
    surfaces, kind = _surfaces(tank_sites)
    return Columns(
        capacity_l=capacity,
        unreachable_l=_column([tank_site.unreachable_l for tank_site in tank_sites]),
        bins_per_l=AREA_BINS / capacity,
        first_bin=(AREA_BINS + 1) * np.array(kind, dtype=np.intp).reshape(-1, 1),
        surface_m2=np.concatenate(surfaces),
    )


def _surfaces(tank_sites: Sequence[TankSite]) -> tuple[list[FloatArray], list[int]]:
    """The different surfaces among the tanks, and which of them each tank has.

    Hundreds of tanks are of a few makes; a table for each make stays in the cache
    (500 tanks of three makes take a quarter less time so).
    """
    number_of: dict[bytes, int] = {}
    kind = [
        number_of.setdefault(tank_site.tank.area_bins_m2.tobytes(), len(number_of))
        for tank_site in tank_sites
    ]
    return [np.frombuffer(surface) for surface in number_of], kind


def daily_terms(
    tank_sites: Sequence[TankSite],
    forcing: Forcing,
    in_place: BoolArray | None = None,
    covered: BoolArray | None = None,
) -> Terms:
    """Terms of all days; `in_place` and `covered` have shape (days, stations).

    Without a tank in place nothing comes in and nothing is drunk. A cover overlaps
    the rim: no rain, no runoff, no drinking, a tenth of the evaporation (assumed).
    """
    opening = _column([tank_site.tank.opening_m2 for tank_site in tank_sites])
    shape = (forcing.days, len(tank_sites))
    tank = np.ones(shape, dtype=bool) if in_place is None else in_place
    cover = np.zeros(shape, dtype=bool) if covered is None else covered
    evaporation, demand, rut = forcing.evaporation_mm, forcing.demand_l, forcing.rut_l
    if cover.any():
        evaporation = evaporation * np.where(cover, COVERED_EVAPORATION, 1.0)[:, :, np.newaxis]
    open_tank = (tank & ~cover)[:, :, np.newaxis]
    if not open_tank.all():
        demand, rut = demand * open_tank, rut * open_tank
    runoff, kind = _runoff_mm(tank_sites, forcing)
    kept, canopy = _kept_mm(tank_sites, forcing)
    apron = _column([tank_site.apron_m2 for tank_site in tank_sites])
    return Terms(
        rain_l=_litres(forcing.rain_mm - kept, opening, open_tank, canopy),
        snow_l=_litres(forcing.snow_mm, opening, open_tank),
        runoff_l=_litres(runoff, apron, open_tank, kind),
        evaporation_mm=evaporation,
        demand_l=demand,
        rut_l=rut,
        rut_day=forcing.rut_day,
        ice=forcing.ice,
    )


Rows = NDArray[np.intp] | slice
"""Which row of an array of few kinds belongs to every station."""


def _kept_mm(tank_sites: Sequence[TankSite], forcing: Forcing) -> tuple[FloatArray, Rows]:
    """Rain in mm that branches keep off, shape (days, rows, members or 1), and the rows."""
    canopy, row = _kinds([tank_site.canopy for tank_site in tank_sites], forcing)
    wet = _wet(forcing.rain_mm)
    closed = intercepted_mm(forcing.rain_mm[wet], forcing.growing[wet])
    kept = np.zeros((forcing.days, max(len(canopy), closed.shape[1]), closed.shape[2]))
    kept[wet] = closed * _column(canopy)
    return kept, row


def _runoff_mm(tank_sites: Sequence[TankSite], forcing: Forcing) -> tuple[FloatArray, Rows]:
    """Runoff depths, shape (days, rows, members or 1), and the row of every station.

    Stations under the same weather with the same surface and canopy share a row.
    """
    kinds, row = _kinds([(site.runoff, site.canopy) for site in tank_sites], forcing)
    wet = _wet(forcing.apron_mm)
    water, rain, growing = forcing.apron_mm[wet], forcing.rain_mm[wet], forcing.growing[wet]
    moisture, bare_moisture = forcing.moisture[wet], forcing.bare_moisture[wet]
    closed = intercepted_mm(rain, growing)
    depth = np.zeros((forcing.days, len(kinds), max(water.shape[2], closed.shape[2])))
    for place, (law, canopy) in enumerate(kinds):
        site = slice(place, place + 1) if isinstance(row, slice) else slice(None)
        reaching = (water - canopy * closed)[:, site]
        shed = shed_mm(law, reaching, moisture[:, site], bare_moisture[:, site])
        depth[wet, place : place + 1] = shed
    return depth, row


Kind = TypeVar("Kind", bound=Hashable)


def _kinds(values: Sequence[Kind], forcing: Forcing) -> tuple[list[Kind], Rows]:
    """The different values and which each station has; each its own under weather of its own."""
    if forcing.apron_mm.shape[1] > 1:
        return list(values), slice(None)
    kinds = list(dict.fromkeys(values))
    return kinds, np.array([kinds.index(value) for value in values])


def _wet(water_mm: FloatArray) -> NDArray[np.intp]:
    return np.flatnonzero(water_mm.any(axis=(1, 2)))


def _litres(
    depth_mm: FloatArray,
    area_m2: FloatArray,
    open_tank: BoolArray,
    row: NDArray[np.intp] | slice = slice(None),
) -> FloatArray:
    """Depths on areas of shape (stations, 1) that count while a tank is open."""
    days, stations, members = len(depth_mm), len(area_m2), depth_mm.shape[2]
    litres = np.zeros((days, stations, members))
    at_once = max(1, CHUNK_CELLS // max(stations * members, 1))
    for first in range(0, days, at_once):
        part = slice(first, first + at_once)
        if depth_mm[part].any():
            np.multiply(depth_mm[part][:, row], area_m2 * open_tank[part], out=litres[part])
    return litres


def _column(values: Sequence[float]) -> FloatArray:
    return np.array(values, dtype=np.float64).reshape(-1, 1)
