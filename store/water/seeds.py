"""Random numbers that belong to one station, one purpose and one date.

A station draws the same numbers whatever other stations are in a run, whenever
the run begins and however far it goes.
"""

from __future__ import annotations

from enum import IntEnum
from hashlib import blake2b

import numpy as np


class Purpose(IntEnum):
    PRIOR = 1
    ERRORS = 2
    READING = 3
    START = 4
    DEAL = 5
    AHEAD = 6
    NEW_YEAR = 7
    GALLONS = 8
    NEIGHBOURS = 9
    COUNT = 10
    LOOK = 11
    READING_AFTER_WORK = 12


def station_rng(station_id: str, purpose: Purpose, number: int = 0) -> np.random.Generator:
    """The generator of a station for a purpose; `number` is a date or block (0 or more)."""
    digest = int.from_bytes(blake2b(station_id.encode(), digest_size=8).digest(), "big")
    return np.random.default_rng(np.random.SeedSequence([digest, purpose, number]))
