"""Choices side by side: dates, chances and what they cost."""

from datetime import date, timedelta

import numpy as np
import pytest

from store.contamination.choices import Plan, Way, options, rounds_of
from store.contamination.costs import cost
from store.contamination.estimates import RULE_OF_THUMB, DateQuantiles
from store.contamination.events import EventAction, SignSeen
from store.contamination.parameters import CAUSE_PRIORS, CAVEAT
from store.contamination.recovery_forecast import Waters, event_forecast, station_outlook
from store.contamination.rule_of_thumb import forecast_without_weather
from store.contamination.signs import effective_members
from store.contamination.tank_weather import TankWeather
from store.errors import BadValue
from store.records import StationFacts, TankMeasures
from store.units import litres_from_gallons
from store.vocabulary import Access, Action, Cause, Response, Shape, Strength
from tests.store.contamination.fouled import CAPACITY_L, FOUND, day, event, steady

PLAN = Plan(day(10))


def station(access=Access.VEHICLE):
    tank = TankMeasures(Shape.RECTANGULAR, 500.0, length_mm=1000.0, width_mm=1000.0)
    return StationFacts("s", "t", "Hollow tank", tank, 14.0, access=access)


def waters(volumes_a_day=0.06, days=400):
    """As it is, filled on day 10, and emptied on it and full again 40 days later."""
    as_is = steady([volumes_a_day] * 4, days)
    volume_l = np.full((days, 1), CAPACITY_L)
    volume_l[11:50] = 0.0
    empty = TankWeather(as_is.unspilled, as_is.spilled, volume_l, CAPACITY_L)
    return Waters(as_is, as_is, empty)


def outlook(cause=Cause.DROWNED_ANIMAL, *actions, access=Access.VEHICLE, **more):
    return event_forecast(
        event(cause, *actions, signs=more.pop("signs", ())),
        CAUSE_PRIORS[cause],
        station(access),
        more.pop("waters", waters()),
        more.pop("plan", PLAN),
        over="4 weather years",
        **more,
    )


def by_way(result):
    return {choice.way: choice for choice in result.choices}


def test_the_choices_side_by_side():
    result = outlook()
    found = by_way(result)
    assert list(found) == list(Way)
    assert result.waiting is found[Way.WAIT]
    median = {way: choice.used.median for way, choice in found.items()}
    assert median[Way.REFILL] < median[Way.REMOVE] < median[Way.WAIT]
    assert day(10 + 7) <= median[Way.REFILL] <= day(10 + 21)
    assert median[Way.MOVE] == day(11 + 20)
    for choice in found.values():
        assert choice.clear.low <= choice.clear.median <= choice.clear.high
        assert choice.clear.median < choice.used.median
        assert choice.used.low <= choice.used.median <= choice.used.high
    assert result.basis == "the rain that runs over the rim, over 4 weather years"
    assert result.caveat == CAVEAT


def test_a_station_on_foot_is_offered_no_refill():
    found = by_way(outlook(access=Access.FOOT))
    assert Way.REFILL not in found
    assert all(choice.cost.water_l == 0.0 for choice in found.values())
    # drained and moved tanks wait for the rain, here until day 50
    assert found[Way.DRAIN].clear.median >= day(50)
    assert found[Way.MOVE].clear.median == day(50)


@pytest.mark.parametrize(
    ("cause", "ways"),
    [
        (Cause.DYE, [Way.WAIT, Way.REFILL, Way.DRAIN, Way.MOVE]),
        (Cause.SILT, list(Way)),
        (Cause.BEAR_USE, [Way.WAIT, Way.DRAIN, Way.MOVE]),
        (Cause.DRY_SPELL, [Way.WAIT, Way.REFILL, Way.MOVE]),
        (Cause.DISTURBANCE, [Way.WAIT, Way.MOVE]),
        # emptying a spill is for licensed practice
        (Cause.SPILL, [Way.WAIT, Way.MOVE]),
    ],
)
def test_what_may_be_done_about_a_cause(cause, ways):
    assert list(by_way(outlook(cause))) == ways


def test_a_removed_carcass_leaves_nothing_to_take_out():
    removed = EventAction(day(3), Action.REMOVED)
    assert Way.REMOVE not in by_way(outlook(Cause.DROWNED_ANIMAL, removed))


def test_ways_without_their_water_are_left_out():
    only = Waters(waters().as_is)
    assert list(by_way(outlook(waters=only))) == [Way.WAIT, Way.REMOVE]


def test_the_chance_of_being_back_in_time():
    late, soon = (by_way(outlook(before=day(offset))) for offset in (399, 11))
    assert all(choice.chance == pytest.approx(1.0) for choice in late.values())
    assert all(choice.chance == 0.0 for choice in soon.values())
    middle = by_way(outlook())[Way.WAIT].used.median
    assert by_way(outlook(before=middle))[Way.WAIT].chance == pytest.approx(0.5, abs=0.05)
    assert by_way(outlook())[Way.WAIT].chance is None


def test_dates_beyond_the_days_of_weather_are_not_told():
    still = outlook(waters=Waters(steady([0.0] * 4, 300)))
    assert still.waiting.used.low is None
    assert still.waiting.used.high is None


