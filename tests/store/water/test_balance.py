"""The daily balance: conservation, independence, resuming, and a plain reference."""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.records import TankMeasures
from store.vocabulary import ApronSurface, ExpectedUse, Exposure, Shape
from store.water.balance import (
    Balance,
    Change,
    ChangeKind,
    run_balance,
)
from store.water.drinking import RUT_AFTER_D, RUT_BEFORE_D
from store.water.forcing import ARRAYS, Forcing, daily_forcing
from store.water.geometry import AREA_BINS
from store.water.one_day import (
    full_parameters,
)
from store.water.parameters import Parameters, TankSite, default_parameters, tank_site_of
from store.weather.days import FloatArray
from tests.store.water.fluxes import fluxes

TANKS = (
    TankMeasures(Shape.ROUND, 762.0, diameter_mm=900.0, bottom_diameter_mm=700.0),
    TankMeasures(Shape.HALF_DRUM, 286.0, length_mm=838.0, diameter_mm=572.0),
    TankMeasures(Shape.MEASURED, 500.0, depth_volume=((0, 0), (200, 50), (500, 300))),
)
DAYS = 60


@pytest.fixture(scope="module")
def tank_sites(station) -> list[TankSite]:  # type: ignore[no-untyped-def]
    return [tank_site_of(station(tank)) for tank in TANKS]


def weather(seed: int, members: int = 1) -> Forcing:
    rng = np.random.default_rng(seed)
    shape = (DAYS, 1, members)
    low = rng.uniform(-8.0, 20.0, shape)
    rain = np.where(rng.random(shape) < 0.3, rng.exponential(15.0, shape), 0.0)
    return daily_forcing(
        date(2001, 9, 1),
        rain,
        low,
        low + rng.uniform(2.0, 15.0, shape),
        latitude_deg=40.0,
        elevation_m=200.0,
    )


def some_parameters(seed: int, members: int) -> Parameters:
    rng = np.random.default_rng(seed)

    def draw(low: float, high: float) -> FloatArray:
        return rng.uniform(low, high, (len(TANKS), members))

    return Parameters(
        apron_yield=draw(0.0, 1.5),
        shelter=draw(0.2, 1.2),
        drinking=draw(0.0, 3.0),
        leak_mm_d=draw(0.0, 4.0),
        rain=draw(0.6, 1.4),
        snow_catch=draw(0.3, 1.0),
    )


def random_run(tank_sites: list[TankSite], seed: int, members: int = 4) -> Balance:
    rng = np.random.default_rng(seed)
    return run_balance(
        tank_sites,
        weather(seed, members),
        some_parameters(seed, members),
        rng.uniform(0.0, 200.0, (3, members)),
        changes=[
            Change(5, 0, ChangeKind.SET, 90.0),
            Change(20, 1, ChangeKind.DRAIN),
            Change(20, 1, ChangeKind.ADD, 40.0),
            Change(33, 2, ChangeKind.ADD),
            Change(40, 0, ChangeKind.DRAIN, 30.0),
        ],
        in_place=np.arange(DAYS)[:, np.newaxis] >= np.array([0, 3, 0]),
        covered=rng.random((DAYS, 3)) < 0.1,
        rain_error=rng.lognormal(0.0, 0.3, (DAYS, 3, members)),
        demand_error=rng.lognormal(0.0, 0.3, (DAYS, 3, members)),
    )


def one_member(forcing: Forcing, member: int) -> Forcing:
    arrays = {name: getattr(forcing, name)[:, :, member : member + 1] for name in ARRAYS}
    return replace(forcing, **arrays)


def slow_column(balance: Balance, tank_sites: list[TankSite], row: int, member: int) -> list[float]:
    """One column in plain Python, straight from the rules in the module docstring."""

    def at(values: FloatArray, day: int) -> float:
        return float(np.broadcast_to(values[day], balance.volume_l.shape[1:])[row, member])

    knob = {
        name: float(np.broadcast_to(value, balance.volume_l.shape[1:])[row, member])
        for name, value in vars(balance.parameters).items()
    }
    tank, terms = tank_sites[row].tank, balance.terms
    volume = float(balance.start_volume_l[row, member])
    result = []
    for day in range(len(balance.volume_l)):
        area = tank.area_bins_m2[int(volume / tank.capacity_l * AREA_BINS)]
        fall = knob["shelter"] * at(terms.evaporation_mm, day) + knob["leak_mm_d"]
        volume -= min(volume, area * fall)
        late = (at(terms.rut_day, day) - knob["rut_day"]) / knob["rut_width"]
        bell = math.exp(-0.5 * (late / (RUT_BEFORE_D if late < 0.0 else RUT_AFTER_D)) ** 2)
        wanted = knob["drinking"] * at(terms.demand_l, day)
        wanted += knob["rut"] * at(terms.rut_l, day) * bell
        if balance.demand_error is not None:
            wanted *= at(balance.demand_error, day)
        volume -= min(wanted, max(volume - tank_sites[row].unreachable_l, 0.0))
        water = knob["rain"] * at(terms.rain_l, day)
        water += knob["rain"] * knob["apron_yield"] * at(terms.runoff_l, day)
        water += knob["snow_catch"] * at(terms.snow_l, day)
        if balance.rain_error is not None:
            water *= at(balance.rain_error, day)
        volume = min(volume + water, tank.capacity_l)
        for applied in balance.applied:
            change = applied.change
            if change.day == day and change.station == row:
                amount = None if change.volume_l is None else float(np.asarray(change.volume_l))
                if change.kind is ChangeKind.SET:
                    assert amount is not None
                    volume = amount
                elif change.kind is ChangeKind.ADD:
                    volume += tank.capacity_l if amount is None else amount
                else:
                    volume -= volume if amount is None else amount
                volume = min(max(volume, 0.0), tank.capacity_l)
        result.append(volume)
    return result


