"""Whatever a file holds, the reader reads it or says in its own words why not."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from store.errors import BrimbookError
from store.weather.days import DailyWeather
from store.weather.files import ReadOptions
from store.weather.readers.recognise import read_weather

SAMPLES = sorted((Path(__file__).parent / "samples").iterdir())


def assert_possible(weather: DailyWeather) -> None:
    with np.errstate(invalid="ignore"):
        assert not (weather.rain_mm < 0.0).any()
        assert not (weather.tmin_c > weather.tmax_c).any()
        assert not (np.abs(weather.tmin_c) > 90.0).any()


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.name)
def test_samples_are_possible(path: Path) -> None:
    assert_possible(read_weather(path).weather)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    sample=st.sampled_from(SAMPLES),
    cuts=st.lists(st.tuples(st.integers(0, 900), st.text(max_size=6)), max_size=4),
    skip=st.booleans(),
)
def test_damaged_samples(
    tmp_path: Path, sample: Path, cuts: list[tuple[int, str]], skip: bool
) -> None:
    text = sample.read_bytes().decode("latin-1")
    for at, damage in cuts:
        text = text[:at] + damage + text[at + len(damage) :]
    path = tmp_path / "damaged"
    path.write_bytes(text.encode("utf-8", errors="surrogatepass"))
    with suppress(BrimbookError):
        assert_possible(read_weather(path, options=ReadOptions(skip_bad_lines=skip)).weather)
