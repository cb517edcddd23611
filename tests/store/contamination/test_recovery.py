"""Dilution and dates of recovery, against hand-worked mass balances."""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.contamination.causes import CAUSE_PARAMETERS
from store.contamination.events import EventAction, EventHistory
from store.contamination.recovery import (
    CAVEAT,
    RULE_OF_THUMB,
    bailing,
    clear_days,
    recovery,
    recovery_without_weather,
)
from store.contamination.washout import TankWater, concentration_shares
from store.errors import BadValue
from store.records import Action, Cause

FOUND = date(2025, 6, 1)
CAPACITY_L = 500.0
DYE = CAUSE_PARAMETERS[Cause.DYE]
DROWNED = CAUSE_PARAMETERS[Cause.DROWNED_ANIMAL]
BEAR = CAUSE_PARAMETERS[Cause.BEAR_USE]

OVER = "10 weather years"


def day(offset):
    return FOUND + timedelta(days=offset)


def event(cause=Cause.DYE, *actions):
    return EventHistory("e", FOUND, cause, (EventAction(FOUND, Action.LEFT), *actions))


def steady(volumes_a_day, days=200, volume_l=CAPACITY_L):
    """Members that overflow a constant share of the tank every day."""
    factors = np.exp(-np.asarray(volumes_a_day, dtype=float))
    return TankWater(np.tile(factors, (days, 1)), np.array([[volume_l]]), CAPACITY_L)


def still(days=10, volume_l=CAPACITY_L):
    return steady([0.0], days, volume_l)


def final_share(actions, volume_l=CAPACITY_L, cause=DYE, days=10):
    shares = concentration_shares(event(Cause.DYE, *actions), cause, still(days, volume_l))
    return shares[-1, 0]


def test_washout_is_exponential_in_the_volumes_overflowed():
    # Completely mixed reactor, e^-n (Viessman & Hammer 1993).
    shares = concentration_shares(event(), DYE, steady([0.1, 0.02], days=50))
    assert shares.shape == (50, 2)
    n = np.arange(1, 51)[:, None] * [0.1, 0.02]
    np.testing.assert_allclose(shares, np.exp(-n), rtol=1e-12)


def test_clear_after_three_volumes():
    # IMO Ballast Water Management Convention, Regulation D-1: 3 volumes, 95 percent;
    # e^-2.9 is still above 5 percent and e^-3 below.
    assert clear_days(event(), DYE, steady([0.1])) == 29
    share = concentration_shares(event(), DYE, steady([0.1]))[29, 0]
    assert share == pytest.approx(1 - 0.9502, abs=1e-4)


@pytest.mark.parametrize("rounds", [1, 2, 3])
def test_bailing_and_refilling_a_full_tank_leaves_r_to_the_n(rounds):
    # Hand-worked mass balance: heel of 10 percent, r^n.
    work = [EventAction(day(3), action) for action in (Action.BAILED, Action.REFILLED)] * rounds
    # the floor of 2 percent of the tank lies below the 10 percent heel
    assert final_share(work) == pytest.approx(0.1**rounds)


@pytest.mark.parametrize(
    ("actions", "volume_l", "share"),
    [
        # taking water out alone changes no concentration
        ([(Action.BAILED, None)], 500.0, 1.0),
        ([(Action.DRAINED, None)], 500.0, 1.0),
        ([(Action.DRAINED, None), (Action.REFILLED, None)], 500.0, 0.02),
        # 60 percent full made full: 0.6 of the concentration
        ([(Action.REFILLED, None)], 300.0, 0.6),
        ([(Action.REFILLED, 200.0)], 300.0, 0.6),
        # half a volume mixed into a full tank, then spilled: 1 / 1.5
        ([(Action.REFILLED, 250.0)], 500.0, 1 / 1.5),
        # 400 of 500 L bailed by measure leaves 100
        ([(Action.BAILED, 400.0), (Action.REFILLED, 400.0)], 500.0, 0.2),
        # more bailed than was held leaves the least heel, 10 L
        ([(Action.BAILED, 900.0), (Action.REFILLED, 490.0)], 500.0, 0.02),
        # a refill before the bailing dilutes as well: 0.5, then 0.1
        (
            [(Action.REFILLED, None), (Action.BAILED, None), (Action.REFILLED, None)],
            250.0,
            0.05,
        ),
        ([(Action.COVERED, None)], 500.0, 1.0),
        # a dry tank still fouls its first water with what clings to it
        ([(Action.REFILLED, None)], 0.0, 0.02),
    ],
)
def test_hand_work(actions, volume_l, share):
    work = [EventAction(day(2), action, litres) for action, litres in actions]
    assert final_share(work, volume_l) == pytest.approx(share)


