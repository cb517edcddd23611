"""The levels of a logbook as far as they are known, by station and on a day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from store.errors import BadValue

if TYPE_CHECKING:
    from store.model.levels import StationLevels
    from store.model.water_input import StationWater
    from store.water.filter_run import FilterRun

TREND_DAYS = 14


@dataclass(frozen=True)
class LevelNow:
    """A day's level; shares of the capacity, 0 to 1, with the 80 percent band.

    The deeper edge of the band is `lowest_mm` below the rim, the fuller `highest_mm`.
    """

    share: float
    low_share: float
    high_share: float
    volume_l: float
    below_rim_mm: float
    highest_mm: float
    lowest_mm: float
    read_today: bool
    dry: bool
    """Whether nothing stands within an animal's reach."""
    trend: tuple[float, ...]
    """Shares of the two weeks up to the day, oldest first."""


@dataclass(frozen=True, eq=False)
class Levels:
    """The levels of a logbook: by station id, or the sentence why there is none.

    `followed` holds the members of each station and `waters` what its log says of its water.
    """

    by_station: Mapping[str, StationLevels]
    without: Mapping[str, str]
    followed: Mapping[str, FilterRun] = field(default_factory=dict)
    waters: Mapping[str, StationWater] = field(default_factory=dict)

    def of(self, station_id: str) -> StationLevels:
        """The levels of one station.

        Raises:
            BadValue: it has none; the sentence says why.
        """
        if station_id not in self.by_station:
            raise BadValue(self.without.get(station_id, "That station has no level."))
        return self.by_station[station_id]
