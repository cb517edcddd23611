"""Past days once the next reading is known.

The members that a reading keeps are those whose past fits it best, so their own past
says more of the days before it than all members did: fixed-lag smoothing on the ancestry
of a particle filter (Kitagawa 1996, J. Comput. Graph. Stat. 5:1-25, value from memory).
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from store.water.quantiles import BAND, member_quantiles
from store.weather.days import FloatArray

LONGEST_D = 60
"""Days before a reading that it is asked about; few members have forebears of their own
further back, and memory stays bounded."""


@dataclass(frozen=True, eq=False)
class LookedBack:
    """What a later reading may still be asked about of one station, on some evening.

    `volume_l` are the members of the last days up to that evening, shape (days, members);
    none of them has been looked back on yet.
    """

    volume_l: FloatArray


class Hindsight:
    """Quantiles of every day of a run, corrected when a later reading chooses members.

    `quantiles_l` has shape (quantiles, days, stations). Days below 0 are those before the
    run that `before` remembers, the last of each station's on day -1; what becomes of them
    is in `earlier_l`, shape (quantiles, LONGEST_D, stations), NaN where it was not corrected.
    """

    def __init__(self, days: int, stations: int, before: tuple[LookedBack, ...] = ()) -> None:
        self.quantiles_l = np.empty((len(BAND), days, stations))
        self.earlier_l = np.full((len(BAND), LONGEST_D, stations), np.nan)
        self._corrected = np.zeros((days, stations), dtype=bool)
        self._before = before
        self._since = [-len(one.volume_l) for one in before] or [0] * stations
        self._blocks: deque[tuple[int, FloatArray]] = deque()

    def begin(self, start: int, volume_l: FloatArray) -> None:
        """Take the members of the days from `start` on, (days, stations, members), to be filled."""
        self._blocks.append((start, volume_l))
        while self._blocks[0][0] + len(self._blocks[0][1]) < start - LONGEST_D:
            self._blocks.popleft()

    def end(self, quantiles_l: FloatArray) -> None:
        """Take the quantiles of the block begun last, now that its members are known."""
        start, volume_l = self._blocks[-1]
        days = slice(start, start + len(volume_l))
        kept = self._corrected[days]
        self.quantiles_l[:, days] = np.where(kept, self.quantiles_l[:, days], quantiles_l)

    def look_back(self, station: int, evening: int, source: NDArray[np.intp]) -> None:
        """Correct the days of a station since it was last chosen from, up to an evening.

        `source` names the member each new one comes from, shape (members,).
        """
        first = max(self._since[station], evening - LONGEST_D)
        if first < 0 and self._before:
            kept = self._before[station].volume_l[first:][:, source]
            self.earlier_l[:, first:, station] = member_quantiles(kept)
        for start, volume_l in self._blocks:
            days = slice(max(first, start), min(start + len(volume_l), evening))
            if days.start < days.stop:
                kept = volume_l[days.start - start : days.stop - start, station][:, source]
                self.quantiles_l[:, days, station] = member_quantiles(kept)
                self._corrected[days, station] = True
        self._since[station] = evening + 1

    def standing(self, station: int, evening: int) -> LookedBack:
        """What a reading after an evening may be asked about."""
        first = max(self._since[station], evening + 1 - LONGEST_D)
        parts = [self._before[station].volume_l[first:]] if first < 0 and self._before else []
        for start, volume_l in self._blocks:
            days = slice(max(first - start, 0), max(evening + 1 - start, 0))
            parts.append(volume_l[days, station])
        return LookedBack(np.concatenate(parts))
