"""Reference evapotranspiration ETo: Penman-Monteith where it can be, else Hargreaves.

Source: FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), by equation
number. Vapour pressure in kPa, temperature in deg C, wind at 2 m in m/s,
radiation in MJ/m2/d, ETo in mm/d. All arguments broadcast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from store.water import radiation
from store.weather.days import FloatArray

MM_PER_MJ_M2 = 0.408
"""Water evaporated by 1 MJ/m2, eq. 20."""
OPEN_WATER_COEFFICIENT = 1.05
"""Open water under 2 m deep against ETo, Table 12 (group p); not universal: the
calm winter day of McMahon et al. (2013, HESS 17:1331) gives 1.43."""


def saturation_vapour_kpa(temperature_c: ArrayLike) -> FloatArray:
    """Saturation vapour pressure e0(T), eq. 11."""
    t = np.asarray(temperature_c, dtype=np.float64)
    return np.asarray(0.6108 * np.exp(17.27 * t / (t + 237.3)))


def mean_saturation_vapour_kpa(tmin_c: ArrayLike, tmax_c: ArrayLike) -> FloatArray:
    """Mean saturation vapour pressure es, eq. 12."""
    return (saturation_vapour_kpa(tmin_c) + saturation_vapour_kpa(tmax_c)) / 2.0


def vapour_slope_kpa_c(temperature_c: ArrayLike) -> FloatArray:
    """Slope of the saturation vapour pressure curve, eq. 13."""
    t = np.asarray(temperature_c, dtype=np.float64)
    return 4098.0 * saturation_vapour_kpa(t) / (t + 237.3) ** 2


def pressure_kpa(elevation_m: ArrayLike) -> FloatArray:
    """Air pressure at an elevation, eq. 7."""
    return np.asarray(101.3 * ((293.0 - 0.0065 * np.asarray(elevation_m)) / 293.0) ** 5.26)


def psychrometric_kpa_c(elevation_m: ArrayLike) -> FloatArray:
    """Psychrometric constant, eq. 8."""
    return 0.665e-3 * pressure_kpa(elevation_m)


def vapour_from_mean_humidity_kpa(
    tmin_c: ArrayLike, tmax_c: ArrayLike, humidity_pct: ArrayLike
) -> FloatArray:
    """Actual vapour pressure from the mean relative humidity, eq. 19."""
    return np.asarray(humidity_pct) / 100.0 * mean_saturation_vapour_kpa(tmin_c, tmax_c)


def penman_monteith_mm(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    actual_vapour_kpa: ArrayLike,
    wind_m_s: ArrayLike,
    net_radiation: ArrayLike,
    elevation_m: ArrayLike,
    soil_heat: ArrayLike = 0.0,
) -> FloatArray:
    """Penman-Monteith ETo, eq. 6; the soil heat of a day is about 0 (eq. 42)."""
    mean_c = (np.asarray(tmin_c) + np.asarray(tmax_c)) / 2.0
    slope = vapour_slope_kpa_c(mean_c)
    gamma = psychrometric_kpa_c(elevation_m)
    wind = np.asarray(wind_m_s)
    deficit = mean_saturation_vapour_kpa(tmin_c, tmax_c) - np.asarray(actual_vapour_kpa)
    energy = MM_PER_MJ_M2 * slope * (np.asarray(net_radiation) - np.asarray(soil_heat))
    drying = gamma * 900.0 / (mean_c + 273.0) * wind * np.maximum(deficit, 0.0)
    return np.asarray((energy + drying) / (slope + gamma * (1.0 + 0.34 * wind)))


def hargreaves_mm(tmin_c: ArrayLike, tmax_c: ArrayLike, extraterrestrial: ArrayLike) -> FloatArray:
    """Hargreaves ETo, eq. 52."""
    low, high = np.asarray(tmin_c), np.asarray(tmax_c)
    spread = np.sqrt(np.maximum(high - low, 0.0))
    water = MM_PER_MJ_M2 * np.asarray(extraterrestrial)
    return np.asarray(0.0023 * ((low + high) / 2.0 + 17.8) * spread * water)


def reference_et_mm(
    day_of_year: ArrayLike,
    latitude_deg: ArrayLike,
    elevation_m: ArrayLike,
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    humidity_pct: ArrayLike = np.nan,
    dewpoint_c: ArrayLike = np.nan,
    wind_m_s: ArrayLike = np.nan,
    sun_mj_m2: ArrayLike = np.nan,
) -> FloatArray:
    """ETo in mm/d, never negative; shapes broadcast, NaN stands for not measured.

    A day with dewpoint (eq. 14) or humidity, wind and radiation takes
    Penman-Monteith, any other Hargreaves. NaN only where a temperature is NaN.
    """
    sky = radiation.extraterrestrial_mj_m2(latitude_deg, day_of_year)
    simple = hargreaves_mm(tmin_c, tmax_c, sky)
    vapour = np.where(
        np.isnan(dewpoint_c),
        vapour_from_mean_humidity_kpa(tmin_c, tmax_c, humidity_pct),
        saturation_vapour_kpa(dewpoint_c),
    )
    longwave = radiation.net_longwave_mj_m2(
        tmin_c, tmax_c, vapour, sun_mj_m2, radiation.clear_sky_mj_m2(sky, elevation_m)
    )
    net = radiation.net_radiation_mj_m2(sun_mj_m2, longwave)
    full = penman_monteith_mm(tmin_c, tmax_c, vapour, wind_m_s, net, elevation_m)
    unknown = np.isnan(vapour) | np.isnan(wind_m_s) | np.isnan(sun_mj_m2)
    return np.maximum(np.where(unknown, simple, full), 0.0)
