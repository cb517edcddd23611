"""The planned day against every day there is, and what it may never do."""

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.haul.distance import Place
from store.haul.partial import Ways
from store.haul.problem import DayProblem, Limits, Stop, Vehicle, WaterSource
from store.haul.search import good_day
from store.haul.solve import plan_day
from store.haul.steps import Load, Visit
from tests.store.haul.haul_worlds import every_day, random_day

VEHICLE = Vehicle(payload_kg=500.0, tank_l=400.0, pump_l_per_min=40.0, tank_kg=50.0)
WELL = WaterSource("Well", 20.0, Place(40.0, -80.0))


def as_day(problem, plan):
    served = [problem.stops[one] for one in plan.order]
    urgent = sum(stop.urgent for stop in served)
    gain = round(sum(stop.gain_days for stop in served), 9)
    return urgent, gain, len(served), -plan.minutes, -len(plan.loads)


def test_no_day_of_200_is_better_than_the_one_planned():
    rng = random.Random(1)
    for number in range(200):
        few = number % 6
        problem = random_day(rng, few, sources=1 if few == 5 else 0)
        plan = plan_day(problem)
        best = max(every_day(problem))
        assert plan.exact
        assert as_day(problem, plan)[:3] == best[:3]
        assert plan.minutes == pytest.approx(-best[3], abs=1e-6)


def test_the_search_for_many_stops_finds_the_best_day_of_few():
    rng = random.Random(2)
    for _ in range(20):
        problem = random_day(rng, stops=4)
        ways = Ways(problem)
        found = max(every_day(problem))
        assert ways.home(good_day(ways)) == pytest.approx(-found[3], abs=1e-6)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6), st.integers(0, 7))
def test_no_water_is_lost_and_no_load_is_over_the_payload(seed, stops):
    problem = random_day(random.Random(seed), stops)
    plan = plan_day(problem)
    served = [problem.stops[one] for one in plan.order]
    poured = sum(step.poured_l for step in plan.steps if isinstance(step, Visit))
    assert poured == pytest.approx(sum(stop.need_l for stop in served))
    assert plan.water_l == pytest.approx(poured)
    assert all(load.weight_kg <= problem.vehicle.payload_kg + 1e-6 for load in plan.loads)
    assert all(load.water_l <= problem.vehicle.tank_l + 1e-6 for load in plan.loads)
    left = {one.stop for one in plan.left_out}
    assert left | set(plan.order) == set(range(stops))
    assert left.isdisjoint(plan.order)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6), st.integers(1, 6))
def test_the_steps_take_the_time_that_was_planned(seed, stops):
    problem = random_day(random.Random(seed), stops)
    plan = plan_day(problem)
    minutes = [step.done_minute for step in plan.steps]
    assert minutes == sorted(minutes)
    if plan.order:
        home = Ways(problem).drive[plan.order[-1]][-1]
        assert minutes[-1] + home == pytest.approx(plan.minutes)


def test_a_need_above_one_load_is_brought_in_several():
    stop = Stop("a", Place(40.0, -80.0), need_l=1000.0)
    plan = plan_day(DayProblem(VEHICLE, (WELL,), (stop,), start=Place(40.0, -80.0)))
    assert [load.water_l for load in plan.loads] == pytest.approx([400.0, 400.0, 200.0])
    assert plan.minutes == pytest.approx(1000.0 / 20.0 + 1000.0 / 40.0)
    assert [type(step) for step in plan.steps] == [Load, Visit] * 3
    assert [step.last for step in plan.steps if isinstance(step, Visit)] == [False, False, True]


def test_stops_share_a_load():
    stops = tuple(Stop(name, Place(40.0, -80.0), need_l=100.0) for name in "abc")
    plan = plan_day(DayProblem(VEHICLE, (WELL,), stops))
    (load,) = plan.loads
    assert load.water_l == pytest.approx(300.0)
    assert load.stops == plan.order
    assert load.weight_kg == pytest.approx(50.0 + 300.0 * 0.9991)


def test_of_limited_water_the_most_wet_days_are_made():
    here = Place(40.0, -80.0)
    stops = (
        Stop("one large", here, need_l=400.0, gain_days=4.0),
        Stop("small", here, need_l=200.0, gain_days=3.0),
        Stop("small too", here, need_l=200.0, gain_days=2.5),
    )
    plan = plan_day(DayProblem(VEHICLE, (WELL,), stops, limits=Limits(water_l=400.0)))
    assert plan.order == (1, 2)
    (left,) = plan.left_out
    assert (left.stop, left.water_l) == (0, 800.0)


def test_an_urgent_stop_goes_before_any_gain():
    here = Place(40.0, -80.0)
    stops = (
        Stop("water", here, need_l=200.0, minutes=30.0, gain_days=9.0),
        Stop("ramp", here, minutes=30.0, urgent=True),
    )
    plan = plan_day(DayProblem(VEHICLE, (WELL,), stops, limits=Limits(minutes=40.0)))
    assert plan.order == (1,)
    assert plan.left_out[0].minutes == pytest.approx(60.0 + 200.0 / 20.0 + 200.0 / 40.0)


def test_without_a_source_no_water_is_brought_and_the_other_work_is_done():
    here = Place(40.0, -80.0)
    stops = (Stop("water", here, need_l=200.0), Stop("work", here, minutes=10.0))
    plan = plan_day(DayProblem(VEHICLE, (), stops))
    assert plan.order == (1,)
    assert plan.left_out[0].minutes is None


@pytest.mark.parametrize("stops", [5, 12])
def test_days_without_places_keep_the_order(stops):
    rng = random.Random(3)
    problem = random_day(rng, stops, limits=False)
    problem = replace(problem, stops=(replace(problem.stops[0], place=None), *problem.stops[1:]))
    plan = plan_day(problem)
    assert plan.order == tuple(range(stops))


def test_more_stops_than_can_be_solved_exactly_keep_the_limits():
    problem = random_day(random.Random(4), 13, limits=False)
    whole = plan_day(problem)
    assert not whole.exact
    assert not whole.left_out
    half = plan_day(replace(problem, limits=Limits(minutes=whole.minutes / 2.0)))
    assert half.minutes <= whole.minutes / 2.0
    assert half.order
    assert half.left_out


def test_an_empty_day_takes_no_time():
    plan = plan_day(DayProblem(VEHICLE, (WELL,), ()))
    assert (plan.steps, plan.minutes, plan.left_out) == ((), 0.0, ())
