"""The water a tank is dug in with, asked for the same way wherever an install is entered."""

from __future__ import annotations

from store.errors import BadValue
from store.typed import amount_typed
from store.units import Quantity, Units

WATER_HINT = "put in at the install; empty: not known, 0: dry"


def install_water_l(text: str, units: Units, capacity_l: float | None) -> float | None:
    """The litres a text says; None where nothing is typed, for then nobody knows.

    `capacity_l` is what the tank holds, where that is known.

    Raises:
        BadValue: it is no amount, or none that the tank could hold.
    """
    if not text:
        return None
    water_l = amount_typed(text, Quantity.VOLUME, units)
    if water_l < 0.0:
        raise BadValue("It cannot be less than 0; 0 is a dry tank")
    if capacity_l is not None:
        most = round(units.volume(capacity_l), 1)
        if units.volume(water_l) > most:
            raise BadValue(f"It must be from 0 to {most:g}, not {text}")
    return water_l
