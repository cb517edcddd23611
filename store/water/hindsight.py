"""Past days once the next reading is known.

The members that a reading keeps are those whose past fits it best, so their own past
says more of the days before it than all members did: fixed-lag smoothing on the ancestry
of a particle filter (Kitagawa 1996, J. Comput. Graph. Stat. 5:1-25, value from memory).
"""

from __future__ import annotations

from collections import deque

import numpy as np
from numpy.typing import NDArray

from store.water.quantiles import BAND, member_quantiles
from store.weather.days import FloatArray

LONGEST_D = 60
"""Days before a reading that it is asked about; few members have forebears of their own
further back, and memory stays bounded."""


class Hindsight:
    """Quantiles of every day of a run, corrected when a later reading chooses members.

    `quantiles_l` has shape (quantiles, days, stations).
    """

    def __init__(self, days: int, stations: int) -> None:
        self.quantiles_l = np.empty((len(BAND), days, stations))
        self._since = [0] * stations
        self._spans: deque[tuple[int, FloatArray]] = deque()

    def remember(self, start: int, volume_l: FloatArray, quantiles_l: FloatArray) -> None:
        """Take in the days from `start` on: members (days, stations, members) and quantiles."""
        stop = start + len(volume_l)
        self.quantiles_l[:, start:stop] = quantiles_l
        self._spans.append((start, volume_l))
        while self._spans[0][0] + len(self._spans[0][1]) < stop - LONGEST_D:
            self._spans.popleft()

    def look_back(self, station: int, evening: int, source: NDArray[np.intp]) -> None:
        """Correct the days of a station since it was last chosen from, up to an evening.

        `source` names the member each new one comes from, shape (members,).
        """
        first = max(self._since[station], evening - LONGEST_D)
        for start, volume_l in self._spans:
            days = slice(max(first, start), min(start + len(volume_l), evening))
            if days.start < days.stop:
                kept = volume_l[days.start - start : days.stop - start, station][:, source]
                self.quantiles_l[:, days, station] = member_quantiles(kept)
        self._since[station] = evening + 1
