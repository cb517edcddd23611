"""GHCN-Daily .dly and the CSV with a value a line.

Layout: GHCN-Daily readme (NOAA NCEI), section III: ID 1-11, YEAR 12-15, MONTH 16-17,
ELEMENT 18-21, VALUE1 22-26, MFLAG1 27, QFLAG1 28, SFLAG1 29, VALUE31 262-266.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from store.errors import BadFile, BadLines
from store.weather.files import FileUnits, ReadOptions
from store.weather.readers.recognise import read_weather

SAMPLES = Path(__file__).parent / "samples"
STATION = "XX000000001"
SKIP = ReadOptions(skip_bad_lines=True)


def put(line: list[str], first_column: int, text: str) -> None:
    """Write text at a 1-based column, as the readme counts."""
    line[first_column - 1 : first_column - 1 + len(text)] = text


def dly_line(
    year: int, month: int, element: str, days: dict[int, tuple[int, str]], station: str = STATION
) -> str:
    """A month of one element; `days` gives value and the three flags."""
    line = [" "] * 269
    put(line, 1, station)
    put(line, 12, f"{year:04d}")
    put(line, 16, f"{month:02d}")
    put(line, 18, element)
    for day in range(1, 32):
        value, flags = days.get(day, (-9999, "   "))
        put(line, 22 + 8 * (day - 1), f"{value:5d}")
        put(line, 27 + 8 * (day - 1), flags)
    return "".join(line)


def write(tmp_path: Path, *lines: str, name: str = "weather.txt", end: str = "\n") -> Path:
    path = tmp_path / name
    path.write_bytes((end.join(lines) + end).encode())
    return path


def test_last_day_stands_in_columns_262_to_269() -> None:
    line = dly_line(2025, 1, "PRCP", {31: (254, "TXN")})
    assert len(line) == 269
    assert line[261:266] == "  254"
    assert line[266:269] == "TXN"


def test_dly_round_trip(tmp_path: Path) -> None:
    rng = np.random.default_rng(3)
    lines, rain, low, high = [], [], [], []
    for month in range(1, 13):
        length = monthrange(2024, month)[1]
        amounts = rng.integers(0, 400, length)
        lows = rng.integers(-250, 100, length)
        highs = lows + rng.integers(0, 200, length)
        for element, values in (("TMAX", highs), ("TMIN", lows), ("PRCP", amounts)):
            days = {day + 1: (int(value), "  N") for day, value in enumerate(values)}
            lines.append(dly_line(2024, month, element, days))
        lines.append(dly_line(2024, month, "SNWD", {1: (99999, "  N")}))
        rain.extend(amounts / 10)
        low.extend(lows / 10)
        high.extend(highs / 10)
    read = read_weather(write(tmp_path, *lines, end="\r\n"))
    assert read.format_name == "GHCN-Daily .dly"
    assert read.station_id == STATION
    assert (read.weather.first_day, read.weather.days) == (date(2024, 1, 1), 366)
    np.testing.assert_allclose(read.weather.rain_mm, rain)
    np.testing.assert_allclose(read.weather.tmin_c, low)
    np.testing.assert_allclose(read.weather.tmax_c, high)
    assert np.isnan(read.weather.wind_m_s).all()
    assert not read.weather.filled.any()


def test_dly_flags_and_missing(tmp_path: Path) -> None:
    days = {
        1: (254, "  N"),
        2: (0, "T N"),
        3: (0, "P N"),
        4: (300, " XN"),
        6: (120, "A N"),
        7: (0, "B N"),
    }
    read = read_weather(write(tmp_path, dly_line(2025, 4, "PRCP", days).rstrip()))
    np.testing.assert_array_equal(
        read.weather.rain_mm, [25.4, 0.0, np.nan, np.nan, np.nan, np.nan, 0.0]
    )
    assert np.isnan(read.weather.tmax_c).all()
    notes = " ".join(read.notes)
    assert "1 value that failed" in notes
    assert "presumed zero" in notes
    assert "several days" in notes


def test_dly_wind_is_brought_from_10_m_to_2_m(tmp_path: Path) -> None:
    """FAO Paper 56, example 14: 3.2 m/s at 10 m is 2.4 m/s at 2 m."""
    lines = [
        dly_line(2025, 4, "PRCP", {1: (0, "   ")}),
        dly_line(2025, 4, "AWND", {1: (32, "   ")}),
    ]
    path = write(tmp_path, *lines)
    assert read_weather(path).weather.wind_m_s[0] == pytest.approx(2.4, abs=0.05)
    at_2_m = read_weather(path, options=ReadOptions(wind_height_m=2.0))
    assert at_2_m.weather.wind_m_s[0] == pytest.approx(3.2)


@pytest.mark.parametrize(
    ("line", "field", "reason"),
    [
        (dly_line(2025, 2, "PRCP", {30: (10, "   ")}), "date", "2025-02-30 is not a day"),
        (dly_line(2025, 2, "PRCP", {3: (-10, "   ")}), "PRCP of 2025-02-03", "outside 0 to 2000"),
        (dly_line(2025, 2, "PRCP", {3: (20001, "   ")}), "PRCP of 2025-02-03", "outside"),
        (dly_line(2025, 2, "TMAX", {3: (601, "   ")}), "TMAX of 2025-02-03", "outside -90 to 60 C"),
        (dly_line(2025, 2, "TMIN", {3: (-901, "   ")}), "TMIN of 2025-02-03", "outside"),
        (
            dly_line(2025, 2, "PRCP", {3: (10, "   ")}).replace("   10", "   1O"),
            "PRCP",
            "whole number",
        ),
        ("XX0000000012025", "", "not a GHCN-Daily month"),
    ],
)
def test_dly_bad_values_are_rejected_lines(
    tmp_path: Path, line: str, field: str, reason: str
) -> None:
    path = write(tmp_path, dly_line(2025, 1, "PRCP", {1: (5, "   ")}), line)
    with pytest.raises(BadLines) as caught:
        read_weather(path)
    (problem,) = caught.value.problems
    assert problem.line == 2
    assert problem.field.startswith(field)
    assert reason in problem.reason
    read = read_weather(path, options=SKIP)
    assert read.rejected == (problem,)
    assert np.nansum(read.weather.rain_mm) == 0.5


def test_dly_low_above_high_puts_both_aside(tmp_path: Path) -> None:
    lines = [
        dly_line(2025, 2, "TMIN", {1: (50, "   "), 2: (10, "   ")}),
        dly_line(2025, 2, "TMAX", {1: (40, "   "), 2: (20, "   ")}),
    ]
    path = write(tmp_path, *lines)
    with pytest.raises(BadLines, match=r"line 2, TMIN: the low 5\.0 C of 2025-02-01 is above"):
        read_weather(path)
    weather = read_weather(path, options=SKIP).weather
    assert (weather.first_day, weather.days) == (date(2025, 2, 2), 1)


def test_dly_same_month_twice(tmp_path: Path) -> None:
    once = dly_line(2025, 2, "PRCP", {1: (50, "   ")})
    assert "1 value repeats" in " ".join(read_weather(write(tmp_path, once, once)).notes)
    other = dly_line(2025, 2, "PRCP", {1: (51, "   ")})
    with pytest.raises(BadLines, match="line 2, PRCP: 51 on 2025-02-01 contradicts line 1"):
        read_weather(write(tmp_path, once, other))


def test_several_stations_have_to_be_chosen(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        dly_line(2025, 2, "PRCP", {1: (50, "   ")}),
        dly_line(2025, 2, "PRCP", {1: (70, "   ")}, station="XX000000002"),
    )
    with pytest.raises(BadFile, match="several stations"):
        read_weather(path)
    read = read_weather(path, options=ReadOptions(station="XX000000002"))
    assert read.weather.rain_mm[0] == 7.0
    with pytest.raises(BadFile, match="no station YY"):
        read_weather(path, options=ReadOptions(station="YY"))


def test_nothing_usable(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="no usable rain"):
        read_weather(write(tmp_path, dly_line(2025, 2, "SNOW", {1: (50, "   ")})))
    with pytest.raises(BadFile, match="no usable rain"):
        read_weather(write(tmp_path, dly_line(2025, 2, "PRCP", {})))


HEADER = "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n"


@pytest.mark.parametrize("header", ["", HEADER, HEADER.lower()])
def test_a_value_a_line(tmp_path: Path, header: str) -> None:
    path = tmp_path / "long"
    path.write_text(header + (SAMPLES / "archive_long.csv").read_text())
    read = read_weather(path, options=ReadOptions(units=FileUnits.US))
    assert read.format_name == "GHCN-Daily CSV, a value a line"
    assert read.weather.first_day == date(2024, 2, 28)
    np.testing.assert_array_equal(read.weather.rain_mm, [25.4, 0.0, np.nan, 5.1])
    np.testing.assert_array_equal(read.weather.tmax_c, [10.5, np.nan, np.nan, np.nan])
    np.testing.assert_array_equal(read.weather.tmin_c, [-3.3, np.nan, np.nan, np.nan])
    assert "always in tenths" in " ".join(read.notes)


def test_a_value_a_line_bad_lines(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        f"{STATION},20250227,PRCP,1,,,N,",
        f"{STATION},20250230,PRCP,1,,,N,",
        f"{STATION},20250228,PRCP",
        f"{STATION},20250228,PRCP,1.5,,,N,",
    )
    with pytest.raises(BadLines) as caught:
        read_weather(path)
    assert [problem.line for problem in caught.value.problems] == [2, 3, 4]


def test_old_line_ends_lose_no_month(tmp_path: Path) -> None:
    lines = [dly_line(2025, month, "PRCP", {1: (10, "   ")}) for month in (1, 2, 3)]
    assert np.nansum(read_weather(write(tmp_path, *lines, end="\r")).weather.rain_mm) == 3.0
