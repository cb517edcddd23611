"""Units at the edge. Factors: NIST Special Publication 811 (2008), Appendix B.8."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store import units
from store.units import METRIC_UNITS, US_UNITS, UnitSystem

AMOUNT = st.floats(0.0, 1e6)


def test_exact_factors():
    assert units.mm_from_inches(1.0) == 25.4
    assert units.litres_from_gallons(1.0) == 3.785411784
    assert units.litres_from_gallons(1.0) == pytest.approx(231 * 2.54**3 / 1000.0, rel=1e-15)
    assert units.m2_from_ft2(1.0) == pytest.approx(0.09290304, rel=1e-15)
    assert units.celsius_from_fahrenheit(212.0) == pytest.approx(100.0)
    assert units.celsius_from_fahrenheit(-40.0) == pytest.approx(-40.0)


def test_a_millimetre_on_a_square_metre_is_a_litre_in_us_units_too():
    """One inch on 1000 ft2 is about 623 gal: 1000 * 144 / 231, by the definitions above."""
    litres = units.mm_from_inches(1.0) * units.m2_from_ft2(1000.0)
    assert units.gallons_from_litres(litres) == pytest.approx(1000 * 144 / 231)


def test_the_weight_of_a_gallon():
    """8.34 lb: 3.785411784 L of 0.9991 kg/L (CRC Handbook, 15 C), 0.45359237 kg a pound."""
    pounds = units.LITRES_PER_GALLON * 0.9991 / 0.45359237
    assert pytest.approx(pounds, abs=0.01) == units.POUNDS_PER_GALLON


@pytest.mark.parametrize("system", [US_UNITS, METRIC_UNITS])
@given(amount=AMOUNT)
def test_shown_and_typed_undo_each_other(system, amount):
    for name in ("depth", "volume", "rain", "area"):
        typed = getattr(system, f"{name}_from")(amount)
        assert getattr(system, name)(typed) == pytest.approx(amount, rel=1e-12)


@given(AMOUNT)
def test_conversions_undo_each_other(amount):
    there_and_back = (
        (units.mm_from_inches, units.inches_from_mm),
        (units.litres_from_gallons, units.gallons_from_litres),
    )
    for there, back in there_and_back:
        assert back(there(amount)) == pytest.approx(amount, rel=1e-12, abs=1e-9)


def test_names_belong_to_their_factors():
    assert US_UNITS.depth_from(30.0) == pytest.approx(762.0)
    assert METRIC_UNITS.depth_from(76.2) == pytest.approx(762.0)
    assert METRIC_UNITS.rain_from(12.0) == 12.0
    assert (US_UNITS.depth_name, METRIC_UNITS.depth_name) == ("in", "cm")
    assert units.units(UnitSystem.US) is US_UNITS
    assert units.units(UnitSystem.METRIC) is METRIC_UNITS
