"""Three facts of the trade on real weather. Common practice, no source.

The 110-gallon tank is 30 in deep with a 3 by 4 ft opening; walls straight down
would hold 224 gal, so it is taken as tapered to 24 by 8 in at the bottom.
"""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import TankMeasures
from store.units import MM_PER_INCH, gallons_from_litres
from store.vocabulary import DrinkingSeason, Exposure, Shape
from store.water.balance import run_balance
from store.water.drinking import (
    LAWS,
    RUT_DAY,
    base_demand_l,
    heat_factor,
    rut_season_day,
    rut_share_into,
    season_day,
)
from store.water.forcing import Forcing, daily_forcing
from store.water.parameters import default_parameters, tank_site_of
from tests.store.water.fluxes import fluxes

IN = MM_PER_INCH
TANK_110 = TankMeasures(
    Shape.RECTANGULAR,
    30 * IN,
    length_mm=48 * IN,
    width_mm=36 * IN,
    bottom_length_mm=24 * IN,
    bottom_width_mm=7.93 * IN,
)
DRUM = TankMeasures(Shape.HALF_DRUM, 11.25 * IN, length_mm=31.95 * IN, diameter_mm=22.5 * IN)
POOL = TankMeasures(Shape.ROUND, 10 * IN, diameter_mm=59 * IN)


def forcing_of(record) -> Forcing:  # type: ignore[no-untyped-def]
    return daily_forcing(
        record.first_day,
        record["rain_mm"],
        record["tmin_c"],
        record["tmax_c"],
        latitude_deg=record.latitude_deg,
        elevation_m=record.elevation_m,
    )


def without_rain(forcing: Forcing) -> Forcing:
    none = np.zeros_like(forcing.rain_mm)
    return replace(forcing, rain_mm=none, snow_mm=none, apron_mm=none)


def test_the_tanks_hold_what_they_are_called(station) -> None:  # type: ignore[no-untyped-def]
    held = [gallons_from_litres(tank_site_of(station(t)).tank.capacity_l) for t in (TANK_110, DRUM)]
    assert held == pytest.approx([110.0, 27.5], abs=0.1)


@pytest.mark.parametrize("record_name", ["new_york", "champion"])
@pytest.mark.parametrize(("month", "day"), [(10, 1), (10, 15), (11, 1)])
def test_a_drum_is_dry_in_two_weeks_and_a_tank_is_not(  # type: ignore[no-untyped-def]
    request, station, record_name, month, day
) -> None:
    """Average use, no rain, both full at the start of each autumn's two weeks."""
    record = request.getfixturevalue(record_name)
    forcing = without_rain(forcing_of(record))
    stations = [station(DRUM), station(TANK_110)]
    tank_sites, parameters = [tank_site_of(s) for s in stations], default_parameters(stations)
    for year in range(record.first_day.year, record.dates[-1].year + 1):
        start = (date(year, month, day) - record.first_day).days
        two_weeks = forcing.between(start, start + 14)
        if two_weeks.ice.any():
            continue
        full = np.array([[s.tank.capacity_l] for s in tank_sites])
        drum, tank = run_balance(tank_sites, two_weeks, parameters, full).volume_l[-1, :, 0]
        assert drum == 0.0, year
        assert tank > 0.5 * tank_sites[1].tank.capacity_l, year


def autumn_fills(record, facts, below_share: float = 0.25) -> dict[int, int]:  # type: ignore[no-untyped-def]
    """Fills to the rim by year: on the evening of any day from September to November
    whose volume is below a quarter of the capacity."""
    forcing, dates = forcing_of(record), record.dates
    tank_sites, parameters = [tank_site_of(facts)], default_parameters([facts])
    capacity = tank_sites[0].tank.capacity_l
    fills = dict.fromkeys(range(record.first_day.year, dates[-1].year + 1), 0)
    volume, at = capacity, 0
    while at < forcing.days:
        rest = run_balance(tank_sites, forcing.between(at, forcing.days), parameters, volume)
        autumn = np.array([day.month in (9, 10, 11) for day in dates[at:]])
        low = np.flatnonzero(autumn & (rest.volume_l[:, 0, 0] < below_share * capacity))
        if not len(low):
            break
        fills[dates[at + low[0]].year] += 1
        volume, at = capacity, at + int(low[0]) + 1
    return fills


