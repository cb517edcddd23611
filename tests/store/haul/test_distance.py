import math

import pytest

from store.haul.distance import EARTH_RADIUS_KM, Place, distance_km, way_minutes


def test_a_degree_of_latitude_is_its_share_of_the_meridian():
    degree = distance_km(Place(40.0, -80.0), Place(41.0, -80.0))
    assert degree == pytest.approx(2.0 * math.pi * EARTH_RADIUS_KM / 360.0)


def test_the_published_worked_example():
    """Nashville to Los Angeles airports, 2887.26 km on a sphere of 6372.8 km.

    Source: the haversine task of Rosetta Code, in any of its languages (value from memory).
    """
    nashville, los_angeles = Place(36.12, -86.67), Place(33.94, -118.40)
    scaled = distance_km(nashville, los_angeles) * 6372.8 / EARTH_RADIUS_KM
    assert scaled == pytest.approx(2887.2599506071106)


def test_opposite_points_are_half_the_way_round():
    half = distance_km(Place(0.0, 0.0), Place(0.0, 180.0))
    assert half == pytest.approx(math.pi * EARTH_RADIUS_KM)


def test_a_way_is_longer_than_the_straight_line():
    one, other = Place(40.0, -80.0), Place(40.0, -80.1)
    straight = distance_km(one, other) / 30.0 * 60.0
    assert way_minutes(one, other, 30.0, 1.3) == pytest.approx(straight * 1.3)
    assert way_minutes(one, None, 30.0, 1.3) == 0.0
