"""Runoff, moisture classes, snow and ice against published values."""

import numpy as np
import pytest

from store.units import MM_PER_INCH, gallons_from_litres, m2_from_ft2
from store.vocabulary import ApronSurface
from store.water.forcing import daily_forcing
from store.water.ice import ALPHA_MM, ice_mm, is_closed
from store.water.interception import intercepted_mm
from store.water.runoff import (
    RUNOFF_LAW,
    dry_curve_number,
    moisture_class,
    retention_mm,
    runoff_mm,
    shed_mm,
    water_of_five_days_mm,
    wet_curve_number,
)
from store.water.snow import MELT_MM_C_D, melt_mm, snow_share

IN = MM_PER_INCH
NUMBERS = np.array([80.0, 85.0, 90.0, 95.0, 98.0])


def test_retention_and_abstraction() -> None:
    """TR-55 (1986) eqs 2-2 and 2-4, Table 4-1, inches."""
    number = np.array([80.0, 85.0, 90.0, 95.0])
    assert retention_mm(number) / IN == pytest.approx([2.500, 1.765, 1.111, 0.526], abs=6e-4)
    lost = 0.2 * retention_mm(number) / IN
    assert lost == pytest.approx([0.500, 0.353, 0.222, 0.105], abs=6e-4)


@pytest.mark.parametrize(
    ("rain_in", "runoff_in"),
    [
        (1.0, [0.08, 0.17, 0.32, 0.56, 0.79]),
        (1.2, [0.15, 0.27, 0.46, 0.74, 0.99]),
        (2.0, [0.56, 0.80, 1.09, 1.48, 1.77]),
        (3.0, [1.25, 1.59, 1.98, 2.45, 2.77]),
        (6.0, [3.78, 4.30, 4.85, 5.41, 5.76]),
    ],
)
def test_runoff_depth_table(rain_in: float, runoff_in: list[float]) -> None:
    """TR-55 (1986) Table 2-1, inches, curve numbers 80 to 98."""
    assert runoff_mm(rain_in * IN, NUMBERS) / IN == pytest.approx(runoff_in, abs=5e-3)


def test_metric_runoff_and_weighted_number() -> None:
    """NEH 630 chapter 10: 127 mm on CN 75 gives 62.2 mm; TR-55 Example 2-1: 2.81 in."""
    assert runoff_mm(127.0, 75.0) == pytest.approx(62.2, abs=0.1)
    weighted = 0.70 * 74.0 + 0.30 * 61.0
    assert runoff_mm(6.0 * IN, np.round(weighted)) / IN == pytest.approx(2.81, abs=0.01)


def test_small_rain_never_runs_off() -> None:
    assert runoff_mm(0.19 * retention_mm(80.0), 80.0) == 0.0
    assert runoff_mm(np.array([0.0, 5.0]), 100.0) == pytest.approx([0.0, 5.0])


def test_dry_and_wet_ground() -> None:
    """Hawkins et al. (1985); NEH Table 10-1 63/91 and 78/96 (value from memory) within 2."""
    number = np.array([80.0, 90.0])
    assert dry_curve_number(number) == pytest.approx([63.7, 79.8], abs=0.1)
    assert wet_curve_number(number) == pytest.approx([90.4, 95.5], abs=0.1)
    assert dry_curve_number(number) == pytest.approx([63.0, 78.0], abs=2.0)
    assert wet_curve_number(number) == pytest.approx([91.0, 96.0], abs=2.0)


def test_moisture_class_by_season() -> None:
    """NEH section 4, Table 4.2 (value from memory): 0.5/1.1 in dormant, 1.4/2.1 growing."""
    five_days = np.array([0.4, 0.6, 1.2, 1.5, 2.2]) * IN
    dormant = moisture_class(five_days, np.zeros(5, dtype=bool))
    growing = moisture_class(five_days, np.ones(5, dtype=bool))
    assert dormant.tolist() == [0, 1, 2, 2, 2]
    assert growing.tolist() == [0, 0, 0, 1, 2]


def test_five_days_before_a_day() -> None:
    water = np.array([1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0])
    assert water_of_five_days_mm(water).tolist() == [0, 1, 3, 7, 15, 31, 62]


def test_surfaces() -> None:
    """TR-55 Table 2-2: every surface has a row; graded soil D 94, woods good C 70."""
    assert set(RUNOFF_LAW) == set(ApronSurface)
    assert RUNOFF_LAW[ApronSurface.SCULPTED_SOIL].curve_number == 94.0
    assert RUNOFF_LAW[ApronSurface.WOODS_LITTER].curve_number == 70.0


