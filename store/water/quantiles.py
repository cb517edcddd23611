"""Quantiles of members, as the whole program reads them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from store.weather.days import FloatArray

BAND = (0.1, 0.5, 0.9)
"""The bounds of the 80 percent band, with the median between them."""


def member_quantiles(values: FloatArray, shares: tuple[float, ...] = BAND) -> FloatArray:
    """Quantiles over the last axis: shape (..., members) to (quantiles, ...).

    Linear between the members in order, the i-th of m standing at (i - 1) / (m - 1).
    """
    ordered = np.sort(values, axis=-1)
    place = np.asarray(shares) * (values.shape[-1] - 1)
    low = np.floor(place).astype(np.intp)
    high = np.minimum(low + 1, values.shape[-1] - 1)
    part = place - low
    between = ordered[..., low] * (1.0 - part) + ordered[..., high] * part
    return np.moveaxis(between, -1, 0)


def members_of_band(
    band: Sequence[float], most: float, count: int, rng: np.random.Generator
) -> FloatArray:
    """Members, in no order, whose `BAND` is the one given; shape (count,).

    Even between its bounds, and beyond them half as far as they lie from the median, but
    not below 0 nor above `most`.
    """
    low, middle, high = band
    edges = [low - (middle - low) / 2.0, low, middle, high, high + (high - middle) / 2.0]
    place = (np.arange(count) + 0.5) / count
    values = np.interp(place, (0.0, *BAND, 1.0), np.clip(edges, 0.0, most))
    return rng.permutation(values)
