"""Events and water in short for the tests of contamination."""

from datetime import date, timedelta

import numpy as np

from store.contamination.draws import Draws
from store.contamination.events import UNKNOWN_CARCASS, EventAction, EventHistory
from store.contamination.tank_weather import TankWeather, spilled_volumes
from store.records import TankMeasures
from store.vocabulary import Action, Cause, Shape
from store.water.balance import run_balance
from store.water.dilution import weather_dilution
from store.water.forcing import Forcing
from store.water.geometry import tank_from_measures
from store.water.parameters import Parameters, TankSite
from store.water.runoff import RunoffLaw

FOUND = date(2025, 6, 1)
CAPACITY_L = 500.0
TANK = tank_from_measures(TankMeasures(Shape.RECTANGULAR, 500.0, length_mm=1000.0, width_mm=1000.0))
"""One square metre without an apron: 1 mm is 1 L, 500 L to the rim."""


def day(offset):
    return FOUND + timedelta(days=offset)


def event(cause=Cause.DYE, *actions, signs=(), carcass=UNKNOWN_CARCASS):
    return EventHistory(
        "e", FOUND, cause, (EventAction(FOUND, Action.LEFT), *actions), tuple(signs), carcass
    )


def steady(volumes_a_day, days=200, volume_l=CAPACITY_L, temperature_c=20.0):
    """A full tank, each member overflowing a constant share of it every day."""
    spilled = np.tile(np.atleast_1d(np.asarray(volumes_a_day, dtype=float)), (days, 1))
    return TankWeather(
        np.ones_like(spilled),
        spilled,
        np.array([[volume_l]]),
        CAPACITY_L,
        np.array([[temperature_c]]),
        dry_l=0.05 * CAPACITY_L,
    )


def draws(members=1, **values):
    """Members all alike: well mixed, nothing clinging, nothing decaying."""
    usual = {
        "strength": 1.0,
        "clear_share": 0.05,
        "mixed_share": 1.0,
        "residue_share": 0.0,
        "residue_days": 40.0,
        "source_days": 0.0,
        "decay_per_day": 0.0,
        "habit_left": 0.0,
        "habit_days": 10.0,
    }
    return Draws(
        **{
            name: np.broadcast_to(np.asarray(value, dtype=float), (members,))
            for name, value in (usual | values).items()
        }
    )


def run_weather(rain_mm, start_l=CAPACITY_L, evaporation_mm=None):
    """The weather of `TANK` from the daily run of the water model, and that run."""

    def axis(values):
        return np.asarray(values, dtype=float).reshape(-1, 1, 1)

    none = axis([0.0] * len(rain_mm))
    forcing = Forcing(
        first_day=FOUND,
        rain_mm=axis(rain_mm),
        snow_mm=none,
        apron_mm=none,
        moisture=np.zeros(none.shape, dtype=np.int8),
        bare_moisture=np.zeros(none.shape, dtype=np.int8),
        growing=np.zeros(none.shape, dtype=bool),
        evaporation_mm=none if evaporation_mm is None else axis(evaporation_mm),
        demand_l=none,
        rut_l=none,
        rut_day=none,
        ice=np.zeros(none.shape, dtype=bool),
    )
    one = np.ones((1, 1))
    parameters = Parameters(one, one, one, np.zeros((1, 1)), one, one)
    balance = run_balance([TankSite(TANK, 0.0, RunoffLaw(90.0), 0.0)], forcing, parameters, start_l)
    unspilled = weather_dilution(balance, mixed_share=0.0)[:, 0]
    spilled = spilled_volumes(unspilled, weather_dilution(balance)[:, 0])
    mornings = np.concatenate([balance.start_volume_l, balance.volume_l[:-1, 0]])
    return TankWeather(unspilled, spilled, mornings, TANK.capacity_l), balance
