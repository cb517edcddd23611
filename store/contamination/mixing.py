"""Mass balance of a dissolved contaminant in one well-mixed tank.

Shares are of the concentration found at first, 0 to 1. Completely mixed
through-flow of n tank volumes leaves e^-n (Viessman & Hammer 1993, Water Supply
and Pollution Control).
"""

from __future__ import annotations

import math
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from store.errors import BadValue

Array = npt.NDArray[np.float64]
Volume = TypeVar("Volume", float, Array)

HEEL_BAILED = 0.10
"""Share of the water left behind by bailing (assumed)."""
HEEL_DRAINED = 0.02
"""Share of the tank left behind by draining (assumed)."""


def volumes_to_share(share: float) -> float:
    """Tank volumes that must overflow, well mixed, to leave `share`: -ln(share).

    Raises:
        BadValue: unless 0 < share <= 1.
    """
    if not 0.0 < share <= 1.0:
        raise BadValue(f"A remaining share of {share:g} cannot be reached; give one in (0, 1].")
    return -math.log(share)


def mixed_share(volume_l: Volume, added_l: Volume) -> Volume:
    """Share left after clean water is stirred into what stands in the tank."""
    return volume_l / (volume_l + added_l)


def rounds_to_share(heel: float, share: float) -> int:
    """The fewest rounds of bailing and refilling that leave `share` or less.

    Raises:
        BadValue: unless 0 < heel < 1 and 0 < share <= 1.
    """
    if not 0.0 < heel < 1.0:
        raise BadValue(f"A heel of {heel:g} of the water is no bailing; give one in (0, 1).")
    return math.ceil(volumes_to_share(share) / -math.log(heel) - 1e-9)
