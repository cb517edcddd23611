"""A tract that is known by its monthly normals alone still has levels, bands and prompts."""

from datetime import date, timedelta

import numpy as np
import pytest

from store.logbook.entries import live_entries
from store.logbook.journal import write
from store.logbook.places import places
from store.model.site_weather import coming_members, past_members, site_weather
from store.model.snapshot import load
from store.model.working_out import board_of
from store.records import Draft, GaugeReading, MonthlyNormals, Withdrawal
from store.reports.due import due_rows
from store.reports.outlook import outlook_rows
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.views.overview import overview
from store.views.weather_state import weather_notes, weather_states
from store.weather.files import ReadOptions
from tests.new_logbook import new_logbook
from tests.steady import steady

TODAY = date(2026, 8, 1)
SHEETS = {
    SheetKind.STATIONS: (
        "tract,station,shape,length_in,width_in,depth_in,apron_area_ft2,installed,latitude",
        "North,Oak,rectangular,48,36,30,150,2026-05-05,42",
        "North,Ash,rectangular,48,36,30,40,2026-05-05,42",
    ),
    SheetKind.READINGS: ("date,station,below_rim_in", "2026-06-20,Oak,6", "2026-07-10,Oak,4"),
    SheetKind.NORMALS: (
        "month,rain_mm,wet_days,tmin_c,tmax_c",
        *(f"{m},{r},11,{t},{t + 10}" for m, r, t in zip(
            range(1, 13), (70, 60, 80, 90, 95, 100, 95, 90, 90, 90, 85, 80),
            (-9, -8, -3, 3, 9, 14, 16, 15, 11, 5, 0, -6), strict=True)),
    ),
}  # fmt: skip


@pytest.fixture
def book(tmp_path):
    """Two stations on North, two readings at Oak, and North's usual year."""
    logbook = steady(new_logbook(tmp_path / "book.db"))
    logbook.fixed_today = TODAY
    for kind, lines in SHEETS.items():
        sheet = tmp_path / f"{kind}.csv"
        sheet.write_text("\n".join(lines))
        import_sheet(logbook, kind, sheet, "North")
    yield logbook
    logbook.close()


@pytest.fixture
def bring(book, tmp_path):
    """Imports days of weather for North: as many as wanted up to the end of July."""

    def bring(days, rain_mm=3.0):
        first = date(2026, 8, 1) - timedelta(days=days)
        lines = [
            f"{first + timedelta(days=day)},10,20,{rain_mm if day % 3 else 0}"
            for day in range(days)
        ]
        path = tmp_path / f"ridge {days}.csv"
        path.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *lines]))
        import_weather(book, path, ReadOptions(), "North")

    return bring


def _north(book):
    return load(book).weather[places(book).find_tract("North").tract_id]


def test_levels_bands_outlook_and_prompts_from_normals_alone(book):
    snapshot = load(book)
    board = board_of(snapshot)
    assert board.levels.without == {}
    rows = {row.label: row for row in overview(board)}
    for row in rows.values():
        assert 0.0 < row.level.low_share < row.level.share < row.level.high_share <= 1.0
    oak = board.levels.by_station[rows["Oak"].station.station_id]
    at_reading = (date(2026, 7, 10) - oak.first_day).days
    run = board.levels.followed[oak.station.facts.station_id]
    width = (run.p90_l - run.p10_l)[:, 0]
    assert width[at_reading] < 0.25 * width[at_reading - 1]
    assert due_rows(snapshot).rows
    answer = outlook_rows(snapshot, date(2026, 11, 10), {})
    assert [row[0] for row in answer.rows] == ["Ash", "Oak"]
    assert any("invented from the monthly normals" in note for note in answer.notes)


def test_it_is_said_where_the_weather_comes_from(book):
    (state,) = weather_states(load(book))
    assert state.record_name == "monthly normals of North"
    assert state.from_normals
    assert (state.missing, state.days) == (213, 213)
    (note,) = weather_notes(load(book))
    assert "in no record and were invented like the normals" in note
    assert "other years" not in note


def test_invented_weather_is_like_the_normals(book):
    """Means of many members against the typed numbers; tolerances of the sampling."""
    rain_mm, tmin_c, tmax_c = past_members(_north(book), date(2026, 6, 1), date(2026, 6, 30), 400)
    assert rain_mm.sum(axis=0).mean() == pytest.approx(100.0, rel=0.08)
    assert tmin_c.mean() == pytest.approx(14.0, abs=0.6)
    assert tmax_c.mean() == pytest.approx(24.0, abs=0.6)


def test_spans_in_a_row_do_not_repeat_each_other(book):
    """The same random numbers in each span would make a dry member dry throughout."""
    weather = _north(book)
    one, two = (
        past_members(weather, first, first + timedelta(days=29), 300).rain_mm > 0.0
        for first in (date(2026, 5, 1), date(2026, 6, 1))
    )
    assert abs(np.corrcoef(one.sum(axis=0), two.sum(axis=0))[0, 1]) < 0.25
    assert (one == two).mean() < 0.8


def test_the_tracts_own_gauge_counts_in_every_member(book):
    tract_id = places(book).find_tract("North").tract_id
    write(book, "Gauge", [Draft(date(2026, 7, 20), GaugeReading(tract_id, 33.0))])
    weather = _north(book)
    span = date(2026, 7, 15), date(2026, 7, 25)
    assert (past_members(weather, *span, 20).rain_mm[5] == 33.0).all()
    assert site_weather(weather, 40.7).known(*span).rain_mm[5] == 33.0


def test_a_record_of_a_year_takes_over(book, bring):
    bring(400)
    weather = _north(book)
    assert weather.normals is None
    assert weather.record_name == "ridge 400"
    assert weather_notes(load(book)) == (
        "Weather ridge 400: 1 of 213 days to 2026-08-01 are missing and were filled from the "
        "same calendar days of other years; the record ends on 2026-07-31.",
    )
    assert "like the 400 days of record" in coming_members(weather, TODAY, 10)[1]


def test_a_shorter_record_is_laid_over_the_normals(book, bring):
    bring(5, rain_mm=50.0)
    weather = _north(book)
    assert weather.record_name == "ridge 5 with monthly normals of North"
    rain_mm, _, _ = past_members(weather, date(2026, 7, 20), TODAY, 30)
    assert np.ptp(rain_mm[:7], axis=1).min() > 0.0
    assert (rain_mm[7:12] == [[0.0], [50.0], [50.0], [0.0], [50.0]]).all()
    (state,) = weather_states(load(book))
    assert (state.missing, state.days) == (208, 213)
    assert "from the monthly normals" in coming_members(weather, TODAY, 10)[1]
    assert len(board_of(load(book)).levels.by_station) == 2


def test_eleven_months_are_no_weather(book):
    (january, *_) = live_entries(book, (MonthlyNormals,))
    write(book, "Withdraw", [Draft(TODAY, Withdrawal(), revises=january.entry_id)])
    assert load(book).weather == {}
    assert "North has no weather yet" in next(iter(board_of(load(book)).levels.without.values()))


def test_before_they_were_typed_in_there_is_no_weather(book):
    book.fixed_today = TODAY - timedelta(days=1)
    assert load(book).weather == {}