@pytest.mark.parametrize("row", range(3))
def test_same_as_a_plain_loop(tank_sites, row) -> None:  # type: ignore[no-untyped-def]
    balance = random_run(tank_sites, 11)
    for member in range(4):
        expected = slow_column(balance, tank_sites, row, member)
        assert balance.volume_l[:, row, member] == pytest.approx(expected, abs=1e-9)


@given(seed=st.integers(0, 10_000))
def test_every_litre_is_accounted_for(tank_sites, seed) -> None:  # type: ignore[no-untyped-def]
    """For each column and day, and nothing flows backwards."""
    balance = random_run(tank_sites, seed)
    flow = fluxes(balance)
    gains = flow.rain_l + flow.snow_l + flow.runoff_l + flow.changed_l
    losses = flow.evaporation_l + flow.leak_l + flow.drinking_l + flow.overflow_l
    assert np.abs(flow.start_l + gains - losses - flow.end_l).max() < 1e-9
    for name, values in vars(flow).items():
        assert name == "changed_l" or (values >= -1e-12).all(), name
    capacity = balance.columns.capacity_l
    assert ((balance.volume_l >= 0.0) & (balance.volume_l <= capacity)).all()
    spilled = (flow.overflow_l > 1e-9) & (flow.changed_l == 0.0)
    assert balance.volume_l[spilled] == pytest.approx(
        np.broadcast_to(capacity, balance.volume_l.shape)[spilled]
    )


def test_columns_do_not_touch_each_other(tank_sites) -> None:  # type: ignore[no-untyped-def]
    """Every station and member alone gives the very same numbers."""
    forcing, parameters = weather(3, 4), some_parameters(3, 4)
    start = np.linspace(20.0, 200.0, 12).reshape(3, 4)
    whole = run_balance(tank_sites, forcing, parameters, start).volume_l
    for row in range(3):
        for member in range(4):
            alone = full_parameters(parameters, (3, 4)).map(
                lambda values, row=row, member=member: values[row : row + 1, member : member + 1]
            )
            one = one_member(forcing, member)
            part = run_balance([tank_sites[row]], one, alone, start[row, member]).volume_l
            assert (part[:, 0, 0] == whole[:, row, member]).all()


@pytest.mark.parametrize("cut", [1, 20, 41, 59])
def test_half_and_half_is_the_whole(tank_sites, cut) -> None:  # type: ignore[no-untyped-def]
    """Cut anywhere, also on the day of a change."""
    forcing, parameters = weather(7), some_parameters(7, 5)
    changes = [Change(19, 0, ChangeKind.SET, 100.0), Change(41, 1, ChangeKind.ADD)]
    whole = run_balance(tank_sites, forcing, parameters, 80.0, changes=changes).volume_l
    first = run_balance(
        tank_sites,
        forcing.between(0, cut),
        parameters,
        80.0,
        changes=[change for change in changes if change.day < cut],
    ).volume_l
    rest = [replace(c, day=c.day - cut) for c in changes if c.day >= cut]
    second = run_balance(
        tank_sites, forcing.between(cut, DAYS), parameters, first[-1], changes=rest
    ).volume_l
    assert (np.concatenate([first, second]) == whole).all()


def test_leak_and_evaporation_share_the_fall(tank_sites) -> None:  # type: ignore[no-untyped-def]
    """A leak in mm a day takes the surface times so many mm while there is water."""
    parameters = replace(some_parameters(6, 2), leak_mm_d=np.full((3, 2), 2.0))
    balance = run_balance(tank_sites, weather(6), parameters, 150.0)
    flow = fluxes(balance)
    fall = balance.parameters.shelter * balance.terms.evaporation_mm + 2.0
    deep = flow.start_l > 30.0
    leaked = np.broadcast_to(2.0 / fall, deep.shape) * (flow.leak_l + flow.evaporation_l)
    assert flow.leak_l[deep] == pytest.approx(leaked[deep])
    tank = tank_sites[0].tank
    assert tank.capacity_l > 150.0
    surface = tank.area_bins_m2[int(150.0 / tank.capacity_l * AREA_BINS)]
    assert flow.leak_l[0, 0] == pytest.approx(2.0 * surface)


