"""The habit of using a tank: lost while it is no use, won back after.

0 is a tank no animal comes to, 1 one that is used as before. Common practice, no
source: one to two weeks after water is back; the rest is assumed.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from store.contamination.mixing import Array

BoolArray = npt.NDArray[np.bool_]

LOST_PER_DAY = 0.2
"""Share of the habit that a day without use takes (assumed): half is gone in 3 days."""
BACK = 0.99
"""The habit from which a tank counts as used again (assumed)."""
LONG_BREAK_DAYS = 180.0
"""A break this long takes twice as long to mend as a short one, at most (assumed)."""


def habit(no_use: BoolArray, rebuild_days: Array, start: Array | float = 1.0) -> Array:
    """The habit at the end of each day, shape of `no_use`: (days, members).

    `no_use` marks days on which the tank is dry, fouled, covered or kept by bears.
    Won back evenly over `rebuild_days` (members,), stretched by the length of the
    break. `start` is the habit before the first day.
    """
    left = np.empty(no_use.shape)
    now = np.full(no_use.shape[1:], 0.0) + start
    broken_days = np.zeros_like(now)
    for day, idle in enumerate(no_use):
        broken_days += idle
        stretch = 1.0 + np.minimum(broken_days / LONG_BREAK_DAYS, 1.0)
        gained = np.minimum(now + 1.0 / (rebuild_days * stretch), 1.0)
        now = np.where(idle, now * (1.0 - LOST_PER_DAY), gained)
        broken_days[now >= BACK] = 0.0
        left[day] = now
    return left
