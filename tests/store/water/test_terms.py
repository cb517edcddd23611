"""Daily terms against the formulas they stand for, station by station."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.records import TankMeasures
from store.vocabulary import ApronSurface, Shape
from store.water.forcing import ARRAYS, Forcing, daily_forcing
from store.water.interception import intercepted_mm
from store.water.parameters import TankSite, tank_site_of
from store.water.runoff import shed_mm
from store.water.terms import COVERED_EVAPORATION, daily_terms

TANK = TankMeasures(Shape.ROUND, 762.0, diameter_mm=900.0)
SURFACES = (ApronSurface.LINER, ApronSurface.GRASS, ApronSurface.LINER, ApronSurface.GRAVEL)
DAYS = 50


@pytest.fixture(scope="module")
def tank_sites(station) -> list[TankSite]:  # type: ignore[no-untyped-def]
    return [
        tank_site_of(station(TANK, apron_surface=surface, apron_area_m2=5.0 + row))
        for row, surface in enumerate(SURFACES)
    ]


def forcing(sites: int, members: int) -> Forcing:
    rng = np.random.default_rng(4)
    shape = (DAYS, sites, members)
    low = rng.uniform(-8.0, 20.0, shape)
    rain = np.where(rng.random(shape) < 0.3, rng.exponential(25.0, shape), 0.0)
    rain[10:20] = 0.0
    return daily_forcing(
        date(2001, 10, 1), rain, low, low + 9.0, latitude_deg=40.0, elevation_m=200.0
    )


@pytest.mark.parametrize(("sites", "members"), [(1, 1), (1, 6), (4, 1), (4, 6)])
def test_every_station_by_its_own_formula(tank_sites, sites, members, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    """One site for all or a site each, one course of weather or several, in chunks or not."""
    weather = forcing(sites, members)
    terms = daily_terms(tank_sites, weather)
    for row, tank_site in enumerate(tank_sites):
        site = row if sites > 1 else 0
        here = {name: getattr(weather, name)[:, site] for name in ARRAYS}
        kept = tank_site.canopy * intercepted_mm(here["rain_mm"], here["growing"])
        runoff = tank_site.apron_m2 * shed_mm(
            tank_site.runoff, here["apron_mm"] - kept, here["moisture"], here["bare_moisture"]
        )
        assert terms.runoff_l[:, row] == pytest.approx(runoff, abs=1e-12)
        opening = tank_site.tank.opening_m2
        assert terms.rain_l[:, row] == pytest.approx((here["rain_mm"] - kept) * opening, abs=1e-12)
        assert terms.snow_l[:, row] == pytest.approx(here["snow_mm"] * opening, abs=1e-12)
    assert terms.runoff_l.max() > 0.0
    assert terms.snow_l.max() > 0.0
    monkeypatch.setattr("store.water.terms.CHUNK_CELLS", 3)
    for name, values in vars(daily_terms(tank_sites, weather)).items():
        assert (values == getattr(terms, name)).all(), name


def test_covers_and_missing_tanks(tank_sites) -> None:  # type: ignore[no-untyped-def]
    """Nothing comes in and nothing is drunk; a cover lets a tenth evaporate (assumed)."""
    weather = forcing(1, 2)
    weather = replace(weather, demand_l=weather.demand_l + 1.0)
    in_place, covered = np.ones((DAYS, 4), dtype=bool), np.zeros((DAYS, 4), dtype=bool)
    in_place[:30, 1] = False
    covered[5:, 2] = True
    bare, terms = (
        daily_terms(tank_sites, weather),
        daily_terms(tank_sites, weather, in_place, covered),
    )
    shut = (~in_place | covered)[:, :, np.newaxis]
    for name in ("rain_l", "snow_l", "runoff_l", "demand_l", "rut_l"):
        expected = np.where(shut, 0.0, getattr(bare, name))
        assert (getattr(terms, name) == expected).all(), name
    ratio = terms.evaporation_mm[7] / bare.evaporation_mm[7]
    assert ratio == pytest.approx(np.where(covered[7], COVERED_EVAPORATION, 1.0)[:, None] + [0, 0])
