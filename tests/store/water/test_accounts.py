"""Sums of a period against the days they are sums of."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.errors import BadValue
from store.records import TankMeasures
from store.vocabulary import Shape
from store.water.accounts import Budget, budget
from store.water.balance import Balance, Change, ChangeKind, run_balance
from store.water.dilution import weather_dilution
from store.water.forcing import daily_forcing
from store.water.parameters import Parameters, tank_site_of
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray
from tests.store.water.fluxes import dilution, fluxes

TANKS = (
    TankMeasures(Shape.ROUND, 762.0, diameter_mm=900.0, bottom_diameter_mm=700.0),
    TankMeasures(Shape.HALF_DRUM, 286.0, length_mm=838.0, diameter_mm=572.0),
    TankMeasures(Shape.ROUND, 762.0, diameter_mm=900.0, bottom_diameter_mm=700.0),
)
DAYS, MEMBERS = 40, 5


@pytest.fixture(scope="module")
def make_run(station):  # type: ignore[no-untyped-def]
    tank_sites = [tank_site_of(station(tank)) for tank in TANKS]

    def run(seed: int, *, errors: bool = True, members: int = MEMBERS) -> Balance:
        rng = np.random.default_rng(seed)
        low = rng.uniform(-8.0, 20.0, DAYS)
        rain = np.where(rng.random(DAYS) < 0.3, rng.exponential(40.0, DAYS), 0.0)
        forcing = daily_forcing(
            date(2001, 9, 1), rain, low, low + 9.0, latitude_deg=40.0, elevation_m=200.0
        )
        high = {"apron_yield": 1.5, "shelter": 1.2, "drinking": 3.0, "leak_mm_d": 4.0}
        parameters = {
            name: rng.uniform(0.0, high.get(name, 1.2), (3, members))
            for name in Parameters.__dataclass_fields__
        }
        return run_balance(
            tank_sites,
            forcing,
            Parameters(**parameters),
            rng.uniform(0.0, 300.0, (3, members)),
            changes=[
                Change(0, 2, ChangeKind.ADD, 30.0),
                Change(5, 0, ChangeKind.SET, 90.0),
                Change(20, 1, ChangeKind.DRAIN),
                Change(20, 1, ChangeKind.ADD, 40.0),
            ],
            rain_error=rng.lognormal(0.0, 0.3, (DAYS, 3, members)) if errors else None,
            demand_error=rng.lognormal(0.0, 0.3, (DAYS, 1, members)) if errors else None,
        )

    return run


def water_in_l(total: Budget) -> FloatArray:
    return total.rain_l + total.snow_l + total.runoff_l


def water_out_l(total: Budget) -> FloatArray:
    return total.evaporation_l + total.leak_l + total.drinking_l + total.overflow_l


@given(
    seed=st.integers(0, 10_000), errors=st.booleans(), days=st.tuples(*[st.integers(0, DAYS)] * 2)
)
def test_a_period_balances(make_run, seed, errors, days) -> None:  # type: ignore[no-untyped-def]
    """In = out + change of the volume, for any period, and each sum is that of its days."""
    start, stop = sorted(days)
    balance = make_run(seed, errors=errors)
    total, flow = budget(balance, start, stop), fluxes(balance, start, stop)
    change = total.end_l - total.start_l - total.changed_l
    came, went = water_in_l(total), water_out_l(total)
    assert came == pytest.approx(went + change, abs=1e-8)
    for name, values in vars(total).items():
        assert values.shape == (3,)
        if name not in ("start_l", "end_l"):
            of_days = getattr(flow, name).sum(axis=0).mean(axis=1)
            assert values == pytest.approx(of_days, abs=1e-8), name


def test_halves_add_up(make_run) -> None:  # type: ignore[no-untyped-def]
    balance = make_run(3)
    whole, first, second = budget(balance), budget(balance, 0, 17), budget(balance, 17)
    assert (first.end_l == second.start_l).all()
    assert (whole.start_l == first.start_l).all()
    assert (whole.end_l == second.end_l).all()
    for side in (water_in_l, water_out_l):
        assert side(whole) == pytest.approx(side(first) + side(second))


def test_days_outside_the_run_are_named(make_run) -> None:  # type: ignore[no-untyped-def]
    balance = make_run(1)
    for start, stop in ((-1, 5), (0, DAYS + 1), (9, 8)):
        with pytest.raises(BadValue, match="not in a run of 40 days"):
            budget(balance, start, stop)


def test_overflow_of_the_run_is_that_of_the_accounts(make_run) -> None:  # type: ignore[no-untyped-def]
    balance = make_run(5)
    by_member = fluxes(balance).overflow_l
    assert by_member.max() > 1.0
    assert balance.overflow_l == pytest.approx(by_member.mean(axis=2), abs=1e-9)


def test_a_station_on_its_own(make_run) -> None:  # type: ignore[no-untyped-def]
    """Part of a run answers like the whole: accounts, dilution and hand work."""
    balance = make_run(7)
    for row in range(3):
        part = balance.of_stations(row, row + 1)
        for name, values in vars(fluxes(part)).items():
            assert (values == getattr(fluxes(balance), name)[:, row : row + 1]).all(), name
        assert (dilution(part)[:, 0] == dilution(balance)[:, row]).all()
        assert (weather_dilution(part)[:, 0] == weather_dilution(balance)[:, row]).all()
        assert budget(part).changed_l == pytest.approx(budget(balance).changed_l[row])


def test_cut_into_blocks_or_not_is_the_same(make_run, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    """Stations by blocks and days by chunks, as a large run would be."""
    whole = make_run(9)
    sums, thinned, band = budget(whole), dilution(whole), member_quantiles(whole.volume_l)
    monkeypatch.setattr("store.water.balance.BLOCK_COLUMNS", MEMBERS)
    monkeypatch.setattr("store.water.balance.CHUNK_CELLS", 4 * MEMBERS)
    monkeypatch.setattr("store.water.accounts.CHUNK_CELLS", 45)
    cut = make_run(9)
    assert (cut.volume_l == whole.volume_l).all()
    assert (cut.overflow_l == whole.overflow_l).all()
    assert [a.change for a in cut.applied] != []
    assert (dilution(cut) == thinned).all()
    assert (member_quantiles(cut.volume_l) == band).all()
    assert water_out_l(budget(cut)) == pytest.approx(water_out_l(sums))


def test_quantiles_over_the_members(make_run) -> None:  # type: ignore[no-untyped-def]
    """NumPy's own quantiles are the reference."""
    balance = make_run(11, members=8)
    expected = np.quantile(balance.volume_l, (0.1, 0.5, 0.9), axis=2)
    assert member_quantiles(balance.volume_l) == pytest.approx(expected, abs=1e-9)


def test_tanks_of_one_make_share_a_surface(make_run) -> None:  # type: ignore[no-untyped-def]
    columns = make_run(1).columns
    assert columns.first_bin[0] == columns.first_bin[2] != columns.first_bin[1]
    assert len(columns.surface_m2) == 2 * 2049