def test_a_sign_moves_the_estimate_and_the_old_one_is_kept():
    plain = outlook(Cause.OTHER)
    good = SignSeen(day(25), smell=Strength.NONE, response=Response.USED)
    bad = SignSeen(day(60), smell=Strength.STRONG, colour=Strength.STRONG)
    better, worse = (outlook(Cause.OTHER, signs=[sign]) for sign in (good, bad))
    assert better.before_signs == worse.before_signs == plain.waiting
    assert better.waiting.used.median < plain.waiting.used.median < worse.waiting.used.median
    told, untold = (effective_members(one.expected.weights) for one in (better, plain))
    assert told < untold == pytest.approx(200)


def test_events_of_a_station_together():
    dye = outlook(Cause.DYE)
    later = event(Cause.DISTURBANCE)
    other = event_forecast(
        type(later)("f", day(40), later.cause, later.actions),
        CAUSE_PRIORS[Cause.DISTURBANCE],
        station(),
        Waters(steady([0.06] * 4, 360)),
        Plan(day(40)),
        over="4 weather years",
    )
    both = station_outlook([dye, other], before=day(399))
    assert both.used.median >= max(dye.waiting.used.median, other.waiting.used.median)
    assert both.chance == pytest.approx(1.0)
    assert station_outlook([dye]).used == dye.waiting.used
    with pytest.raises(BadValue):
        station_outlook([])


def test_what_a_refill_costs():
    # two rounds of 90 percent of 500 L, by the 100 gallon load
    found = by_way(outlook())[Way.REFILL].cost
    assert found.water_l == pytest.approx(900.0)
    assert (found.loads, found.visits) == (3, 1)
    mine = by_way(outlook(plan=Plan(day(10), load_l=litres_from_gallons(25.0))))[Way.REFILL].cost
    assert mine.loads == 10
    assert mine.hours > found.hours


def test_costs_add_up():
    free = cost(Access.FOOT, visits=0)
    assert (free.water_l, free.loads, free.hours, free.visits) == (0.0, 0, 0.0, 0)
    assert cost(Access.ATV, visits=2, water_l=litres_from_gallons(90.0)).loads == 2
    assert by_way(outlook())[Way.WAIT].cost.hours == 0.0


@pytest.mark.parametrize(("share", "rounds"), [(0.9, 2), (0.5, 5), (0.96, 1)])
def test_the_fewest_rounds_that_clear(share, rounds):
    # r^n <= 0.05, by hand
    priors = CAUSE_PRIORS[Cause.DROWNED_ANIMAL]
    assert rounds_of(priors, Plan(FOUND, bail_share=share)) == rounds
    assert rounds_of(priors, Plan(FOUND, bail_share=share, rounds=7)) == 7
    assert rounds_of(CAUSE_PRIORS[Cause.DRY_SPELL], PLAN) == 1


@pytest.mark.parametrize(
    "values", [{"bail_share": 0.0}, {"bail_share": 1.0}, {"rounds": 0}, {"load_l": 0.0}]
)
def test_impossible_plans_are_refused(values):
    with pytest.raises(BadValue):
        Plan(FOUND, **values)


@pytest.mark.parametrize("offset", [-1, 400])
def test_work_outside_the_weather_is_refused(offset):
    with pytest.raises(BadValue, match="outside the 400 days"):
        outlook(plan=Plan(day(offset)))


def test_waters_must_be_alike():
    with pytest.raises(BadValue, match="differ"):
        outlook(waters=Waters(steady([0.1] * 4), steady([0.1] * 3)))


@pytest.mark.parametrize(
    ("actions", "waiting"),
    [
        ([], 183),
        ([(4, Action.REMOVED)], 4 + 183),
        ([(4, Action.REMOVED), (4, Action.BAILED)], 4 + 183),
        ([(3, Action.REFILLED), (4, Action.DRAINED)], 183),
        ([(4, Action.DRAINED), (9, Action.REFILLED)], 9 + 21),
    ],
)
def test_rule_of_thumb(actions, waiting):
    # common practice, no source: six months or more by rain, weeks when bailed and refilled
    drowned = event(Cause.DROWNED_ANIMAL, *(EventAction(day(d), action) for d, action in actions))
    priors = CAUSE_PRIORS[Cause.DROWNED_ANIMAL]
    result = forecast_without_weather(drowned, priors, station(), CAPACITY_L, PLAN)
    found = by_way(result)
    assert (result.waiting.used.median, result.waiting.used.high) == (day(waiting), None)
    assert found[Way.REFILL].used.median == day(10 + 21)
    assert Way.MOVE not in found
    assert (result.basis, result.caveat) == (f"{RULE_OF_THUMB}, no weather", CAVEAT)
    assert station_outlook([result]) is None
    on_foot = forecast_without_weather(drowned, priors, station(Access.FOOT), CAPACITY_L, PLAN)
    assert not {Way.REFILL, Way.DRAIN} & set(by_way(on_foot))


def test_options_take_the_carcass_out_first():
    drowned = event(Cause.DROWNED_ANIMAL)
    found = options(drowned, CAUSE_PRIORS[drowned.cause], Access.ATV, CAPACITY_L, PLAN)
    for option in found:
        if option.way not in (Way.WAIT, Way.MOVE):
            assert option.work[0] == EventAction(PLAN.on, Action.REMOVED)
    assert {option.covered_from for option in found if option.way is Way.DRAIN} == {PLAN.on}
    assert timedelta(days=14) == timedelta(days=max(option.covered_days for option in found))


def test_nothing_comes_of_work_before_it_is_done():
    found, on = date(2015, 7, 20), date(2015, 10, 1)
    assert DateQuantiles(found, on, None).not_before(on) == DateQuantiles(on, on, None)
