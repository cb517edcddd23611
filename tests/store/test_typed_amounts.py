"""Depths and volumes with and without their unit."""

import pytest

from store.errors import BadValue
from store.typed_amounts import depth_mm_typed, volume_l_typed
from store.units import METRIC_UNITS, US_UNITS


@pytest.mark.parametrize(
    ("text", "us_mm", "metric_mm"),
    [("12", 304.8, 120.0), ("12 in", 304.8, 304.8), ("30cm", 300.0, 300.0), ('4"', 101.6, 101.6)],
)
def test_a_depth_is_in_the_unit_that_is_typed_or_shown(text, us_mm, metric_mm):
    assert depth_mm_typed(text, US_UNITS) == pytest.approx(us_mm)
    assert depth_mm_typed(text, METRIC_UNITS) == pytest.approx(metric_mm)


def test_a_volume_is_in_the_unit_that_is_typed_or_shown():
    assert volume_l_typed("150 L", US_UNITS) == 150.0
    assert volume_l_typed(" 10 Gal ", METRIC_UNITS) == pytest.approx(37.854, abs=1e-3)
    assert volume_l_typed("10", US_UNITS) == volume_l_typed("10 gallons", US_UNITS)


@pytest.mark.parametrize("text", ["12 gal", "in", "12 in 3", "", "12 ft"])
def test_what_is_no_depth_is_refused(text):
    with pytest.raises(BadValue):
        depth_mm_typed(text, US_UNITS)