def test_a_sculpted_apron_needs_few_fills(new_york, station) -> None:  # type: ignore[no-untyped-def]
    """110 gal, rim at ground level, 150 ft2 of sculpted soil, average use, part shade.

    Measured: 1, 2, 1 and 0 fills in the autumns of 2012 to 2015, 1.0 a year.
    """
    fills = autumn_fills(new_york, station(TANK_110))
    assert max(fills.values()) <= 2
    assert 0.5 <= np.mean(list(fills.values())) <= 1.0


def test_without_its_apron_it_needs_many_more(new_york, station) -> None:  # type: ignore[no-untyped-def]
    """The same tank with its rim above the ground."""
    drained = sum(autumn_fills(new_york, station(TANK_110)).values())
    raised = sum(autumn_fills(new_york, station(TANK_110, rim_above_ground_mm=50.0)).values())
    assert raised >= 2 * drained


@pytest.mark.parametrize("record_name", ["new_york", "champion"])
def test_a_wide_pool_loses_its_water_to_the_air(request, station, record_name) -> None:  # type: ignore[no-untyped-def]
    """July without rain, nobody drinking, open sky: a pool 10 in deep against 30 in.

    Measured shares of the volume lost: 0.61 against 0.20 in New York, 0.80 against
    0.27 at Champion, beside a straight tank three times as deep.
    """
    record = request.getfixturevalue(record_name)
    straight = TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=32.8 * IN)
    stations = [station(tank, exposure=Exposure.OPEN) for tank in (POOL, straight)]
    tank_sites, parameters = [tank_site_of(s) for s in stations], default_parameters(stations)
    parameters = replace(parameters, drinking=np.zeros((2, 1)))
    full = np.array([[s.tank.capacity_l] for s in tank_sites])
    start = (date(record.first_day.year, 7, 1) - record.first_day).days
    july = without_rain(forcing_of(record)).between(start, start + 31)
    lost = fluxes(run_balance(tank_sites, july, parameters, full)).evaporation_l.sum(axis=0)[:, 0]
    pool, tank = lost / full[:, 0]
    assert pool > 2.5 * tank
    assert pool > 0.4


def usual_demand_l(season, day_of_year, tmax_c, latitude_deg=40.0):
    """Litres at average use on days of the year, with the usual rut."""
    day = season_day(day_of_year, latitude_deg)
    rut_day = rut_season_day(day)
    bell, work = np.empty(rut_day.shape), np.empty(rut_day.shape)
    rut_share_into(bell, work, rut_day, RUT_DAY * np.ones(1), np.ones(1))
    law = LAWS[season]
    wanted = base_demand_l(law, day) + np.where(rut_day > 0.0, law.rut_l * bell, 0.0)
    return heat_factor(tmax_c) * wanted


DAYS_OF_YEAR = np.arange(1.0, 366.0)


def test_animals_drink_next_to_nothing_in_summer_and_most_in_the_rut() -> None:
    """Common practice, no source: little to late September, a steep rise, most at the turn
    of October to November, then less."""
    wanted = usual_demand_l(DrinkingSeason.GREEN_SUMMER, DAYS_OF_YEAR, 15.0)
    july_and_august, september = wanted[181:243], wanted[243:266]
    assert july_and_august.max() < 1.0
    assert september.mean() < 3.0
    assert 300 <= DAYS_OF_YEAR[wanted.argmax()] <= 312
    assert wanted[281] > 2.0 * wanted[258]
    assert wanted[334] < 0.6 * wanted.max()


def test_in_dry_country_they_drink_in_summer_too() -> None:
    wanted = usual_demand_l(DrinkingSeason.DRY_SUMMER, DAYS_OF_YEAR, 15.0)
    assert wanted[181:243].mean() > 2.0 * wanted[0:59].mean()


def test_the_south_is_half_a_year_apart_and_new_year_makes_no_step() -> None:
    for season in DrinkingSeason:
        north, south = (usual_demand_l(season, DAYS_OF_YEAR, 15.0, lat) for lat in (40.0, -40.0))
        assert np.roll(north, 182)[100] == pytest.approx(south[100], abs=0.2)
        assert np.abs(np.diff(np.concatenate([north, north]))).max() < 0.8


def test_heat_adds_half_at_most() -> None:
    """Assumed: 5 percent for each degree above 27 C."""
    assert heat_factor(27.0) == 1.0
    assert heat_factor(30.0) == pytest.approx(1.15)
    assert heat_factor(60.0) == 1.5
