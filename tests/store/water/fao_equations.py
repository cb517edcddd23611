"""Equations of FAO Irrigation and Drainage Paper 56 that its worked examples need.

The program itself takes what these give from a weather file, or does without.
"""

import numpy as np
from numpy.typing import ArrayLike

from store.water.evapotranspiration import saturation_vapour_kpa
from store.water.radiation import sunset_hour_angle_rad
from store.weather.days import FloatArray

K_RS_INLAND = 0.16
"""Adjustment of eq. 50 away from coasts (0.19 on a coast)."""


def vapour_from_humidity_extremes_kpa(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    humidity_min_pct: ArrayLike,
    humidity_max_pct: ArrayLike,
) -> FloatArray:
    """Actual vapour pressure from the highest and lowest humidity of a day, eq. 17."""
    morning = saturation_vapour_kpa(tmin_c) * np.asarray(humidity_max_pct)
    return np.asarray(
        (morning + saturation_vapour_kpa(tmax_c) * np.asarray(humidity_min_pct)) / 200.0
    )


def wind_at_2m_m_s(wind_m_s: ArrayLike, height_m: float) -> FloatArray:
    """Wind at 2 m from wind at another height, eq. 47."""
    return np.asarray(np.asarray(wind_m_s) * (4.87 / np.log(67.8 * height_m - 5.42)))


def daylight_hours(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> FloatArray:
    """Day length in h, eq. 34."""
    return np.asarray(24.0 / np.pi * sunset_hour_angle_rad(latitude_deg, day_of_year))


def sunshine_radiation_mj_m2(
    extraterrestrial: ArrayLike,
    sunshine_h: ArrayLike,
    daylight_h: ArrayLike,
    cloudy_share: float = 0.25,
    sunny_share: float = 0.50,
) -> FloatArray:
    """Radiation from hours of sunshine, eq. 35 with its as and bs."""
    share = cloudy_share + sunny_share * np.asarray(sunshine_h) / np.asarray(daylight_h)
    return np.asarray(share * np.asarray(extraterrestrial))


def temperature_radiation_mj_m2(
    extraterrestrial: ArrayLike, tmin_c: ArrayLike, tmax_c: ArrayLike, k_rs: float = K_RS_INLAND
) -> FloatArray:
    """Radiation from the temperature range, eq. 50."""
    spread = np.maximum(np.asarray(tmax_c) - np.asarray(tmin_c), 0.0)
    return np.asarray(k_rs * np.sqrt(spread) * np.asarray(extraterrestrial))