def test_work_before_the_find_counts_on_it_and_after_the_horizon_not_at_all():
    bail = (Action.BAILED, Action.REFILLED)
    before = [EventAction(day(-3), action) for action in bail]
    after = [EventAction(day(10), action) for action in bail]
    assert final_share(before) == pytest.approx(0.1)
    assert final_share(after) == 1.0


@pytest.mark.parametrize(
    ("removed_on", "clear"), [(None, 89), (10, 39), (0, 29), (-2, 29), (80, 89)]
)
def test_a_carcass_left_in_keeps_fouling(removed_on, clear):
    # 60 days of release unless removed before, then 29 days at 0.1 volumes a day
    actions = [] if removed_on is None else [EventAction(day(removed_on), Action.REMOVED)]
    drowned = event(Cause.DROWNED_ANIMAL, *actions)
    water = steady([0.1])
    assert clear_days(drowned, DROWNED, water) == clear
    shares = concentration_shares(drowned, DROWNED, water)
    held = clear - 29
    assert (shares[:held] == 1.0).all()
    assert shares[held, 0] == pytest.approx(math.exp(-0.1))


def test_refilling_over_a_carcass_does_not_last():
    work = [EventAction(day(2), action) for action in (Action.BAILED, Action.REFILLED)]
    shares = concentration_shares(event(Cause.DROWNED_ANIMAL, *work), DROWNED, still())
    assert (shares == 1.0).all()


def test_clear_means_it_stays_clear():
    # evaporation concentrates again after the share has once been low enough
    dilution = np.array([[0.04], [2.0], [0.5], [1.0]])
    water = TankWater(dilution, np.array([[CAPACITY_L]]), CAPACITY_L)
    assert clear_days(event(), DYE, water) == 2


def test_a_broken_habit_waits_for_water():
    volumes = np.array([[0.0, 200.0], [120.0, 200.0], [125.0, 0.0]])
    water = TankWater(np.ones((3, 2)), volumes, CAPACITY_L)
    assert clear_days(event(Cause.BEAR_USE), BEAR, water).tolist() == [2, 0]
    never = TankWater(np.ones((3, 1)), np.zeros((3, 1)), CAPACITY_L)
    assert np.isinf(clear_days(event(Cause.BEAR_USE), BEAR, never)).all()
    result = recovery(event(Cause.BEAR_USE), BEAR, never, over=OVER, bail_on=day(1))
    assert (result.waiting.median, result.refilled.median) == (None, day(1 + 10))
    assert result.basis == "habit after water is back, over 10 weather years"


def test_recovery_takes_ten_fifty_and_ninety_percent_of_the_members():
    # clear after ceil(2.996 / rate) - 1 days: 29, 14, 9, 7, 5, 4, 4, 3, 3, 2 for rates 0.1 .. 1.0
    water = steady([rate / 10 for rate in range(1, 11)])
    result = recovery(event(), DYE, water, over=OVER, bail_on=FOUND)
    assert result.waiting.low == day(2 + 7)
    assert result.waiting.median == day(4 + 10)
    assert result.waiting.high == day(14 + 14)
    assert result.basis == "washout by modeled overflow over 10 weather years"
    assert result.caveat == CAVEAT


def test_recovery_beyond_the_horizon_has_no_date():
    # half of the members never overflow at all
    water = steady([0.0, 0.0, 0.5, 0.5, 0.5], days=30)
    waiting = recovery(event(), DYE, water, over=OVER, bail_on=FOUND).waiting
    assert (waiting.low, waiting.median, waiting.high) == (day(5 + 7), day(5 + 10), None)


def test_bailing_brings_the_date_forward():
    # one round leaves 0.1, so ln 2 = 0.69 volumes more: day 10 + 6 at 0.1 a day
    result = recovery(
        event(Cause.DROWNED_ANIMAL), DROWNED, steady([0.1]), over=OVER, bail_on=day(10)
    )
    assert result.waiting.median == day(89 + 10)
    assert result.refilled.median == day(16 + 10)
    twice = recovery(
        event(Cause.DROWNED_ANIMAL), DROWNED, steady([0.1]), over=OVER, bail_on=day(10), rounds=2
    )
    assert twice.refilled.median == day(10 + 10)


