import pytest

from store.errors import BadValue
from store.haul.distance import Place
from store.haul.problem import DayProblem, Stop, Vehicle, WaterSource

GOOD = {"payload_kg": 500.0, "tank_l": 400.0, "pump_l_per_min": 40.0, "tank_kg": 50.0}


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"payload_kg": 0.0}, "payload must be more than 0"),
        ({"payload_kg": -5.0}, "payload must be more than 0"),
        ({"payload_kg": 50.0}, "as heavy as the whole payload"),
        ({"tank_l": 0.0}, "hauling tank must hold"),
        ({"tank_kg": -1.0}, "less than nothing"),
        ({"pump_l_per_min": 0.0}, "pump must bring"),
    ],
)
def test_a_vehicle_that_cannot_be_is_refused(wrong, said):
    with pytest.raises(BadValue, match=said):
        Vehicle(**{**GOOD, **wrong})


def test_the_payload_may_leave_less_water_than_the_tank_holds():
    assert Vehicle(**GOOD).load_l == 400.0
    light = Vehicle(**{**GOOD, "payload_kg": 250.0})
    assert light.load_l == pytest.approx(200.0 / 0.9991)
    assert light.weight_kg(light.load_l) == pytest.approx(250.0)


def test_a_source_without_flow_is_refused():
    with pytest.raises(BadValue, match="Creek must give"):
        WaterSource("Creek", 0.0)


def test_speeds_that_cannot_be_are_refused():
    with pytest.raises(BadValue, match="driving speed"):
        DayProblem(Vehicle(**GOOD), (), (), drive_km_per_hour=0.0)
    with pytest.raises(BadValue, match="detour"):
        DayProblem(Vehicle(**GOOD), (), (), detour=0.5)


def test_a_day_is_placed_where_every_stop_and_source_is():
    here = Place(40.0, -80.0)
    well, bare = WaterSource("Well", 20.0, here), WaterSource("Well", 20.0)
    assert DayProblem(Vehicle(**GOOD), (well,), (Stop("a", here),)).placed
    assert not DayProblem(Vehicle(**GOOD), (bare,), (Stop("a", here),)).placed
    assert not DayProblem(Vehicle(**GOOD), (well,), (Stop("a"),)).placed


@pytest.mark.parametrize(
    ("need_l", "hauled_l"), [(20.0, 20.0), (400.0, 400.0), (430.0, 400.0), (450.0, 450.0)]
)
def test_nobody_goes_back_for_a_last_small_part_of_a_load(need_l, hauled_l):
    assert Vehicle(**GOOD).worth_hauling_l(need_l) == pytest.approx(hauled_l)
