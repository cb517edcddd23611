"""The bench of twins in short: calibrated, and better than restarting from a reading."""

import pytest

from tests.bench.scores import binomial_limits
from tests.bench.twin_world import Noise, Place, make_world, record_forcing
from tests.bench.twins import WET_APRONS_FT2, Forecasts, Line, forecasts, scored

TWINS = 40


@pytest.fixture(scope="module")
def parts() -> list[Forecasts]:
    record = record_forcing("new_york_daily.csv", 40.7, 40.0)
    place = Place(record, range(2013, 2015), WET_APRONS_FT2, 0.0)
    return [forecasts(make_world(91_000, TWINS, place, Noise()))]


@pytest.fixture(scope="module")
def lines(parts: list[Forecasts]) -> dict[str, Line]:
    return {line.name: line for line in scored(parts)}


def test_bands_cover_what_they_say(lines: dict[str, Line]) -> None:
    low, high = binomial_limits(TWINS, 0.8, 0.99)
    for name in ("particle filter", "Kalman filter"):
        for covered in lines[name].covered:
            assert low / TWINS <= covered <= high / TWINS


def test_learning_beats_restarting(lines: dict[str, Line]) -> None:
    base = lines["restart from the last reading"].crps_pct
    for place in range(2):
        assert lines["particle filter"].crps_pct[place] < base[place]
        assert lines["untaught"].crps_pct[place] > base[place]


def test_doubted_readings_are_mostly_blunders(parts: list[Forecasts]) -> None:
    (part,) = parts
    assert part.blunders > 0
    assert part.doubted_blunders > 0.6 * part.doubted
    assert part.doubted_blunders > 0.25 * part.blunders
