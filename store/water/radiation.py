"""Sun and sky: extraterrestrial, clear-sky and net radiation, day length.

Source: Allen, Pereira, Raes and Smith (1998), Crop evapotranspiration, FAO
Irrigation and Drainage Paper 56 (FAO-56), by equation number. Radiation in
MJ/m2/d, angles in rad, temperature in deg C. All arguments broadcast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from store.weather.days import FloatArray

SOLAR_CONSTANT = 0.0820
"""MJ/m2/min, eq. 21."""
STEFAN_BOLTZMANN = 4.903e-9
"""MJ/K4/m2/d, eq. 39."""
ALBEDO_REFERENCE_CROP = 0.23


def inverse_distance(day_of_year: ArrayLike) -> FloatArray:
    """Inverse relative distance Earth-Sun, eq. 23."""
    return np.asarray(1.0 + 0.033 * np.cos(2.0 * np.pi / 365.0 * np.asarray(day_of_year)))


def declination_rad(day_of_year: ArrayLike) -> FloatArray:
    """Solar declination, eq. 24."""
    return np.asarray(0.409 * np.sin(2.0 * np.pi / 365.0 * np.asarray(day_of_year) - 1.39))


def sunset_hour_angle_rad(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> FloatArray:
    """Sunset hour angle, eq. 25; 0 in polar night, pi under the midnight sun."""
    latitude = np.radians(latitude_deg)
    cosine = -np.tan(latitude) * np.tan(declination_rad(day_of_year))
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def extraterrestrial_mj_m2(latitude_deg: ArrayLike, day_of_year: ArrayLike) -> FloatArray:
    """Extraterrestrial radiation Ra, eq. 21."""
    latitude = np.radians(latitude_deg)
    declination = declination_rad(day_of_year)
    sunset = sunset_hour_angle_rad(latitude_deg, day_of_year)
    height = sunset * np.sin(latitude) * np.sin(declination)
    height = height + np.cos(latitude) * np.cos(declination) * np.sin(sunset)
    radiation = 1440.0 / np.pi * SOLAR_CONSTANT * inverse_distance(day_of_year) * height
    return np.asarray(np.maximum(radiation, 0.0))


def clear_sky_mj_m2(extraterrestrial: ArrayLike, elevation_m: ArrayLike) -> FloatArray:
    """Clear-sky radiation, eq. 37."""
    return np.asarray((0.75 + 2.0e-5 * np.asarray(elevation_m)) * np.asarray(extraterrestrial))


def blackbody_mj_m2(temperature_c: ArrayLike) -> FloatArray:
    """Radiation of a black body a day, Table 2.8 (T + 273.16)."""
    return STEFAN_BOLTZMANN * (np.asarray(temperature_c) + 273.16) ** 4


def net_longwave_mj_m2(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    actual_vapour_kpa: ArrayLike,
    sun: ArrayLike,
    clear_sky: ArrayLike,
) -> FloatArray:
    """Net outgoing longwave radiation, eq. 39; Rs/Rso held within 0.33 to 1.

    Where there is no sun at all (polar night) the sky counts as clear.
    """
    clear = np.asarray(clear_sky, dtype=np.float64)
    ratio = np.ones(np.broadcast(sun, clear).shape)
    np.divide(sun, clear, out=ratio, where=clear > 0.0)
    ratio = np.clip(ratio, 0.33, 1.0)
    black = (blackbody_mj_m2(tmin_c) + blackbody_mj_m2(tmax_c)) / 2.0
    dryness = 0.34 - 0.14 * np.sqrt(actual_vapour_kpa)
    return np.asarray(black * dryness * (1.35 * ratio - 0.35))


def net_radiation_mj_m2(
    sun: ArrayLike, net_longwave: ArrayLike, albedo: float = ALBEDO_REFERENCE_CROP
) -> FloatArray:
    """Net radiation, eqs 38 and 40."""
    return np.asarray((1.0 - albedo) * np.asarray(sun) - np.asarray(net_longwave))
