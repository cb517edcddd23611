"""The benches that are run by hand: they import, and a tiny case of each comes out right."""

from dataclasses import replace

import numpy as np
import pytest

from store.vocabulary import ApronSurface
from store.water.dilution import weather_dilution
from tests.bench import decisions, drinking_worlds, facts, hindcast, sensitivity, speed
from tests.bench.compiled import OUTPUTS, depth_bins_mm, everything, inputs, volume_alone
from tests.bench.places import HALF_DRUM, TANK_110, Place, champion, new_york, station, table
from tests.store.water.fluxes import fluxes


@pytest.fixture(scope="module")
def york() -> Place:
    return new_york()


def test_the_compiled_loops_do_the_same_arithmetic() -> None:
    """As plain Python: the volume to the last bit, the accounts to rounding."""
    case = speed.make_case(3, 3, days=150)
    balance = case.run()
    volume = np.empty(balance.volume_l.shape)
    volume_alone(*inputs(balance), volume)
    assert (volume == balance.volume_l).all()

    outputs = [np.empty(volume.shape) for _ in range(OUTPUTS)]
    everything(*inputs(balance), depth_bins_mm(balance, case.tank_sites), *outputs)
    flow = fluxes(balance)
    arrived = flow.rain_l + flow.snow_l + flow.runoff_l
    left = np.cumprod(weather_dilution(balance), axis=0)
    assert flow.overflow_l.max() > 0.0
    expected = (
        balance.volume_l,
        flow.overflow_l,
        flow.evaporation_l,
        flow.leak_l,
        flow.drinking_l,
        arrived,
    )
    for got, wanted in zip(outputs, expected, strict=False):
        assert got == pytest.approx(wanted, abs=1e-9)
    assert outputs[-1] == pytest.approx(left, rel=1e-9)
    assert outputs[-2].max() <= case.tank_sites[0].tank.depth_mm


def test_every_method_is_timed() -> None:
    methods = speed.methods_of(speed.make_case(2, 2, days=5), volume_alone, everything)
    assert set(speed.seconds(methods, 1)) == set(methods)
    quantiles, overflow, left = speed.screen(speed.outlook_case(11, days=5))
    assert quantiles.shape == (3, 5, 11)
    assert overflow.shape == (5, 11)
    assert len(left) == 2


@pytest.mark.parametrize("mode", hindcast.Mode)
def test_an_outlook_uses_the_other_years(mode: hindcast.Mode) -> None:
    """Five years: as many truths, four others in each outlook, every figure finite."""
    record = champion()
    few = Place("five years", record.forcing.between(0, record.index(1987, 1, 1)))
    result = hindcast.outlooks(few, hindcast.stations()[1:3], (10, 1), mode, turns=2)
    members = 4 if mode is hindcast.Mode.WEATHER else 8
    assert result.said_share.shape == (5, 2, members)
    assert result.truth_share.shape == (5, 2)
    assert (result.said_share >= 0.0).all()
    assert (result.said_share <= 1.0).all()
    got = hindcast.score(result)
    assert np.isfinite([got.level[0], got.coverage[0], got.crps_in]).all()
    rows = hindcast.reliability([result], hindcast.LOW_SHARE)
    assert sum(int(row[-1]) for row in rows) == 10


def test_the_year_itself_is_not_in_its_outlook() -> None:
    """A flood put into one year shows in every outlook but its own."""
    record = champion()
    forcing = record.forcing.between(0, record.index(1986, 1, 1))
    rain = np.zeros_like(forcing.rain_mm)
    rain[record.index(1984, 10, 20)] = 2000.0
    place = Place("one flood", replace(forcing, rain_mm=rain, snow_mm=0.0 * rain))
    bare = station(TANK_110, 0.0)
    result = hindcast.outlooks(place, [bare], (10, 1), hindcast.Mode.WEATHER)
    wet = (result.said_share[:, 0] > 0.3).sum(axis=1)
    assert wet.tolist() == [1, 1, 0, 1]
    assert (result.truth_share[:, 0] > 0.3).tolist() == [False, False, True, False]


def test_more_drinking_lowers_and_more_apron_raises(york: Place) -> None:
    by_name = {swing.name: swing for swing in sensitivity.swings()}
    assert len(by_name) == 12
    for name, sign in (
        ("drinking beside the rut", -1.0),
        ("drinking in the rut", -1.0),
        ("apron yield", 1.0),
        ("apron area", 1.0),
    ):
        swing = by_name[name]
        low, high = (
            sensitivity.october(york, place, scores)[1]
            for place, scores in zip(swing.facts, swing.scores, strict=True)
        )
        assert (sign * (high - low) >= 0.0).all()
        assert (sign * (high - low) > 0.0).any()


def test_the_facts_of_the_trade_come_out(york: Place) -> None:
    """Common practice, no source."""
    drum = facts.days_until(york, station(HALF_DRUM, 0.0), 0.0)
    assert drum.max() <= 14.0
    assert facts.days_until(york, station(TANK_110, 0.0), 0.25).min() > 14.0
    lined = facts.autumn_fills(york, station(TANK_110, 150.0, ApronSurface.LINER))
    bare = facts.autumn_fills(york, station(TANK_110, 0.0))
    assert len(lined) == 4
    assert lined.mean() < bare.mean()
    pool, tank = facts.july_losses(york).T
    assert (pool > 2.0 * tank).all()


def test_a_season_of_another_truth_is_judged_and_decided_on() -> None:
    (york, _) = drinking_worlds.places(tuning=True)
    season = drinking_worlds.make_season(york, 2014, drinking_worlds.TRUTHS[1])
    judged = drinking_worlds.judged(season, "September and a camera")
    assert ((judged.chance >= 0.0) & (judged.chance <= 1.0)).all()
    assert set(judged.held) <= {0.0, 1.0}
    row = drinking_worlds.row_of("one", [judged])
    assert len(row) == len(drinking_worlds.HEAD)
    never, best = decisions.never(season), decisions.foresight(season)
    assert never.visits == never.gallons == 0.0
    assert best.wet_days >= never.wet_days
    everywhere = decisions.fill_all(season)
    assert everywhere.visits == len(decisions.REACHED)
    assert everywhere.gallons > 0.0


def test_a_table_is_markdown() -> None:
    text = table(["a", "b"], [["x", "1"]])
    assert text.splitlines() == ["| a | b |", "| --- | ---: |", "| x | 1 |"]
