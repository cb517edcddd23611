"""What the weather does to the water of a contaminated tank, day by day."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from store.contamination.mixing import Array
from store.errors import BadValue

MILD_C: Array = np.array([[15.0]])
"""A temperature for every day where none is known (assumed)."""

DRINKING_WHILE_FOULED = 0.1
"""Multiple of the usual drinking from a fouled tank: animals keep off it, so it
stands full and waits for what overflows (assumed, calibrated to common practice)."""


@dataclass(frozen=True, eq=False)
class TankWeather:
    """Days from the find on, every array of shape (days, members) or one that fits.

    `unspilled` is the factor by which evaporation, drinking, leaks and clean water
    change the concentration each day, without hand work and without what overflows.
    `spilled` is the overflow in volumes of the tank. `volume_l` is the water of the
    morning, before that day's hand work. `temperature_c` is the day's mean of the
    air, which the water is taken to follow. Below `dry_l` animals find none. Raises
    BadValue for impossible shapes or values.
    """

    unspilled: Array
    spilled: Array
    volume_l: Array
    capacity_l: float
    temperature_c: Array = field(default_factory=MILD_C.copy)
    dry_l: float = 0.0

    def __post_init__(self) -> None:
        shape = self.unspilled.shape
        if len(shape) != 2 or 0 in shape:
            raise BadValue(f"Dilution has shape {shape}; give at least one day and one member.")
        for name, least in (
            ("unspilled", 0.0),
            ("spilled", 0.0),
            ("volume_l", 0.0),
            ("temperature_c", -90.0),
        ):
            object.__setattr__(self, name, _checked(name, getattr(self, name), shape, least))
        if not self.capacity_l > 0.0:
            raise BadValue(f"A tank cannot hold {self.capacity_l:g} L; give its capacity.")

    @property
    def days(self) -> int:
        return len(self.unspilled)

    @property
    def members(self) -> int:
        return int(self.unspilled.shape[1])

    def repeated(self, times: int) -> TankWeather:
        """Every member so many times, in turn."""

        def tiled(values: Array) -> Array:
            return np.tile(values, (1, times))

        return TankWeather(
            tiled(self.unspilled),
            tiled(self.spilled),
            tiled(self.volume_l),
            self.capacity_l,
            tiled(self.temperature_c),
            self.dry_l,
        )


def spilled_volumes(unspilled: Array, washed: Array) -> Array:
    """Tank volumes that overflowed each day, from the factors without and with them.

    `washed` is the factor of a well-mixed tank, `unspilled` that with none of the
    overflow mixed: washed = unspilled e^-n. Where both are 0 nothing was left to wash.
    """
    ratio = np.divide(unspilled, washed, out=np.ones_like(unspilled), where=washed > 0.0)
    return np.asarray(np.log(np.maximum(ratio, 1.0)))


def _checked(name: str, values: Array, shape: tuple[int, ...], least: float) -> Array:
    try:
        full = np.broadcast_to(values, shape)
    except ValueError as error:
        raise BadValue(
            f"{name} of shape {values.shape} does not fit dilution of shape {shape}; give one "
            "for each day and member."
        ) from error
    if not (np.isfinite(full).all() and (full >= least).all()):
        raise BadValue(f"{name} is below {least:g} or not a number on some day; correct it.")
    return full
