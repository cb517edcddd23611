"""Tanks of the usual size, and those far from it."""

import pytest

from store.records import TankMeasures
from store.season.cautions import ESCAPE_RAMP
from store.units import METRIC_UNITS, US_UNITS
from store.vocabulary import Shape
from store.water.geometry import tank_from_measures
from store.water.usual import ramp_size, unusual_size


def _tank(length_in, width_in, depth_in):
    sides = length_in * 25.4, width_in * 25.4
    return tank_from_measures(
        TankMeasures(Shape.RECTANGULAR, depth_in * 25.4, length_mm=sides[0], width_mm=sides[1])
    )


@pytest.mark.parametrize("size", [(34, 23, 30), (48, 26, 30), (45, 36, 23)])
def test_the_tanks_of_the_trade_are_not_remarked_upon(size):
    """100 to 160 gal, 30 in deep (common practice, no source)."""
    assert unusual_size(_tank(*size), US_UNITS) == ()


def test_a_slip_of_the_unit_is_remarked_upon():
    """Inches typed as centimetres make a tank 16 times smaller."""
    small = _tank(48 / 2.54, 36 / 2.54, 30 / 2.54)
    volume, depth = unusual_size(small, US_UNITS)
    assert volume.startswith("14 gal is far from the usual 100 to 160 gal")
    assert depth.startswith("11.8 in is far from the usual depth of 30 in")
    assert "379 to 606 L" in unusual_size(small, METRIC_UNITS)[0]
    assert len(unusual_size(_tank(400, 36, 30), US_UNITS)) == 1


def test_the_ramp_of_a_30_inch_tank():
    """No steeper than 45 degrees, so at least 30 in of run and 30 * sqrt(2) = 42.4 in of
    ramp: Taylor & Tuttle 2007, Water for Wildlife (Bat Conservation International)."""
    assert "at least 30 in of run, 42 in long" in ramp_size(762.0, US_UNITS)
    assert "at least 76 cm of run, 108 cm long" in ramp_size(762.0, METRIC_UNITS)


def test_the_ramp_caution_keeps_the_published_rules():
    """Taylor & Tuttle 2007, Water for Wildlife: meets the wall, reaches the bottom, 45
    degrees at most, a lasting surface with grip, fixed to the rim."""
    for rule in ("wall", "behind or beneath", "bottom", "45 degrees", "rough", "rim"):
        assert rule in ESCAPE_RAMP.text
    assert len(ESCAPE_RAMP.text) <= 240
    assert "safe" not in ESCAPE_RAMP.text.lower()
    assert "Taylor & Tuttle 2007" in ESCAPE_RAMP.source
