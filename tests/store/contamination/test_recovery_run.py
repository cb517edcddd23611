"""The way back of a tank against washout in closed form and the balance of mass."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.contamination.events import Carcass, EventAction
from store.contamination.recovery_run import first_of_run, recovery_run, together
from store.contamination.tank_weather import TankWeather
from store.contamination.work import PlannedBailing
from store.errors import BadValue
from store.vocabulary import Action, AnimalSize, Cause
from store.water.dilution import HEEL_SHARE
from tests.store.contamination.fouled import (
    CAPACITY_L,
    FOUND,
    TANK,
    day,
    draws,
    event,
    run_weather,
    steady,
)


@pytest.mark.parametrize("mixed", [1.0, 0.5, 0.2])
def test_the_daily_run_washes_out_as_a_stirred_tank(mixed):
    # C/C0 = e^-n of a completely mixed reactor (Levenspiel, Chemical Reaction Engineering;
    # Viessman & Hammer 1993), of the share of the through-flow that mixes.
    weather, _ = run_weather([25.0] * 100)
    shares = recovery_run(event(), draws(mixed_share=mixed), weather).concentration[:, 0]
    n = 25.0 / 500.0 * np.arange(1, 101)
    np.testing.assert_allclose(shares, np.exp(-mixed * n), rtol=1e-9)


@pytest.mark.parametrize("rounds", [1, 2, 3])
@pytest.mark.parametrize("share", [0.5, 0.9])
def test_batch_replacement_leaves_r_to_the_n(rounds, share):
    # mass balance, r^n (checked by hand: a heel of a tenth twice leaves 1 percent)
    weather, _ = run_weather([0.0] * 5)
    work = [PlannedBailing(day(2), share), EventAction(day(2), Action.REFILLED)] * rounds
    shares = recovery_run(event(), draws(), weather, work).concentration[:, 0]
    assert shares[1] == 1.0
    assert shares[-1] == pytest.approx((1.0 - share) ** rounds)


def test_three_volumes_clear_a_tank():
    # IMO Ballast Water Management Convention, Regulation D-1: 3 volumes, 95 percent
    assert recovery_run(event(), draws(), steady(0.1)).clear_days == 29
    assert recovery_run(event(), draws(mixed_share=0.5), steady(0.1)).clear_days == 59


@given(
    st.lists(st.floats(0.0, 60.0), min_size=20, max_size=20),
    st.lists(st.floats(0.0, 8.0), min_size=20, max_size=20),
    st.floats(20.0, 500.0),
    st.floats(0.0, 0.5),
)
def test_what_neither_spills_nor_is_drunk_stays(rain_mm, evaporation_mm, start_l, residue):
    """Mass in the water and on the walls is that of the start, less what overflowed."""
    weather, balance = run_weather(rain_mm, start_l, evaporation_mm)
    found = recovery_run(event(), draws(residue_share=residue), weather)
    heel = HEEL_SHARE * TANK.capacity_l
    counted = np.maximum(balance.volume_l[:, 0, 0], heel)
    mass = found.concentration[:, 0] * counted + found.residue[:, 0] * TANK.capacity_l
    start = max(start_l, heel) + residue * TANK.capacity_l
    lost = np.diff(np.concatenate([[start], mass]))
    still = weather.spilled[:, 0] < 1e-12
    assert (lost <= 1e-9 * start).all()
    assert np.abs(lost[still]).max(initial=0.0) <= 1e-9 * start
    # what the day's overflow takes is e^-n of the water alone
    water = found.concentration[:, 0] * counted
    washed = water * np.expm1(weather.spilled[:, 0])
    np.testing.assert_allclose(-lost[~still], washed[~still], rtol=1e-6, atol=1e-9)


def test_decay_is_first_order_and_quicker_in_warmth():
    # half-life ln 2 / k; 1.047 a degree (Lin, Water and Wastewater Calculations Manual)
    rate = np.log(2.0) / 10.0
    warm, cold = (
        recovery_run(event(), draws(decay_per_day=rate), steady(0.0, temperature_c=t)).concentration
        for t in (20.0, 10.0)
    )
    assert warm[9, 0] == pytest.approx(0.5)
    assert cold[9, 0] == pytest.approx(0.5 ** (1.047**-10))


def test_what_clings_comes_back_after_bailing():
    work = [PlannedBailing(FOUND, 0.9), EventAction(FOUND, Action.REFILLED)] * 2
    clean, clinging = (
        recovery_run(event(), draws(residue_share=share), steady(0.0), work).concentration[:, 0]
        for share in (0.0, 0.1)
    )
    assert clean[-1] == pytest.approx(0.01)
    assert clinging[0] == pytest.approx(0.01 + 0.1 * -np.expm1(-1 / 40))
    assert clinging[-1] == pytest.approx(0.11, abs=0.001)


def test_draining_rinses_and_bailing_does_not():
    def left(action):
        work = [EventAction(FOUND, action), EventAction(FOUND, Action.REFILLED)]
        return recovery_run(event(), draws(residue_share=0.1), steady(0.0), work).residue[0, 0]

    assert left(Action.DRAINED) == pytest.approx(0.3 * left(Action.BAILED))


@pytest.mark.parametrize("removed_on", [None, 0, -3, 20, 60])
def test_a_carcass_fouls_until_it_is_taken_out_or_gone(removed_on):
    # 40 days at 20 C, of which it had lain 7 when found
    actions = [] if removed_on is None else [EventAction(day(removed_on), Action.REMOVED)]
    drowned = event(Cause.DROWNED_ANIMAL, *actions)
    found = recovery_run(drowned, draws(source_days=40.0), steady(0.5))
    ended = 32 if removed_on is None else min(max(removed_on, 0), 32)
    held = found.concentration[:ended, 0]
    assert (held > 0.85).all()
    assert (np.diff(held) >= 0).all()
    assert found.concentration[ended, 0] < 0.7
    assert found.clear_days[0] == ended + 5


def test_a_carcass_lasts_longer_in_the_cold():
    drowned = event(Cause.DROWNED_ANIMAL)
    warm, cold = (
        recovery_run(drowned, draws(source_days=40.0), steady(0.5, temperature_c=t)).clear_days[0]
        for t in (20.0, 10.0)
    )
    assert cold == pytest.approx(2 * warm, abs=10)


def test_small_and_fresh_animals_foul_less():
    def clear(**facts):
        drowned = event(
            Cause.DROWNED_ANIMAL, EventAction(FOUND, Action.REMOVED), carcass=Carcass(**facts)
        )
        return recovery_run(drowned, draws(source_days=40.0), steady(0.02, days=400)).clear_days[0]

    sizes = [clear(size=size) for size in AnimalSize]
    assert sizes == sorted(set(sizes))
    assert clear(days_dead=0.5) < clear(days_dead=3.0) < clear(days_dead=30.0)
    assert clear() == clear(size=AnimalSize.MEDIUM, days_dead=7.0)


def test_how_foul_it_is_when_found_goes_by_the_warmth_of_that_day():
    removed = event(Cause.DROWNED_ANIMAL, EventAction(FOUND, Action.REMOVED))

    def found(first_c, later_c):
        weather = steady(0.02)
        temperature_c = np.full((weather.days, 1), later_c)
        temperature_c[0] = first_c
        weather = replace(weather, temperature_c=temperature_c)
        return recovery_run(removed, draws(source_days=40.0), weather).concentration[0, 0]

    assert found(20.0, 20.0) == found(20.0, 4.0) > found(4.0, 20.0) == found(4.0, 4.0)


def test_refilling_over_a_carcass_does_not_last():
    work = [EventAction(day(2), action) for action in (Action.BAILED, Action.REFILLED)]
    found = recovery_run(event(Cause.DROWNED_ANIMAL, *work), draws(source_days=40.0), steady(0.0))
    assert found.concentration[:30].min() > 0.85


@pytest.mark.parametrize(("cover", "back"), [(None, 20), (5, 5)])
def test_bears_keep_animals_away_until_it_is_covered(cover, back):
    work = [] if cover is None else [EventAction(day(cover), Action.COVERED)]
    bears = draws(strength=0.0, source_days=20.0)
    assert recovery_run(event(Cause.BEAR_USE, *work), bears, steady(0.0)).clear_days == back


def test_bears_seen_again_start_the_wait_anew():
    bears = draws(strength=0.0, source_days=20.0)
    covered = event(Cause.BEAR_USE, EventAction(day(5), Action.COVERED))
    for found, clear in ((event(Cause.BEAR_USE), 32), (covered, 32)):
        again = replace(found, bears_last=day(12))
        assert recovery_run(again, bears, steady(0.0)).clear_days == clear
    covered_since = replace(covered, bears_last=day(4))
    assert recovery_run(covered_since, bears, steady(0.0)).clear_days == 5


def test_a_dry_spell_is_over_when_water_is_back():
    volumes = np.array([[0.0, 200.0], [120.0, 200.0], [125.0, 100.0], [60.0, 100.0]])
    volumes = np.concatenate([volumes, np.full((40, 2), 60.0)])
    weather = TankWeather(np.ones((44, 2)), np.zeros((44, 2)), volumes, CAPACITY_L)
    found = recovery_run(event(Cause.DRY_SPELL), draws(2, strength=0.0), weather)
    assert found.clear_days.tolist() == [2, 0]
    assert found.used_days.tolist() == [12, 9]


def test_a_cover_keeps_animals_off():
    closed = np.arange(200) < 50
    found = recovery_run(event(), draws(strength=0.0), steady(0.0), closed=closed)
    assert (found.clear_days[0], found.used_days[0]) == (50, 50 + 12)


def test_a_dry_tank_is_not_clear():
    found = recovery_run(event(), draws(), steady(1.0, volume_l=10.0))
    assert np.isinf(found.clear_days).all()
    assert np.isinf(found.used_days).all()


def test_use_is_back_after_the_water_is_clear():
    found = recovery_run(event(), draws(3, habit_days=[7.0, 10.0, 14.0]), steady([0.1, 0.1, 0.1]))
    assert found.clear_days.tolist() == [29, 29, 29]
    # 30 days of break stretch the days of mending by a sixth
    assert found.used_days.tolist() == [29 + 8, 29 + 11, 29 + 16]


def test_clear_is_the_first_of_two_clear_weeks():
    holds = np.ones((40, 3), dtype=bool)
    holds[:5] = False
    holds[10, 1] = False
    holds[35, 2] = False
    holds[:, 2] &= np.arange(40) > 30
    assert first_of_run(holds, 14).tolist() == [5, 11, 36]
    assert np.isinf(first_of_run(np.zeros((5, 1), dtype=bool), 2)).all()


def test_a_station_is_back_when_all_its_events_are():
    dye = recovery_run(event(), draws(), steady(0.1, days=100))
    later = event(Cause.DISTURBANCE)
    late = recovery_run(later, draws(strength=0.0, source_days=15.0), steady(0.1, days=60))
    late = replace(late, first_day=day(40))
    both = together([late, dye])
    assert both.first_day == FOUND
    assert both.no_use[:, 0].sum() == 29 + 15
    # clear for less than two weeks before the disturbance
    assert (dye.clear_days[0], both.clear_days[0]) == (29, 55)
    assert both.used_days[0] > dye.used_days[0]


def test_members_must_match():
    with pytest.raises(BadValue, match="draw as many"):
        recovery_run(event(), draws(3), steady([0.1, 0.2]))


@pytest.mark.parametrize(
    ("unspilled", "volume_l", "capacity_l", "temperature_c"),
    [
        (np.ones(3), np.ones((1, 1)), 500.0, 15.0),
        (np.ones((0, 2)), np.ones((1, 1)), 500.0, 15.0),
        (np.array([[-0.1]]), np.ones((1, 1)), 500.0, 15.0),
        (np.array([[np.nan]]), np.ones((1, 1)), 500.0, 15.0),
        (np.ones((3, 2)), np.ones((3, 4)), 500.0, 15.0),
        (np.ones((3, 2)), -np.ones((1, 1)), 500.0, 15.0),
        (np.ones((3, 2)), np.ones((1, 1)), 0.0, 15.0),
        (np.ones((3, 2)), np.ones((1, 1)), 500.0, np.nan),
    ],
)
def test_impossible_weather_is_refused(unspilled, volume_l, capacity_l, temperature_c):
    with pytest.raises(BadValue):
        TankWeather(unspilled, np.zeros((1, 1)), volume_l, capacity_l, np.array([[temperature_c]]))
