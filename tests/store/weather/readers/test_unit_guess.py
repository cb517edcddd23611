"""The units trap: one heading, three unit systems, nothing in the file to tell."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.errors import BadFile
from store.weather.files import FileUnits
from store.weather.readers.unit_guess import Evidence, guess_units

FULL, SHORT = True, False


@pytest.mark.parametrize(
    ("rain", "temperature", "whole_year", "units"),
    [
        (["0", "25", "130", "3", "8", "51"], ["-210", "350"], FULL, FileUnits.TENTHS),
        (["0"], ["-21", "950"], SHORT, FileUnits.TENTHS),
        (["0", "3", "5", "8", "13", "2"], ["-21", "123"], SHORT, FileUnits.TENTHS),
        (["0.00", "0.12"], ["20", "45"], SHORT, FileUnits.US),
        (["0.00", "1.2"], ["20", "88"], SHORT, FileUnits.US),
        (["0.00"], ["20.5", "88.1"], SHORT, FileUnits.US),
        (["0.0", "12.2"], ["-2.1", "33.9"], SHORT, FileUnits.METRIC),
        (["0.0", "5.08"], ["-21.11", "3.33"], FULL, FileUnits.METRIC),
        (["0", "31"], ["-12", "35"], FULL, FileUnits.METRIC),
        (["0.0", "61.2"], [], SHORT, FileUnits.METRIC),
        (["0.12", "3.30"], [], FULL, FileUnits.US),
    ],
)
def test_values_decide(
    rain: list[str], temperature: list[str], whole_year: bool, units: FileUnits
) -> None:
    found, reason = guess_units(Evidence(rain, temperature, whole_year), (), "f.csv")
    assert found is units
    assert str(units) in reason
    assert "not " in reason


@pytest.mark.parametrize(
    ("rain", "temperature", "whole_year"),
    [
        (["0"], ["60", "90"], SHORT),
        (["0", "3"], [], SHORT),
        (["0.5", "1.2"], [], SHORT),
        ([], ["20", "45"], SHORT),
        (["0.1"], ["20.5", "950.5"], FULL),
        ([], [], FULL),
    ],
)
def test_values_that_do_not_decide(
    rain: list[str], temperature: list[str], whole_year: bool
) -> None:
    with pytest.raises(BadFile, match=r"f\.csv does not say its units"):
        guess_units(Evidence(rain, temperature, whole_year), (), "f.csv")


@settings(max_examples=15)
@given(
    lows=st.lists(st.integers(-300, 100), min_size=360, max_size=366),
    summer=st.integers(180, 480),
)
def test_a_year_of_one_station_is_told_in_all_three(lows: list[int], summer: int) -> None:
    """The same year in tenths, in C and in F, as an archive would write each."""
    tenths = [*lows, summer]
    rain = [0, 3, 8, 25, 51, 130, 640]
    written = {
        FileUnits.TENTHS: ([str(r) for r in rain], [str(t) for t in tenths]),
        FileUnits.METRIC: ([f"{r / 10:.1f}" for r in rain], [f"{t / 10:.1f}" for t in tenths]),
        FileUnits.US: (
            [f"{r / 254:.2f}" for r in rain],
            [f"{t * 0.18 + 32:.0f}" for t in tenths],
        ),
    }
    for units, (rain_texts, temperature_texts) in written.items():
        evidence = Evidence(rain_texts, temperature_texts, whole_year=True)
        assert guess_units(evidence, (), "f.csv")[0] is units
