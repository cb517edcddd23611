"""Is it worth a walk? When the model cannot tell, and what a reading would settle."""

from __future__ import annotations

from dataclasses import dataclass

from store.model.levels import StationLevels
from store.water.geometry import below_rim_mm
from store.water.observing import MEASURED_ERROR_MM

TOO_WIDE_SHARE_OF_DEPTH = 0.35
"""A band wider than this share of the depth decides nothing (assumed)."""
BAND_SPREADS = 2.0 * 1.2816
"""Standard deviations between the 10 and the 90 percent quantile of a normal."""


@dataclass(frozen=True)
class WorthALook:
    """A day's band in mm below the rim, and how wide it would be after a reading."""

    highest_mm: float
    lowest_mm: float
    after_mm: float


def worth_a_look(levels: StationLevels, day: int = -1) -> WorthALook | None:
    """What a look would settle, or None where the band is narrow enough to decide.

    `day` is an index into the levels, the last day if not given.

    A band also decides nothing when one end holds water within reach and the other
    none, unless it is narrower than what a reading would leave.
    """
    tank = levels.station.tank
    high_l, low_l = float(levels.high_l[day]), float(levels.low_l[day])
    highest, lowest = (float(below_rim_mm(tank, volume)) for volume in (high_l, low_l))
    after = min(BAND_SPREADS * MEASURED_ERROR_MM, lowest - highest)
    too_wide = lowest - highest > TOO_WIDE_SHARE_OF_DEPTH * tank.depth_mm
    wet_or_dry = low_l < levels.station.tank_site.dry_l <= high_l
    if too_wide or (wet_or_dry and lowest - highest > 2.0 * after):
        return WorthALook(highest, lowest, after)
    return None
