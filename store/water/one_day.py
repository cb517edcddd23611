"""The arithmetic of one day of the balance, for all members of all stations at once."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from store.water.drinking import rut_share_into
from store.water.parameters import Parameters
from store.water.terms import Columns, Terms
from store.weather.days import BoolArray, FloatArray

BROADCAST_BUFFER = 1024
"""Elements NumPy buffers when a column meets a table. Its default of 8,192 copies the
column out for every operation and takes twice as long (NumPy 2.4, 1,000 members)."""
CACHE_LINE_BYTES = 64


@dataclass(frozen=True, eq=False)
class Tanks:
    """The constants of the stations written out for their members, and room to work in.

    All but `surface_m2` have shape (stations, members).
    """

    capacity_l: FloatArray
    unreachable_l: FloatArray
    bins_per_l: FloatArray
    first_bin: NDArray[np.intp]
    surface_m2: FloatArray
    one: FloatArray
    two: FloatArray
    bins: NDArray[np.intp]

    @staticmethod
    def of(columns: Columns, shape: tuple[int, int]) -> Tanks:
        return Tanks(
            filled_to_shape(columns.capacity_l, shape),
            filled_to_shape(columns.unreachable_l, shape),
            filled_to_shape(columns.bins_per_l, shape),
            np.broadcast_to(columns.first_bin, shape),
            columns.surface_m2,
            aligned_empty(shape),
            aligned_empty(shape),
            aligned_empty(shape, np.intp),
        )


def lose_into(
    evening: FloatArray, tanks: Tanks, now: FloatArray, fall_mm: FloatArray, wanted_l: FloatArray
) -> None:
    """Put what is left of `now` in L after a fall of the level and drinking into `evening`.

    All have shape (stations, members).
    """
    one, two = tanks.one, tanks.two
    np.multiply(now, tanks.bins_per_l, out=one)
    np.copyto(tanks.bins, one, casting="unsafe")
    np.add(tanks.bins, tanks.first_bin, out=tanks.bins)
    tanks.surface_m2.take(tanks.bins, out=two, mode="clip")
    np.multiply(two, fall_mm, out=two)
    np.subtract(now, two, out=two)
    np.subtract(two, wanted_l, out=one)
    np.minimum(two, tanks.unreachable_l, out=two)
    np.maximum(one, two, out=one)
    np.maximum(one, 0.0, out=evening)


def gain_into(
    evening: FloatArray,
    overflow_l: FloatArray,
    tanks: Tanks,
    terms: Terms,
    parameters: Parameters,
    day: int,
    rain_error: FloatArray | None,
) -> None:
    """Add the water of a day to `evening`; what stands above the rim spills.

    `overflow_l` takes the mean of what spilled, shape (stations,); `rain_error` is that of the
    day alone.
    """
    one = tanks.one
    inflow_into(one, tanks.two, terms, parameters, day, None)
    if rain_error is not None:
        np.multiply(one, rain_error, out=one)
    np.add(evening, one, out=one)
    np.minimum(one, tanks.capacity_l, out=evening)
    np.subtract(one, evening, out=one)
    np.mean(one, axis=1, out=overflow_l)


def inflow_into(
    out: FloatArray,
    work: FloatArray,
    terms: Terms,
    parameters: Parameters,
    days: int | slice,
    rain_error: FloatArray | None,
) -> None:
    """Put rain, snow and runoff in L reaching the tanks into `out`.

    `out` and `work` have shape (stations, members), with the days before it for a slice.
    """
    np.multiply(parameters.apron_yield, terms.runoff_l[days], out=out)
    np.add(out, terms.rain_l[days], out=out)
    np.multiply(out, parameters.rain, out=out)
    if terms.snow_l[days].any():
        np.multiply(parameters.snow_catch, terms.snow_l[days], out=work)
        np.add(out, work, out=out)
    if rain_error is not None:
        np.multiply(out, rain_error[days], out=out)


def demand_into(
    out: FloatArray,
    work: FloatArray,
    terms: Terms,
    parameters: Parameters,
    days: slice,
    demand_error: FloatArray | None,
) -> None:
    """Put what animals want in L, beside the rut and in it, into `out`.

    `out` and `work` have shape (days, stations, members).
    """
    if terms.rut_l[days].any():
        rut_share_into(out, work, terms.rut_day[days], parameters.rut_day, parameters.rut_width)
        np.multiply(out, parameters.rut, out=out)
        np.multiply(out, terms.rut_l[days], out=out)
        np.multiply(parameters.drinking, terms.demand_l[days], out=work)
        np.add(out, work, out=out)
    else:
        np.multiply(parameters.drinking, terms.demand_l[days], out=out)
    if demand_error is not None:
        np.multiply(out, demand_error[days], out=out)


@contextmanager
def fast_columns() -> Iterator[None]:
    """Let (stations, 1) meet (stations, members) at full speed inside the block."""
    with np.errstate():  # which gives the buffer size back
        np.setbufsize(BROADCAST_BUFFER)
        yield


def full_parameters(parameters: Parameters, shape: tuple[int, ...]) -> Parameters:
    """The same parameters written out, each of the full shape (stations, members)."""
    return parameters.map(lambda values: filled_to_shape(values, shape))


def aligned_empty(shape: tuple[int, ...], dtype: type = np.float64) -> Any:
    """An uninitialised array of 8-byte items that starts on a cache line.

    NumPy's own arrays start wherever memory was free; on processors with AVX-512 an
    operation on them takes twice as long (measured 0.39 against 0.19 ns an element).
    """
    size = int(np.prod(shape)) * 8
    raw = np.empty(size + CACHE_LINE_BYTES, dtype=np.uint8)
    first = -raw.ctypes.data % CACHE_LINE_BYTES
    return raw[first : first + size].view(dtype).reshape(shape)


def filled_to_shape(values: ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    """The same values written out to a shape."""
    full: FloatArray = aligned_empty(shape)
    full[...] = values
    return full


def water_comes(terms: Terms) -> BoolArray:
    """Days on which water comes to any member of any station, shape (days,)."""
    return np.asarray(
        terms.rain_l.any(axis=(1, 2))
        | terms.snow_l.any(axis=(1, 2))
        | terms.runoff_l.any(axis=(1, 2))
    )
