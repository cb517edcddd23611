"""Dilution of a well-mixed tank against the washout of a stirred reactor."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import TankMeasures
from store.vocabulary import Shape
from store.water.balance import Balance, Change, ChangeKind, run_balance
from store.water.dilution import HEEL_SHARE, weather_dilution
from store.water.forcing import Forcing
from store.water.geometry import Tank, tank_from_measures
from store.water.parameters import Parameters, TankSite
from store.water.runoff import RunoffLaw
from store.weather.days import FloatArray
from tests.store.water.fluxes import dilution

TANK: Tank = tank_from_measures(
    TankMeasures(Shape.RECTANGULAR, 500.0, length_mm=1000.0, width_mm=1000.0)
)
"""One square metre: 1 mm of water is 1 L; 500 L to the rim."""


def forced(
    rain_mm: list[float], evaporation_mm: list[float] | None = None, demand_l: float = 0.0
) -> Forcing:
    def axis(values: list[float]) -> FloatArray:
        return np.array(values, dtype=np.float64).reshape(-1, 1, 1)

    nothing = axis([0.0] * len(rain_mm))
    return Forcing(
        first_day=date(2001, 6, 1),
        rain_mm=axis(rain_mm),
        snow_mm=nothing,
        apron_mm=nothing,
        moisture=np.zeros(nothing.shape, dtype=np.int8),
        bare_moisture=np.zeros(nothing.shape, dtype=np.int8),
        growing=np.zeros(nothing.shape, dtype=bool),
        evaporation_mm=nothing if evaporation_mm is None else axis(evaporation_mm),
        demand_l=nothing + demand_l,
        rut_l=nothing,
        rut_day=nothing,
        ice=np.zeros(nothing.shape, dtype=bool),
    )


def run(forcing: Forcing, start_l: float, changes: tuple[Change, ...] = ()) -> Balance:
    one, none = np.ones((1, 1)), np.zeros((1, 1))
    parameters = Parameters(one, one, one, none, one, one)
    return run_balance(
        [TankSite(TANK, 0.0, RunoffLaw(90.0), 0.0)], forcing, parameters, start_l, changes=changes
    )


def left(balance: Balance) -> float:
    """Concentration at the end against the start."""
    return float(np.cumprod(dilution(balance), axis=0)[-1, 0, 0])


@pytest.mark.parametrize("volumes", [0.5, 1.0, 2.0, 3.0])
@pytest.mark.parametrize("days", [1, 10])
def test_washout_of_a_full_tank(volumes: float, days: int) -> None:
    """C/C0 = exp(-n), completely mixed reactor (Levenspiel; Viessman and Hammer 1993)."""
    balance = run(forced([volumes * 500.0 / days] * days), 500.0)
    assert left(balance) == pytest.approx(np.exp(-volumes), abs=1e-12)


@pytest.mark.parametrize(
    ("removed", "volumes"),
    [(0.50, 0.693), (0.90, 2.303), (0.95, 2.996), (0.99, 4.605), (0.999, 6.908)],
)
def test_volumes_for_a_removal(removed: float, volumes: float) -> None:
    """n = -ln(1 - f), from the completely mixed reactor."""
    assert 1.0 - left(run(forced([volumes * 500.0]), 500.0)) == pytest.approx(removed, abs=1e-3)


def test_three_volumes_remove_95_percent() -> None:
    """IMO Ballast Water Management Convention, Regulation D-1."""
    assert 1.0 - left(run(forced([100.0] * 15), 500.0)) == pytest.approx(0.950, abs=1e-3)


def test_overflow_is_gradual() -> None:
    """Half a volume into a full tank: 0.6065, not 0.6667 (mix, then spill) nor 0.5."""
    assert left(run(forced([250.0]), 500.0)) == pytest.approx(0.6065, abs=1e-4)


def test_filling_below_the_rim_and_evaporating() -> None:
    """Mass stays: 60 % filled up gives 0.6 C0; 500 to 400 mm gives 1.25 C0."""
    assert left(run(forced([200.0]), 300.0)) == pytest.approx(0.6, abs=1e-12)
    filled = run(forced([0.0]), 300.0, (Change(0, 0, ChangeKind.ADD),))
    assert left(filled) == pytest.approx(0.6, abs=1e-12)
    assert left(run(forced([0.0] * 10, [10.0] * 10), 500.0)) == pytest.approx(1.25, abs=1e-12)


def test_bail_and_refill() -> None:
    """A heel of a tenth, twice: 1 % (mass balance)."""
    twice = (Change(0, 0, ChangeKind.DRAIN, 450.0), Change(0, 0, ChangeKind.ADD)) * 2
    assert left(run(forced([0.0]), 500.0, twice)) == pytest.approx(0.01, abs=1e-12)
    emptied = (Change(0, 0, ChangeKind.DRAIN), Change(0, 0, ChangeKind.ADD))
    assert left(run(forced([0.0]), 500.0, emptied)) == 0.0


def test_weather_alone_leaves_hand_work_out() -> None:
    """Half a volume spills; the fill of the day before is not counted."""
    forcing = forced([0.0, 250.0])
    balance = run(forcing, 300.0, (Change(0, 0, ChangeKind.ADD),))
    assert weather_dilution(balance).ravel() == pytest.approx([1.0, np.exp(-0.5)], abs=1e-12)
    assert left(balance) == pytest.approx(0.6 * np.exp(-0.5), abs=1e-12)


def test_nothing_flows_nothing_fades() -> None:
    """Exactly 1 on still days, full, half or dry."""
    for start in (500.0, 250.0, 1.0, 0.0):
        assert (dilution(run(forced([0.0] * 20), start)) == 1.0).all()
    assert (dilution(run(forced([0.0] * 20, [5.0] * 20), 0.0)) == 1.0).all()


def test_drinking_leaves_the_concentration() -> None:
    balance = run(forced([0.0] * 20, demand_l=10.0), 500.0)
    assert dilution(balance) == pytest.approx(np.ones((20, 1, 1)), abs=1e-12)


def test_a_tank_that_dries_out_keeps_its_mass() -> None:
    """Dried out by evaporation, counted in the heel; 250 L of rain bring 100/250 C0."""
    forcing = forced([0.0] * 30 + [250.0], [10.0] * 30 + [0.0])
    balance = run(forcing, 100.0)
    assert balance.volume_l[29, 0, 0] == 0.0
    course = np.cumprod(dilution(balance), axis=0)[:, 0, 0]
    assert course[29] == pytest.approx(100.0 / (HEEL_SHARE * 500.0))
    assert course[30] == pytest.approx(100.0 / 250.0)


def test_a_reading_leaves_the_concentration() -> None:
    balance = run(forced([0.0, 0.0, 0.0]), 300.0, (Change(1, 0, ChangeKind.SET, 450.0),))
    assert dilution(balance) == pytest.approx(np.ones((3, 1, 1)), abs=1e-12)


def test_half_and_half_is_the_whole() -> None:
    forcing = forced([0.0, 90.0, 0.0, 300.0, 20.0, 0.0], [4.0] * 6, demand_l=7.0)
    whole = run(forcing, 400.0)
    first = run(forcing.between(0, 3), 400.0)
    second = run(forcing.between(3, 6), first.volume_l[-1, 0, 0])
    assert left(first) * left(second) == pytest.approx(left(whole), abs=1e-12)


def test_members_thin_out_on_their_own() -> None:
    forcing = forced([60.0, 0.0, 250.0], [3.0] * 3, demand_l=5.0)
    many = replace(forcing, rain_mm=forcing.rain_mm * np.array([0.0, 1.0, 3.0]))
    together = dilution(run(many, 480.0))
    for member, factor in enumerate((0.0, 1.0, 3.0)):
        alone = replace(forcing, rain_mm=forcing.rain_mm * factor)
        assert (dilution(run(alone, 480.0))[:, 0, 0] == together[:, 0, member]).all()