def test_accounts_of_some_days(tank_sites) -> None:  # type: ignore[no-untyped-def]
    balance = random_run(tank_sites, 5)
    whole, part = fluxes(balance), fluxes(balance, 17, 44)
    for name, values in vars(part).items():
        assert (values == getattr(whole, name)[17:44]).all(), name


def test_changes_in_order(tank_sites) -> None:  # type: ignore[no-untyped-def]
    """A reading sets, a fill adds up to the rim, draining empties; last one wins."""
    changes = [
        Change(2, 0, ChangeKind.SET, np.array([50.0, 60.0])),
        Change(2, 0, ChangeKind.ADD, 20.0),
        Change(3, 1, ChangeKind.ADD),
        Change(4, 1, ChangeKind.DRAIN),
    ]
    run = run_balance(tank_sites, weather(2), some_parameters(2, 2), 10.0, changes=changes)
    assert run.volume_l[2, 0].tolist() == [70.0, 80.0]
    assert (run.volume_l[3, 1] == tank_sites[1].tank.capacity_l).all()
    assert (run.volume_l[4, 1] == 0.0).all()


def test_no_tank_takes_no_water(tank_sites) -> None:  # type: ignore[no-untyped-def]
    nowhere = np.zeros((DAYS, 3), dtype=bool)
    run = run_balance(tank_sites, weather(4), some_parameters(4, 2), 0.0, in_place=nowhere)
    assert (run.volume_l == 0.0).all()


def test_cover_keeps_rain_out_and_water_in(tank_sites) -> None:  # type: ignore[no-untyped-def]
    under = np.ones((DAYS, 3), dtype=bool)
    parameters = replace(some_parameters(4, 2), leak_mm_d=np.zeros((3, 1)))
    flow = fluxes(run_balance(tank_sites, weather(4), parameters, 60.0, covered=under))
    bare = fluxes(run_balance(tank_sites, weather(4), parameters, 60.0))
    assert flow.drinking_l.sum() == flow.rain_l.sum() == flow.runoff_l.sum() == 0.0
    ratio = flow.evaporation_l[0] / bare.evaporation_l[0]
    assert ratio == pytest.approx(np.full((3, 2), 0.1))


def test_animals_leave_the_deepest_water(station) -> None:  # type: ignore[no-untyped-def]
    """Water more than 24 in below the rim is out of reach (assumed)."""
    deep = tank_site_of(station(TANKS[0]))
    parameters = replace(
        some_parameters(1, 1), leak_mm_d=np.zeros((1, 1)), shelter=np.zeros((1, 1))
    )
    parameters = Parameters(**{name: value[:1] for name, value in vars(parameters).items()})
    none = np.zeros((DAYS, 1, 1))
    dry = replace(
        weather(1), rain_mm=none, snow_mm=none, apron_mm=none, demand_l=none + 50.0, rut_l=none
    )
    run = run_balance([deep], dry, replace(parameters, drinking=np.ones((1, 1))), 300.0)
    assert run.volume_l[-1, 0, 0] == deep.unreachable_l > 20.0
    assert tank_site_of(station(TANKS[1])).unreachable_l == 0.0


def test_high_rim_stops_runoff(station) -> None:  # type: ignore[no-untyped-def]
    assert tank_site_of(station(TANKS[0], rim_above_ground_mm=25.0)).apron_m2 > 13.0
    assert tank_site_of(station(TANKS[0], rim_above_ground_mm=26.0)).apron_m2 == 0.0
    with pytest.raises(BadValue, match="apron"):
        tank_site_of(station(TANKS[0], apron_area_m2=float("nan")))


def test_defaults_follow_the_station(station) -> None:  # type: ignore[no-untyped-def]
    heavy = station(TANKS[0], expected_use=ExpectedUse.HEAVY, exposure=Exposure.OPEN)
    light = station(TANKS[0], expected_use=ExpectedUse.LIGHT, exposure=Exposure.DEEP_SHADE)
    parameters = default_parameters([heavy, light])
    assert parameters.drinking[0] > parameters.drinking[1]
    middle = default_parameters([station(TANKS[0], exposure=Exposure.PART_SHADE)])
    assert 1.0 == parameters.shelter[0] > middle.shelter[0] > parameters.shelter[1] > 0.25
    litter = tank_site_of(station(TANKS[0], apron_surface=ApronSurface.WOODS_LITTER))
    assert litter.runoff.curve_number < tank_site_of(heavy).runoff.curve_number


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Change(DAYS, 0, ChangeKind.ADD), "outside"),
        (Change(0, 3, ChangeKind.ADD), "outside"),
        (Change(0, 0, ChangeKind.SET), "no volume"),
        (Change(0, 0, ChangeKind.ADD, -5.0), "must be 0 or more"),
        (Change(0, 0, ChangeKind.SET, float("nan")), "must be 0 or more"),
    ],
)
def test_impossible_changes_are_named(tank_sites, change, words) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadValue, match=words):
        run_balance(tank_sites, weather(1), some_parameters(1, 1), 0.0, changes=[change])


def test_unknown_start_is_named(tank_sites) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadValue, match="starts from"):
        run_balance(tank_sites, weather(1), some_parameters(1, 1), np.nan)
