"""What animals drink at a station: a low base all year, and a peak in the rut.

Common practice, no source: next to nothing in July and August, when browse is green,
little in September, a steep rise from its end, most at the end of October and early in
November, then less; half a 55-gallon drum lasts less than two weeks of October at average
use. In hot dry country animals drink in summer instead (published direction: Michael
1967, Proc. SE Assoc. Game Fish Comm.; Mule Deer Working Group, Fact Sheet 25). One adult
deer needs 3 to 6 quarts (2.8 to 5.7 L) a day, much of it from forage (Alabama, Biology
and Management of White-tailed Deer, citing Brown 1985). The litres are assumed: readings
and counts correct base and peak apart.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from store.vocabulary import DrinkingSeason, ExpectedUse
from store.weather.days import FloatArray


@dataclass(frozen=True)
class DrinkingLaw:
    """Litres a station a day at average use (assumed).

    `base_l` holds in the middle of each month, January first; `rut_l` is added at the
    height of the rut.
    """

    base_l: tuple[float, ...]
    rut_l: float


LAWS: Mapping[DrinkingSeason, DrinkingLaw] = MappingProxyType(
    {
        DrinkingSeason.GREEN_SUMMER: DrinkingLaw(
            (2.0, 2.0, 2.0, 1.5, 1.0, 0.7, 0.5, 0.5, 0.8, 1.0, 1.5, 2.0), 12.0
        ),
        DrinkingSeason.DRY_SUMMER: DrinkingLaw(
            (2.0, 2.0, 2.5, 3.5, 5.0, 7.0, 8.0, 7.5, 5.5, 3.5, 2.5, 2.0), 4.0
        ),
    }
)
RUT_DAY = 306.0
"""Day of the year, 2 November, at the height of the rut (common practice, no source)."""
RUT_BEFORE_D, RUT_AFTER_D = 22.0, 16.0
"""Standard deviations in days of the bell that the rut rises and falls by (assumed)."""
RUT_SEASON = (205.0, 400.0)
"""Days of the season outside which nothing of the peak is left."""
HOT_ABOVE_C = 27.0
HOT_SHARE_PER_C = 0.05
HOT_MOST = 1.5
"""Each degree of the highest temperature above 27 adds 5 percent, half at most (assumed)."""
USE_FACTOR: Mapping[ExpectedUse, float] = MappingProxyType(
    {ExpectedUse.LIGHT: 0.5, ExpectedUse.AVERAGE: 1.0, ExpectedUse.HEAVY: 2.0}
)
"""Multiple of the average (assumed)."""
REACH_BELOW_RIM_MM = 610.0
"""Animals do not drink what stands deeper below the rim, 24 in (assumed)."""

_YEAR_D = 365.25
_MID_MONTH_DAY = (np.arange(12) + 0.5) * _YEAR_D / 12.0


def season_day(day_of_year: ArrayLike, latitude_deg: ArrayLike) -> FloatArray:
    """The day of a northern year: in the south half a year apart; above 0, up to 366."""
    day = np.asarray(day_of_year, dtype=np.float64)
    south = np.where(np.asarray(latitude_deg) < 0.0, _YEAR_D / 2.0, 0.0)
    return np.asarray((day + south - 1.0) % _YEAR_D + 1.0)


def base_demand_l(law: DrinkingLaw, day: ArrayLike) -> FloatArray:
    """Litres wanted a day at average use without the rut, by day of the season."""
    return np.asarray(np.interp(np.asarray(day), _MID_MONTH_DAY, law.base_l, period=_YEAR_D))


def heat_factor(tmax_c: ArrayLike) -> FloatArray:
    """How many times as much is drunk on a day with that highest temperature."""
    heat = 1.0 + HOT_SHARE_PER_C * np.maximum(np.asarray(tmax_c) - HOT_ABOVE_C, 0.0)
    return np.minimum(heat, HOT_MOST)


def use_weights(law: DrinkingLaw, day: ArrayLike) -> FloatArray:
    """Use on days of the season, as a share of that at the height of an average rut."""

    def average_l(day: FloatArray) -> FloatArray:
        bell = np.empty_like(day)
        rut_share_into(
            bell, np.empty_like(day), rut_season_day(day), np.array(RUT_DAY), np.array(1.0)
        )
        return base_demand_l(law, day) + law.rut_l * bell

    most_l = average_l(np.arange(1.0, _YEAR_D)).max()
    return np.asarray(average_l(np.asarray(day, dtype=np.float64)) / most_l)


def rut_season_day(day: ArrayLike) -> FloatArray:
    """The day of the season, January counted on from December; 0 out of the rut's season."""
    day = np.asarray(day, dtype=np.float64)
    counted = np.where(day < RUT_SEASON[1] - _YEAR_D, day + _YEAR_D, day)
    return np.where(counted >= RUT_SEASON[0], counted, 0.0)


def rut_share_into(
    out: FloatArray, work: FloatArray, day: FloatArray, rut_day: FloatArray, rut_width: FloatArray
) -> None:
    """Put the height of the bell on a day, 0 to 1, into `out`.

    `day` as `rut_season_day`; `rut_day` is its highest, `rut_width` a multiple of its
    usual width. All broadcast to the shape of `out` and `work`.
    """
    np.subtract(day, rut_day, out=out)
    np.divide(out, rut_width, out=out)
    np.multiply(out, -1.0 / RUT_BEFORE_D, out=work)
    np.multiply(out, 1.0 / RUT_AFTER_D, out=out)
    np.maximum(out, work, out=out)
    np.multiply(out, out, out=out)
    np.multiply(out, -0.5, out=out)
    np.exp(out, out=out)
