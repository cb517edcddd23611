"""What was changed of a station's facts, in words."""

from dataclasses import fields, replace

import pytest

from store.records import StationFacts, TankMeasures
from store.units import METRIC_UNITS, US_UNITS
from store.views.facts_changes import facts_changes
from store.vocabulary import Access, ApronSurface, ExpectedUse, Exposure, Shape

TANK = TankMeasures(Shape.ROUND, depth_mm=762.0, diameter_mm=914.4)
FACTS = StationFacts("s", "t", "Oak", TANK, apron_area_m2=14.0)
OTHER = {
    "tract_id": "u",
    "name": "Elm",
    "apron_area_m2": 20.0,
    "apron_surface": ApronSurface.GRAVEL,
    "rim_above_ground_mm": 25.4,
    "exposure": Exposure.OPEN,
    "access": Access.ATV,
    "expected_use": ExpectedUse.HEAVY,
    "bear_country": True,
    "latitude_deg": 42.0,
    "longitude_deg": -74.5,
    "directions": "past the gate",
}
OTHER_TANK = {
    "shape": Shape.OBLONG,
    "depth_mm": 700.0,
    "length_mm": 1000.0,
    "width_mm": 500.0,
    "diameter_mm": 900.0,
    "bottom_length_mm": 900.0,
    "bottom_width_mm": 400.0,
    "bottom_diameter_mm": 800.0,
    "depth_volume": ((0.0, 0.0), (100.0, 20.0)),
}


def test_every_fact_is_told_of():
    assert {one.name for one in fields(StationFacts)} == {*OTHER, "station_id", "tank"}
    assert {one.name for one in fields(TankMeasures)} == {*OTHER_TANK}


@pytest.mark.parametrize("name", OTHER)
def test_a_change_is_one_sentence(name):
    after = replace(FACTS, **{name: OTHER[name]})
    assert len(facts_changes(FACTS, after, US_UNITS)) == 1


@pytest.mark.parametrize("name", OTHER_TANK)
def test_so_is_one_of_the_tank(name):
    after = replace(FACTS, tank=replace(TANK, **{name: OTHER_TANK[name]}))
    assert len(facts_changes(FACTS, after, US_UNITS)) == 1


def test_amounts_are_said_in_the_units_shown():
    after = replace(FACTS, apron_area_m2=20.0, tank=replace(TANK, diameter_mm=1016.0))
    assert facts_changes(FACTS, after, US_UNITS) == (
        "diameter 40 in, was 36 in",
        "apron 215.3 ft2, was 150.7 ft2",
    )
    assert facts_changes(FACTS, after, METRIC_UNITS) == (
        "diameter 101.6 cm, was 91.44 cm",
        "apron 20 m2, was 14 m2",
    )
    assert facts_changes(FACTS, FACTS, US_UNITS) == ()