def test_a_model_run_with_the_refilled_tank_is_used_when_given():
    fast = steady([0.7])
    result = recovery(event(), DYE, steady([0.1]), over=OVER, bail_on=day(0), refilled_water=fast)
    assert result.refilled.median == day(0 + 10)
    assert result.waiting.median == day(29 + 10)


def test_hand_work_already_in_the_dilution_is_not_counted_twice():
    # the model's factor of day 3 holds a bailing to 10 percent and a refill
    dilution = np.full((100, 1), math.exp(-0.1))
    dilution[3] *= 0.1
    logged = event(
        Cause.DROWNED_ANIMAL,
        EventAction(day(3), Action.REMOVED),
        EventAction(day(3), Action.BAILED),
        EventAction(day(3), Action.REFILLED),
    )
    water = TankWater(dilution, np.array([[CAPACITY_L]]), CAPACITY_L, hand_work_included=True)
    result = recovery(logged, DROWNED, water, over=OVER, bail_on=day(5))
    # 0.1 e^-0.7 on day 9 is the first at or under 0.05; planned work clears it on day 5
    assert result.waiting.median == day(9 + 10)
    assert result.refilled.median == day(5 + 10)


def test_a_tank_the_model_emptied_holds_nothing_more():
    water = TankWater(np.array([[1.0], [0.0], [1.0]]), np.array([[CAPACITY_L]]), CAPACITY_L)
    assert clear_days(event(), DYE, water) == 1


@pytest.mark.parametrize("offset", [-1, 200])
def test_bailing_outside_the_weather_is_refused(offset):
    with pytest.raises(BadValue, match="outside the 200 days"):
        recovery(event(), DYE, steady([0.1]), over=OVER, bail_on=day(offset))


def test_no_rounds_are_refused():
    with pytest.raises(BadValue):
        recovery(event(), DYE, steady([0.1]), over=OVER, bail_on=FOUND, rounds=0)


@pytest.mark.parametrize(
    ("dilution", "volume_l", "capacity_l"),
    [
        (np.ones(3), np.ones(3), 500.0),
        (np.ones((0, 2)), np.ones((1, 2)), 500.0),
        (np.array([[-0.1]]), np.ones((1, 1)), 500.0),
        (np.array([[np.nan]]), np.ones((1, 1)), 500.0),
        (np.ones((3, 2)), np.ones((3, 4)), 500.0),
        (np.ones((3, 2)), -np.ones((3, 2)), 500.0),
        (np.ones((3, 2)), np.ones((3, 2)), 0.0),
    ],
)
def test_impossible_water_is_refused(dilution, volume_l, capacity_l):
    with pytest.raises(BadValue):
        TankWater(dilution, volume_l, capacity_l)


@pytest.mark.parametrize(
    ("actions", "waiting", "refilled"),
    [
        ([], 183, 5 + 21),
        ([(4, Action.REMOVED)], 4 + 183, 5 + 21),
        ([(4, Action.REMOVED), (4, Action.BAILED)], 4 + 183, 5 + 21),
        ([(3, Action.REFILLED), (4, Action.DRAINED)], 183, 5 + 21),
        ([(4, Action.DRAINED), (9, Action.REFILLED)], 9 + 21, 5 + 21),
    ],
)
def test_rule_of_thumb(actions, waiting, refilled):
    # common practice, no source: six months or more by rain, weeks when bailed and refilled
    drowned = event(Cause.DROWNED_ANIMAL, *(EventAction(day(d), action) for d, action in actions))
    result = recovery_without_weather(drowned, DROWNED, bail_on=day(5))
    assert (result.waiting.median, result.waiting.high) == (day(waiting), None)
    assert (result.refilled.median, result.refilled.high) == (day(refilled), None)
    assert (result.basis, result.caveat) == (RULE_OF_THUMB, "dilution only; safety unknown")


rates = st.lists(st.floats(0.0, 2.0), min_size=1, max_size=6)


@given(rates, st.integers(0, 39))
def test_shares_never_rise_without_evaporation_and_bailing_never_hurts(volumes_a_day, bail):
    water = steady(volumes_a_day, days=40)
    left = event(Cause.DROWNED_ANIMAL)
    shares = concentration_shares(left, DROWNED, water)
    assert ((shares > 0) & (shares <= 1)).all()
    assert (np.diff(shares, axis=0) <= 0).all()
    bailed = clear_days(left, DROWNED, water, bailing(day(bail)))
    assert (bailed <= clear_days(left, DROWNED, water)).all()