@pytest.mark.parametrize("name", ["new_york", "champion", "shenandoah"])
@pytest.mark.parametrize(
    ("surface", "least", "most"),
    [
        # Texas Water Resources Institute TR-46 (1972): graded, compacted earth sheds 31 to
        # 43 percent; where most rains are light, as at Champion, less.
        (ApronSurface.SCULPTED_SOIL, 0.24, 0.43),
        # Frasier, Cooley and Griggs (1979), J. Range Manage.: membranes 90 to 100 percent;
        # the millimetre that wets it each day takes more where rains are light.
        (ApronSurface.LINER, 0.72, 1.0),
        # Rainwater-harvesting trainers' manual, India Water Portal chapter 3.
        (ApronSurface.LOOSE_SOIL, 0.08, 0.30),
    ],
)
def test_what_a_surface_sheds_from_may_to_october(request, name, surface, least, most) -> None:  # type: ignore[no-untyped-def]
    """Of all rain on real records, under an open sky."""
    record = request.getfixturevalue(name)
    forcing = daily_forcing(
        record.first_day,
        record["rain_mm"],
        record["tmin_c"],
        record["tmax_c"],
        latitude_deg=record.latitude_deg,
        elevation_m=record.elevation_m,
    )
    season = np.array([5 <= day.month <= 10 for day in record.dates])
    shed = shed_mm(RUNOFF_LAW[surface], forcing.apron_mm, forcing.moisture, forcing.bare_moisture)
    assert least < shed[season].sum() / record["rain_mm"][season].sum() < most


@pytest.mark.parametrize("name", ["new_york", "champion", "shenandoah"])
def test_hardwoods_let_through_what_is_published(request, name) -> None:  # type: ignore[no-untyped-def]
    """About 80 to 88 percent of a summer's rain (Helvey and Patric 1965, from memory)."""
    record = request.getfixturevalue(name)
    summer = np.array([6 <= day.month <= 8 for day in record.dates])
    rain = record["rain_mm"][summer]
    kept = intercepted_mm(rain, np.ones(rain.shape, dtype=bool))
    assert 0.78 < 1.0 - kept.sum() / rain.sum() < 0.88
    assert (kept <= rain).all()
    assert (kept >= 0.0).all()


def test_rain_on_an_opening() -> None:
    """1 in on 1 ft2 is 0.6234 gal (231 in3 to the gallon, NIST SP 811)."""
    assert gallons_from_litres(IN * m2_from_ft2(1.0)) == pytest.approx(0.6234, abs=1e-4)


def test_snow_share() -> None:
    """Half at 1.0 deg C, Jennings et al. (2018), Nature Communications 9:1148."""
    assert snow_share(np.array([-5.0, 1.0, 9.0])).tolist() == [1.0, 0.5, 0.0]
    assert (np.diff(snow_share(np.linspace(-3.0, 5.0, 50))) <= 0.0).all()


def test_degree_day_melt() -> None:
    """NEH 630 chapter 11 (2004): 0.060 in/F d; 20 mm at 5 C melt 13.7, then 6.3 mm."""
    assert pytest.approx(0.060 * IN * 1.8, abs=0.005) == MELT_MM_C_D
    snow = np.array([[20.0], [0.0], [0.0]])
    melt, pack = melt_mm(snow, np.full((3, 1), 5.0))
    assert melt.ravel() == pytest.approx([13.7, 6.3, 0.0], abs=0.01)
    assert pack.ravel() == pytest.approx([6.3, 0.0, 0.0], abs=0.01)


def test_ice_growth() -> None:
    """USACE EM 1110-2-1612: average lake with snow, 100 F d gives 5 to 7 in."""
    grown = ice_mm(np.full(10, -100.0 / 1.8 / 10.0))[-1]
    assert 4.9 < grown / IN < 7.1
    assert ALPHA_MM < 35.2  # below the Stefan solution, 3.52 cm per sqrt(C d)


def test_ice_goes_three_to_four_times_as_fast() -> None:
    """Gow and Govoni (1983), CRREL Report 83-4 (number from memory)."""
    mean = np.concatenate([np.full(35, -1.0), np.full(20, 1.0)])
    thickness = ice_mm(mean)
    gone = int(np.argmax(thickness[35:] == 0.0)) + 1
    assert 3.0 <= 35.0 / gone <= 4.0
    assert is_closed(thickness).sum() > 35
    assert not is_closed(thickness)[[0, -1]].any()
