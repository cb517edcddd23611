"""Tables with one line a day: archives and whatever a person keeps."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from store.errors import BadFile, BadLines, BadValue
from store.weather.files import DateOrder, FileUnits, ReadOptions
from store.weather.readers.recognise import read_weather

SAMPLES = Path(__file__).parent / "samples"
SKIP = ReadOptions(skip_bad_lines=True)


def write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "sheet.csv"
    path.write_text(text)
    return path


def test_wide_archive_with_flags_bom_and_crlf() -> None:
    read = read_weather(SAMPLES / "archive_wide.csv")
    assert read.format_name == "GHCN-Daily CSV, a day a line"
    assert (read.station_id, read.station_name) == ("XX000000001", "MADE UP, XX")
    assert (read.latitude_deg, read.longitude_deg, read.elevation_m) == (40.5, -98.25, None)
    assert read.weather.first_day == date(2025, 7, 1)
    np.testing.assert_array_equal(read.weather.rain_mm, [25.4, 0.0, np.nan, np.nan, np.nan, np.nan])
    np.testing.assert_array_equal(read.weather.tmax_c, [31.7, 30.0, 28.9, np.nan, np.nan, 27.2])
    notes = " ".join(read.notes)
    assert "Units taken as tenths" in notes
    assert "2 values that failed" in notes
    assert "Columns not used: mdpr." in notes


def test_summaries_in_us_units() -> None:
    read = read_weather(SAMPLES / "summaries_us.csv")
    assert read.format_name == "daily summaries CSV"
    assert (read.latitude_deg, read.longitude_deg, read.elevation_m) == (41.5, -97.0, 300.5)
    np.testing.assert_allclose(read.weather.rain_mm, [3.048, 25.4, 0.0])
    np.testing.assert_allclose(read.weather.tmax_c, [30.0, 25.0, np.nan])
    # 10 mph is 4.4704 m/s; FAO Paper 56, equation 47 from 10 m to 2 m.
    assert read.weather.wind_m_s[0] == pytest.approx(4.4704 * 4.87 / np.log(672.58))
    assert any("us (inches, F)" in note for note in read.notes)


def test_summaries_in_metric_units() -> None:
    read = read_weather(SAMPLES / "summaries_metric.csv")
    np.testing.assert_array_equal(read.weather.rain_mm, [3.0, 25.4])
    np.testing.assert_array_equal(read.weather.tmin_c, [16.1, 15.0])
    assert any("metric (mm, C)" in note for note in read.notes)


def test_units_that_cannot_be_told_are_asked_for(tmp_path: Path) -> None:
    path = write(tmp_path, "DATE,PRCP,TMAX,TMIN\n2025-01-01,0,40,30\n2025-01-02,1,45,31\n")
    with pytest.raises(BadFile, match=r"state the units: metric .* or us .* or tenths"):
        read_weather(path)
    for units, highest in ((FileUnits.METRIC, 45.0), (FileUnits.TENTHS, 4.5)):
        read = read_weather(path, options=ReadOptions(units=units))
        assert read.weather.tmax_c[1] == highest
    in_f = read_weather(path, options=ReadOptions(units=FileUnits.US)).weather
    assert in_f.rain_mm[1] == pytest.approx(25.4)
    assert in_f.tmin_c[0] == pytest.approx(-1.111, abs=1e-3)


def test_stated_units_that_do_not_fit_are_doubted() -> None:
    read = read_weather(SAMPLES / "summaries_metric.csv", options=ReadOptions(units=FileUnits.US))
    assert any("look doubtful" in note for note in read.notes)


def test_semicolons_decimal_comma_brackets_and_day_first() -> None:
    read = read_weather(SAMPLES / "semicolons.csv")
    assert read.format_name == "plain CSV"
    weather = read.weather
    assert (weather.first_day, weather.days) == (date(2025, 1, 31), 3)
    np.testing.assert_array_equal(weather.rain_mm, [2.5, 0.0, np.nan])
    np.testing.assert_array_equal(weather.tmin_c, [-3.25, np.nan, 1.0])
    np.testing.assert_array_equal(weather.humidity_pct, [81.0, np.nan, 90.0])
    np.testing.assert_array_equal(weather.sun_mj_m2, [5.5, np.nan, 6.0])
    assert read.notes == ()


def test_us_columns_and_every_element(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "date,rain_in,tmin_f,tmax_f,humidity_pct,dewpoint_f,wind_mph,sun_mj_m2\n"
        "2025-06-01,1,32,212,50,50,10,20\n2025-06-02,1,32,95,50,50,10,20\n",
    )
    with pytest.raises(BadLines, match="line 2, tmax_f: 212 is outside -90 to 60 C"):
        read_weather(path)
    weather = read_weather(path, options=SKIP).weather
    assert weather.first_day == date(2025, 6, 2)
    row = [getattr(weather, name)[0] for name in ("rain_mm", "tmin_c", "tmax_c", "dewpoint_c")]
    np.testing.assert_allclose(row, [25.4, 0.0, 35.0, 10.0], atol=1e-9)
    assert weather.wind_m_s[0] == pytest.approx(4.4704)


@pytest.mark.parametrize("code", ["", "-9999", "-9999.0", "M", "m", "NA", "NaN"])
def test_missing_codes(tmp_path: Path, code: str) -> None:
    path = write(tmp_path, f"date,rain_mm,tmin_c\n2025-06-01,{code},5\n2025-06-02,1,{code}\n")
    weather = read_weather(path).weather
    np.testing.assert_array_equal(weather.rain_mm, [np.nan, 1.0])
    np.testing.assert_array_equal(weather.tmin_c, [5.0, np.nan])


@pytest.mark.parametrize("code", ["T", "t", "Trace", "0", "0.00"])
def test_trace_is_no_rain(tmp_path: Path, code: str) -> None:
    assert read_weather(write(tmp_path, f"date,rain_in\n2025-06-01,{code}\n")).weather.rain_mm == [
        0
    ]


@pytest.mark.parametrize(
    ("line", "field", "reason"),
    [
        ("2025-02-30,1,2,3", "date", "2025-02-30 is not a day of the calendar"),
        (",1,2,3", "date", "blank"),
        ("0205-02-03,1,2,3", "date", "the year 205"),
        ("2025-02-03T12:30,1,2,3", "date", "is not a date"),
        ("2025-02-03,-1,2,3", "rain_mm", "outside 0 to 2000 mm"),
        ("2025-02-03,2001,2,3", "rain_mm", "outside"),
        ("2025-02-03,1O,2,3", "rain_mm", "'1O' is not a number"),
        ("2025-02-03,1_0,2,3", "rain_mm", "not a number"),
        ("2025-02-03,inf,2,3", "rain_mm", "not a number"),
        ('2025-02-03,"1,000",2,3', "rain_mm", "not a number"),
        ("2025-02-03,1,T,3", "tmin_c", "not a number"),
        ("2025-02-03,1,4,3", "tmin", "the low 4.0 C is above the high 3.0 C"),
        ("2025-02-03,1,2,61", "tmax_c", "outside"),
        ("2025-02-03,1,-91,3", "tmin_c", "outside"),
        ("2025-02-03,1,2,3,9", "", "more cells"),
    ],
)
def test_lines_that_cannot_be_true(tmp_path: Path, line: str, field: str, reason: str) -> None:
    path = write(tmp_path, f"date,rain_mm,tmin_c,tmax_c\n2025-02-01,7,2,3\n{line}\n")
    with pytest.raises(BadLines) as caught:
        read_weather(path)
    (problem,) = caught.value.problems
    assert (problem.line, problem.field) == (3, field)
    assert reason in problem.reason
    read = read_weather(path, options=SKIP)
    assert read.rejected == (problem,)
    np.testing.assert_array_equal(read.weather.rain_mm, [7.0])


def test_identical_lines_merge(tmp_path: Path) -> None:
    text = "date,rain_mm\n2025-02-01,7\n2025-02-02,8\n2025-02-01,7.0\n"
    read = read_weather(write(tmp_path, text))
    np.testing.assert_array_equal(read.weather.rain_mm, [7.0, 8.0])
    assert read.notes == ("1 line repeats an earlier one and was read once.",)


@pytest.mark.parametrize("again", ["7.5", ""])
def test_lines_that_differ_contradict(tmp_path: Path, again: str) -> None:
    path = write(tmp_path, f"date,rain_mm,tmin_c\n2025-02-01,7,1\n2025-02-01,{again},1\n")
    with pytest.raises(BadLines, match="line 3, date: 2025-02-01 is there already and line 2"):
        read_weather(path)
    np.testing.assert_array_equal(read_weather(path, options=SKIP).weather.rain_mm, [7.0])


def test_a_rejected_line_contradicts_nothing(tmp_path: Path) -> None:
    path = write(tmp_path, "date,rain_mm\n2025-02-01,-7\n2025-02-01,7\n")
    read = read_weather(path, options=SKIP)
    assert [problem.line for problem in read.rejected] == [2]
    np.testing.assert_array_equal(read.weather.rain_mm, [7.0])


def test_days_between_are_unknown_and_the_future_is_fine(tmp_path: Path) -> None:
    weather = read_weather(write(tmp_path, "date,rain_mm\n2099-01-04,1\n2099-01-01,2\n")).weather
    np.testing.assert_array_equal(weather.rain_mm, [2.0, np.nan, np.nan, 1.0])


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("when,rain_mm", "a date"),
        ("date,colour", "rain or temperature"),
        ("date,humidity_pct", "rain or temperature"),
    ],
)
def test_columns_that_are_not_there_are_named(tmp_path: Path, header: str, expected: str) -> None:
    path = write(tmp_path, f"{header}\n2025-02-01,1\n")
    with pytest.raises(BadFile, match=f"no column read as {expected}") as caught:
        read_weather(path)
    assert header.replace(",", ", ") in str(caught.value)
    assert "tmin_c or tmin_f" in str(caught.value)


def test_stated_columns(tmp_path: Path) -> None:
    path = write(tmp_path, "When,Amount,Note\n2025-02-01,2,wet\n")
    options = ReadOptions(columns={"When": "date", "Amount": "rain_in"})
    read = read_weather(path, options=options)
    assert read.weather.rain_mm[0] == pytest.approx(50.8)
    assert read.notes == ("Columns not used: note.",)
    with pytest.raises(BadFile, match="no column gone"):
        read_weather(path, options=ReadOptions(columns={"Gone": "date"}))
    with pytest.raises(BadValue, match="colour is not an element"):
        read_weather(path, options=ReadOptions(columns={"Note": "colour"}))


def test_one_element_in_two_columns(tmp_path: Path) -> None:
    path = write(tmp_path, "date,rain_mm,precip_in\n2025-02-01,1,1\n")
    with pytest.raises(BadFile, match="rain_mm and precip_in for the same element"):
        read_weather(path)


def test_year_month_day_columns(tmp_path: Path) -> None:
    path = write(tmp_path, "Day,Month,Year,Prcp(mm)\n29,2,2024,1.5\n1,3,2024,x\n30,2,2024,1\n")
    with pytest.raises(BadLines, match="line 4, date: 2024-02-30 is not a day"):
        read_weather(path)
    assert read_weather(path, options=SKIP).weather.first_day == date(2024, 2, 29)


def test_bare_columns_follow_the_labelled_ones(tmp_path: Path) -> None:
    path = write(tmp_path, "date,rain_mm,tmin,tmax\n2025-02-01,3,20,30\n")
    read = read_weather(path)
    assert read.weather.tmax_c[0] == 30.0
    assert "other columns name their unit" in read.notes[0]


def test_date_order_is_asked_for_or_stated(tmp_path: Path) -> None:
    path = write(tmp_path, "date,rain_mm\n03/04/2025,1\n")
    with pytest.raises(BadFile, match="state the date order"):
        read_weather(path)
    read = read_weather(path, options=ReadOptions(date_order=DateOrder.DAY_FIRST))
    assert read.weather.first_day == date(2025, 4, 3)


def test_another_archive_is_refused(tmp_path: Path) -> None:
    """Global Summary of the Day: 99.99 is missing there and I means no report."""
    path = write(
        tmp_path,
        "STATION,DATE,TEMP,DEWP,SLP,STP,VISIB,WDSP,MAX,MIN,PRCP,PRCP_ATTRIBUTES,FRSHTT\n"
        "1,2025-01-01,30,20,9999.9,999.9,10,5,40,20,99.99,I,000000\n",
    )
    with pytest.raises(BadFile, match="Global Summary of the Day"):
        read_weather(path)


def test_header_without_days(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="no days"):
        read_weather(write(tmp_path, "date,rain_mm\n"))


def test_places_in_one_table_have_to_be_chosen(tmp_path: Path) -> None:
    path = write(tmp_path, "location,date,rain_mm\nA,2025-01-01,1\nB,2025-01-01,2\n")
    with pytest.raises(BadFile, match=r"several stations \(A, B\)"):
        read_weather(path)
    assert read_weather(path, options=ReadOptions(station="B")).weather.rain_mm[0] == 2.0


def test_numbered_lines_are_no_stations(tmp_path: Path) -> None:
    read = read_weather(write(tmp_path, "id,date,rain_mm\n1,2025-01-01,1\n2,2025-01-02,2\n"))
    assert (read.station_id, read.weather.days) == (None, 2)
    assert read.notes == ("Columns not used: id.",)


@pytest.mark.parametrize("year", ["9" * 5000, "2147483648", "-2015"])
def test_parts_of_a_date_that_no_calendar_has_are_named(tmp_path, year):
    path = tmp_path / "parts.csv"
    path.write_text(f"year,month,day,rain_mm\n{year},5,9,1\n2015,5,10,1\n")
    with pytest.raises(BadLines, match="line 2, date"):
        read_weather(path)
