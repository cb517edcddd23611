"""How much a carcass fouls a tank, by its size, its age and the warmth of the water.

Assumed, except that decay goes with degree-days above 0 C (published: J. Forensic
Sci. 2011, 56:229-232) and that the mass of a body changes their number little
(published: Roberts, Spencer and Dabbs 2017, J. Forensic Sci. 62(5), on human bodies).
"""

from __future__ import annotations

import numpy as np

from store.contamination.events import Carcass
from store.contamination.mixing import Array
from store.vocabulary import AnimalSize

WARM_C = 20.0
"""The temperature at which `source_days` and `decay_per_day` are given."""
DAYS_DEAD = 7.0
"""Taken where nobody judged how long the animal had lain (assumed)."""
RIPE_DEGREE_DAYS = 60.0
"""Warmth after which a carcass fouls at 63 percent of its full strength (assumed)."""

STRENGTH_OF_SIZE = {AnimalSize.SMALL: 0.3, AnimalSize.MEDIUM: 1.0, AnimalSize.LARGE: 2.0}
"""Against a medium animal, up to a raccoon (assumed)."""
LASTING_OF_SIZE = {AnimalSize.SMALL: 0.5, AnimalSize.MEDIUM: 1.0, AnimalSize.LARGE: 1.2}
"""How long the source lasts against a medium animal (assumed)."""


def warmth_when_found(carcass: Carcass, temperature_c: Array) -> Array:
    """Degree-days from death to the find, in water as warm as on that day, (members,)."""
    days_dead = DAYS_DEAD if carcass.days_dead is None else carcass.days_dead
    return days_dead * np.maximum(temperature_c, 0.0)


def warmth(carcass: Carcass, temperature_c: Array) -> Array:
    """Degree-days since death at the end of each day, shape (days, members) as given."""
    since_found = np.cumsum(np.maximum(temperature_c, 0.0), axis=0)
    return np.asarray(warmth_when_found(carcass, temperature_c[0]) + since_found)


def strength(carcass: Carcass, degree_days: Array) -> Array:
    """Strength reached after so much warmth, against a medium animal at its full."""
    full = STRENGTH_OF_SIZE[carcass.size or AnimalSize.MEDIUM]
    return np.asarray(full * -np.expm1(-degree_days / RIPE_DEGREE_DAYS))


def lasting_degree_days(carcass: Carcass, source_days: Array) -> Array:
    """Degree-days after which a carcass left in the water fouls no more."""
    return source_days * (WARM_C * LASTING_OF_SIZE[carcass.size or AnimalSize.MEDIUM])
