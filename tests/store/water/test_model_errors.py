"""Errors of rain and demand."""

from datetime import date

import numpy as np
import pytest

from store.water.forcing import Forcing
from store.water.model_errors import (
    BLOCK_DAYS,
    DEMAND_MEMORY_D,
    DEMAND_SPREAD,
    STORM_SPREAD,
    blank_state,
    carry_errors,
    draw_normals,
    wet_days,
)
from store.water.seeds import Purpose, station_rng
from store.weather.days import BoolArray

MEMBERS = 4_000


def fresh(block: int = 0):  # type: ignore[no-untyped-def]
    return draw_normals(["a"], Purpose.ERRORS, block, MEMBERS)


def always(wet: bool) -> BoolArray:
    return np.full((BLOCK_DAYS, 1, 1), wet)


def first_day(days: int = BLOCK_DAYS) -> BoolArray:
    return (np.arange(days) == 0)[:, np.newaxis]


def test_errors_have_a_mean_of_one_and_their_spread() -> None:
    errors, _ = carry_errors(blank_state(1, MEMBERS), fresh(), always(True), first_day())
    for values, spread in ((errors.rain, STORM_SPREAD), (errors.demand, DEMAND_SPREAD)):
        assert values.mean() == pytest.approx(1.0, abs=0.03)
        assert np.log(values[-1]).std() == pytest.approx(spread, rel=0.05)


def test_demand_forgets_at_the_stated_pace() -> None:
    errors, _ = carry_errors(blank_state(1, MEMBERS), fresh(), always(False), first_day())
    logs = np.log(errors.demand[:, 0])
    lag = int(DEMAND_MEMORY_D)
    correlation = np.corrcoef(logs[20], logs[20 + lag])[0, 1]
    assert correlation == pytest.approx(np.exp(-lag / DEMAND_MEMORY_D), abs=0.05)


def test_an_error_holds_through_a_storm_and_changes_with_the_next() -> None:
    wet = always(False)
    wet[3:6], wet[8] = True, True
    errors, state = carry_errors(blank_state(1, MEMBERS), fresh(), wet, first_day())
    rain = errors.rain[:, 0]
    assert (rain[3] == rain[5]).all()
    assert abs(np.corrcoef(rain[5], rain[8])[0, 1]) < 0.05
    assert not state.wet.any()


def test_a_storm_goes_on_over_a_cut() -> None:
    numbers, begins = fresh(), first_day()
    whole, end = carry_errors(blank_state(1, MEMBERS), numbers, always(True), begins)
    first, state = carry_errors(
        blank_state(1, MEMBERS), numbers[:, :20], always(True)[:20], begins[:20]
    )
    second, after = carry_errors(state, numbers[:, 20:], always(True)[20:], begins[20:])
    assert (np.concatenate([first.rain, second.rain]) == whole.rain).all()
    assert (np.concatenate([first.demand, second.demand]) == whole.demand).all()
    assert (after.demand == end.demand).all()


def test_storms_may_differ_between_members() -> None:
    wet = np.zeros((BLOCK_DAYS, 1, MEMBERS), dtype=bool)
    wet[2:4, :, :100] = True
    wet[3, :, 100:] = True
    errors, _ = carry_errors(blank_state(1, MEMBERS), fresh(), wet, first_day())
    same = errors.rain[2, 0] == errors.rain[3, 0]
    assert same[:100].all()
    assert not same[100:].any()


def test_stations_blocks_and_purposes_have_numbers_of_their_own() -> None:
    both = draw_normals(["a", "b"], Purpose.ERRORS, 0, MEMBERS)
    assert (both[:, :, 0] == fresh()[:, :, 0]).all()
    assert abs(np.corrcoef(both[0, :, 0].ravel(), both[0, :, 1].ravel())[0, 1]) < 0.01
    assert not (fresh(1) == fresh(0)).any(axis=(1, 2, 3)).all()
    first = station_rng("a", Purpose.ERRORS).random()
    assert first != station_rng("a", Purpose.AHEAD).random()
    assert first == station_rng("a", Purpose.ERRORS).random()


def test_a_day_is_wet_when_any_water_comes() -> None:
    def one(value: float) -> np.ndarray:  # type: ignore[type-arg]
        return np.array([0.0, value, 0.0])[:, np.newaxis, np.newaxis]

    nothing = one(0.0)
    for name in ("rain_mm", "snow_mm", "apron_mm"):
        forcing = Forcing(
            first_day=date(2020, 1, 1),
            moisture=nothing.astype(np.int8),
            bare_moisture=nothing.astype(np.int8),
            growing=nothing.astype(bool),
            evaporation_mm=nothing,
            demand_l=nothing,
            rut_l=nothing,
            rut_day=nothing,
            ice=nothing.astype(bool),
            **({"rain_mm": nothing, "snow_mm": nothing, "apron_mm": nothing} | {name: one(2.0)}),
        )
        assert wet_days(forcing).ravel().tolist() == [False, True, False]
