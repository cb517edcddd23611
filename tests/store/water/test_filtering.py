"""Following stations through time."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.errors import BadValue
from store.records import StationFacts, TankMeasures
from store.vocabulary import ExpectedUse, LevelMark, Shape
from store.water import updating
from store.water.balance import Change, ChangeKind
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import ARRAYS, Forcing, daily_forcing
from store.water.geometry import volume_at_depth_l
from store.water.observing import Observation, likelihood
from store.water.parameters import tank_site_of
from store.water.priors import PARAMETER_NAMES, draw_parameters, station_priors
from store.weather.days import FloatArray

TANK = TankMeasures(Shape.ROUND, 762.0, diameter_mm=950.0)
MEMBERS = 200
DAYS = 150


@pytest.fixture(scope="module")
def forcing(new_york) -> Forcing:  # type: ignore[no-untyped-def]
    """From 1 June 2012 on."""
    start = (date(2012, 6, 1) - new_york.first_day).days
    return daily_forcing(
        new_york.first_day,
        new_york["rain_mm"],
        new_york["tmin_c"],
        new_york["tmax_c"],
        latitude_deg=40.8,
        elevation_m=40.0,
    ).between(start, start + DAYS)


@pytest.fixture(scope="module")
def stations(station) -> list[StationFacts]:  # type: ignore[no-untyped-def]
    return [
        station(TANK, station_id=name, apron_area_m2=area, expected_use=use)
        for name, area, use in (
            ("a", 4.0, ExpectedUse.HEAVY),
            ("b", 8.0, ExpectedUse.AVERAGE),
            ("c", 14.0, ExpectedUse.LIGHT),
        )
    ]


def run(
    stations: list[StationFacts], forcing: Forcing, members: int = MEMBERS, **more: object
) -> FilterRun:
    ids = [station.station_id for station in stations]
    prior = draw_parameters(ids, station_priors(stations), members)
    tank_sites = [tank_site_of(station) for station in stations]
    return follow(ids, tank_sites, forcing, prior, 300.0, **more)  # type: ignore[arg-type]


READINGS = (
    Observation(20, 0, depth_mm=300.0),
    Observation(33, 1, depth_mm=500.0),
    Observation(50, 0, mark=LevelMark.QUARTER),
    Observation(50, 2, mark=LevelMark.FULL),
    Observation(90, 1, depth_mm=350.0),
)


def same(one: FilterRun, two: FilterRun, row: int = 0, other: int = 0) -> None:
    assert (one.p50_l[:, row] == two.p50_l[:, other]).all()
    assert (one.volume_l[row] == two.volume_l[other]).all()
    for name in PARAMETER_NAMES:
        assert (getattr(one.parameters, name)[row] == getattr(two.parameters, name)[other]).all()


def test_the_same_on_every_run(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    for row in range(3):
        one = run(stations, forcing, observations=READINGS)
        same(one, run(stations, forcing, observations=READINGS), row, row)


def test_readings_of_a_day_come_before_and_after_its_work(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    """Seen nearly empty, filled to the rim, seen full: nothing of it is odd."""
    found = Observation(60, 0, depth_mm=100.0)
    left = Observation(60, 0, depth_mm=755.0, after_work=True)
    fill = Change(60, 0, ChangeKind.ADD)
    both = run(stations[:1], forcing, observations=[left, found], changes=[fill])
    assert [check.observation for check in both.checks] == [found, left]
    assert not any(check.contradicted for check in both.checks)
    assert both.checks[1].probability > 0.05
    on_coming = run(stations[:1], forcing, observations=[replace(left, after_work=False), found])
    assert all(check.contradicted for check in on_coming.checks)


def test_a_station_is_the_same_in_any_company(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    every = run(stations, forcing, observations=READINGS)
    for row, facts in enumerate(stations):
        own = [replace(seen, station=0) for seen in READINGS if seen.station == row]
        same(every, run([facts], forcing, observations=own), row)


def test_a_station_is_the_same_when_others_began_earlier(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    in_place = np.ones((DAYS, 1), dtype=bool)
    in_place[:40] = False
    start = Change(39, 0, ChangeKind.SET, 100.0)
    priors = station_priors(stations[:1])
    early = run(
        stations[:1],
        forcing,
        changes=[start],
        in_place=in_place,
        new_years=[20, 80],
        priors=priors,
    )
    late = run(
        stations[:1],
        forcing.between(39, DAYS),
        changes=[replace(start, day=0)],
        in_place=in_place[39:],
        new_years=[41],
        priors=priors,
    )
    assert (early.p50_l[39:] == late.p50_l).all()
    assert (early.volume_l == late.volume_l).all()


def test_a_longer_run_keeps_its_past(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    early = [seen for seen in READINGS if seen.day < 60]
    short = run(stations, forcing.between(0, 60), observations=early)
    whole = run(stations, forcing, observations=READINGS)
    assert (whole.p10_l[:60] == short.p10_l).all()
    assert (whole.p90_l[:60] == short.p90_l).all()


def test_half_and_half_is_the_whole(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    whole = run(stations, forcing, observations=READINGS)
    first = run(stations, forcing.between(0, 70), observations=[s for s in READINGS if s.day < 70])
    second = follow(
        first.station_ids,
        [tank_site_of(station) for station in stations],
        forcing.between(70, DAYS),
        first.parameters,
        first.volume_l,
        observations=[replace(s, day=s.day - 70) for s in READINGS if s.day >= 70],
        errors=first.errors,
        evenings_read=[2, 1, 1],
    )
    assert (second.volume_l == whole.volume_l).all()
    assert (second.p50_l == whole.p50_l[70:]).all()
    assert second.last_day == whole.last_day == forcing.first_day.replace(month=10, day=28)


def test_an_evening_goes_set_then_read_then_filled(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    """A reading of 300 mm on the day of a fill is of the water before it."""
    seen = [Observation(30, 0, depth_mm=300.0)]
    fill = [Change(30, 0, ChangeKind.ADD, 100.0)]
    set_low = [Change(30, 0, ChangeKind.SET, 210.0)]
    tank = tank_site_of(stations[0]).tank
    read_l = float(volume_at_depth_l(tank, 300.0))
    filled = run(stations[:1], forcing, observations=seen, changes=fill)
    assert filled.p50_l[30, 0] == pytest.approx(read_l + 100.0, abs=15.0)
    assert filled.checks[0].volume_after_l[1] == pytest.approx(read_l, abs=15.0)
    both = run(stations[:1], forcing, observations=seen, changes=[*set_low, *fill])
    assert both.checks[0].volume_before_l == pytest.approx([210.0] * 3)
    assert both.p50_l[30, 0] == pytest.approx(310.0, abs=5.0)


def test_a_fill_may_be_uncertain_itself(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    brought = np.linspace(50.0, 150.0, MEMBERS)
    for seen in ([], [Observation(30, 0, depth_mm=100.0)]):
        sure, unsure = (
            run(
                stations[:1],
                forcing,
                observations=seen,
                changes=[
                    Change(30, 0, ChangeKind.SET, 80.0),
                    Change(30, 0, ChangeKind.ADD, volume),
                ],
            )
            for volume in (100.0, brought)
        )
        width = [(f.p90_l - f.p10_l)[30, 0] for f in (sure, unsure)]
        assert width[1] > width[0] + 60.0


def test_what_spills_is_counted(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    followed = run(stations, forcing, observations=READINGS)
    assert followed.overflow_l.shape == (DAYS, 3)
    assert (followed.overflow_l >= 0.0).all()
    assert followed.overflow_l[:, 2].sum() > followed.overflow_l[:, 0].sum()


def test_readings_narrow_the_band_on_their_day(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    untaught, taught = run(stations, forcing), run(stations, forcing, observations=READINGS)
    width = [(f.p90_l - f.p10_l)[90, 1] for f in (untaught, taught)]
    assert width[1] < 0.5 * width[0]
    assert (taught.p10_l <= taught.p50_l).all()
    assert (taught.p50_l <= taught.p90_l).all()
    assert len(taught.checks) == len(READINGS)


def test_water_somebody_took_is_found_with_the_second_reading(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    full = [Observation(day, 0, mark=LevelMark.FULL) for day in (12, 21, 30)]
    calm = run(stations[2:], forcing, observations=full)
    assert calm.p50_l[45, 0] > 400.0
    seen = [
        *full,
        Observation(40, 0, depth_mm=60.0),
        Observation(43, 0, depth_mm=60.0),
    ]
    drained = run(stations[2:], forcing, observations=seen)
    assert drained.checks[3].doubted
    assert drained.p90_l[39, 0] - drained.p10_l[39, 0] < drained.p90_l[40, 0] - drained.p10_l[40, 0]
    assert drained.p50_l[43, 0] < 120.0


def test_weather_gaps_are_members(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    """Rain that differs between members on a few days spreads the members of a tank just read."""
    seen = [Observation(58, 0, depth_mm=250.0)]
    wide = {name: np.repeat(getattr(forcing, name), MEMBERS, axis=2) for name in ARRAYS}
    gap = replace(forcing, **wide)
    known = run(stations, gap, observations=seen)
    assert (known.volume_l == run(stations, forcing, observations=seen).volume_l).all()
    gap.rain_mm[60:64] = np.linspace(0.0, 60.0, MEMBERS)
    gap.apron_mm[60:64] = np.linspace(0.0, 60.0, MEMBERS)
    spread = run(stations[:1], gap, observations=seen)
    assert (spread.p90_l - spread.p10_l)[64, 0] > 1.5 * (known.p90_l - known.p10_l)[64, 0]


def test_readings_outside_the_run_are_refused(stations, forcing) -> None:  # type: ignore[no-untyped-def]
    for seen in (Observation(DAYS, 0, depth_mm=1.0), Observation(0, 3, depth_mm=1.0)):
        with pytest.raises(BadValue, match="outside a run"):
            run(stations, forcing, observations=[seen])


def test_against_weighting_whole_runs(  # type: ignore[no-untyped-def]
    stations, forcing, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The oracle: 40,000 whole runs, each weighted by how likely it makes the readings."""
    monkeypatch.setattr(updating, "UNLOGGED_SHARE", 0.0)
    seen = [
        Observation(14, 0, depth_mm=560.0),
        Observation(30, 0, depth_mm=650.0),
        Observation(45, 0, mark=LevelMark.HALF),
    ]
    short = forcing.between(0, 60)
    filtered = run(stations[:1], short, members=4_000, observations=seen, evenings_read=[2])

    tank_site = tank_site_of(stations[0])
    runs = run(stations[:1], short.between(0, 15), members=40_000)
    weight = np.ones(40_000)
    prior, stops = runs.prior, [14, 30, 45, 59]
    for place, stop in enumerate(stops):
        if place:
            part = short.between(stops[place - 1] + 1, stop + 1)
            runs = follow(["a"], [tank_site], part, prior, runs.volume_l, errors=runs.errors)
        if place < len(seen):
            depth = np.interp(
                runs.volume_l[0], tank_site.tank.node_volume_l, tank_site.tank.node_depth_mm
            )
            weight *= likelihood(seen[place], depth, tank_site.tank.depth_mm)
    weight /= weight.sum()
    assert 1.0 / (weight**2).sum() > 500.0

    def against(values: FloatArray, weighed: FloatArray, tolerance: float) -> None:
        mean = float((weight * weighed).sum())
        sd = float(np.sqrt((weight * (weighed - mean) ** 2).sum()))
        assert values.mean() == pytest.approx(mean, abs=tolerance * sd)
        assert values.std() == pytest.approx(sd, rel=tolerance)

    against(filtered.volume_l[0], runs.volume_l[0], 0.2)
    for name in ("apron_yield", "shelter", "drinking", "rain"):
        own, whole = getattr(filtered.parameters, name)[0], getattr(prior, name)[0]
        against(np.log(own), np.log(whole), 0.2)
