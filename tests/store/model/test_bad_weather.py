"""Weather with holes, too little of it, or from far north: levels without NaN, or a sentence."""

from datetime import date, timedelta

import numpy as np
import pytest

from store.errors import BadLines, BadValue
from store.model.snapshot import load
from store.model.working_out import board_of
from store.reports.outlook import outlook_rows
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.views.weather_state import weather_notes
from store.weather.files import ReadOptions
from tests.new_logbook import new_logbook
from tests.steady import steady
from tests.store.conftest import DATA

TODAY = date(2026, 8, 1)
HEAD = "tract,station,shape,length_in,width_in,depth_in,apron_area_ft2,installed,latitude"
WEATHER = "date,tmin_c,tmax_c,rain_mm"


@pytest.fixture
def book(tmp_path):
    logbook = steady(new_logbook(tmp_path / "book.db"))
    logbook.fixed_today = TODAY
    yield logbook
    logbook.close()


@pytest.fixture
def station(book, tmp_path):
    """Adds a station of 48 x 36 x 30 in."""

    def station(name="Oak", tract="North", latitude="42", installed="2026-05-05"):
        path = tmp_path / f"{name}.csv"
        path.write_text(f"{HEAD}\n{tract},{name},rectangular,48,36,30,150,{installed},{latitude}\n")
        import_sheet(book, SheetKind.STATIONS, path)

    return station


@pytest.fixture
def weather(book, tmp_path):
    """Imports `days` days of weather to the last of July, without those in `gap`."""

    def weather(days, gap=range(0), tract="North", line="{day},10,20,{rain}", name="ridge"):
        first = date(2026, 8, 1) - timedelta(days=days)
        lines = [
            line.format(day=first + timedelta(days=day), rain=day * 7 % 31 if day % 5 == 0 else 0)
            for day in range(days)
            if day not in gap
        ]
        path = tmp_path / f"{name}.csv"
        path.write_text("\n".join([WEATHER, *lines]))
        return import_weather(book, path, ReadOptions(), tract)

    return weather


def _no_nan(work):
    for levels in work.levels.by_station.values():
        for name in ("volume_l", "low_l", "median_l", "high_l", "overflow_l"):
            assert np.isfinite(getattr(levels, name)).all()
    for future in work.ahead.values():
        assert np.isfinite(future.volume_l).all()
    return work


def _only_reason(work):
    assert work.levels.by_station == {}
    return next(iter(work.levels.without.values()))


def test_a_gap_of_sixty_days_is_counted_and_widens_the_band(book, station, tmp_path):
    """The real record twice, once without 12 July to 9 September 2015."""
    book.fixed_today = date(2015, 9, 20)
    head, *days = (DATA / "new_york_daily.csv").read_text().splitlines()
    kept = [day for day in days if not "2015-07-12" <= day < "2015-09-10"]
    for tract, name, lines in (("North", "Oak", kept), ("South", "Pine", days)):
        station(name, tract, installed="2014-05-05")
        path = tmp_path / f"{name} weather.csv"
        path.write_text("\n".join([head, *lines]))
        import_weather(book, path, ReadOptions(), tract)
    readings = tmp_path / "readings.csv"
    readings.write_text("date,station,below_rim_in\n2015-07-11,Oak,15\n2015-07-11,Pine,15\n")
    import_sheet(book, SheetKind.READINGS, readings)
    work = _no_nan(board_of(load(book)))
    (note,) = weather_notes(work.snapshot)
    assert "Weather Oak weather: 60 of 263 days" in note
    widths = {}
    for levels in work.levels.by_station.values():
        read = (date(2015, 7, 11) - levels.first_day).days
        width = (levels.high_l - levels.low_l)[read + 1 : read + 21]
        widths[levels.station.facts.name] = width.mean()
    assert widths["Oak"] > 2.0 * widths["Pine"] > 0.0


def test_a_record_of_forty_days_is_enough_and_said_to_be_short(book, station, weather):
    station()
    weather(40)
    _no_nan(board_of(load(book)))
    notes = outlook_rows(load(book), date(2026, 11, 10), {}).notes
    assert any("courses invented like the 40 days of record" in note for note in notes)


def test_a_record_of_five_days_is_too_little_for_its_tract_alone(book, station, weather):
    station()
    station("Pine", tract="South")
    weather(400)
    weather(5, tract="South", name="creek")
    work = _no_nan(board_of(load(book)))
    assert len(work.levels.by_station) == 1
    (reason,) = work.levels.without.values()
    assert "South has 5 days with rain and both temperatures, fewer than 10" in reason


@pytest.mark.parametrize(
    "line", ["{day},,,{rain}", "{day},,20,{rain}", "{day},10,,{rain}", "{day},10,20,"]
)
def test_rain_or_a_temperature_that_is_never_known(book, station, weather, line):
    station()
    weather(60, line=line)
    assert "lacks rain or temperatures; import both" in _only_reason(board_of(load(book)))


def test_rain_and_temperatures_never_on_the_same_day(book, station, weather):
    station()
    weather(60, gap=range(30, 60), line="{day},,,{rain}")
    weather(60, gap=range(30), line="{day},10,20,")
    assert "has 0 days with rain and both temperatures" in _only_reason(board_of(load(book)))


def test_a_station_without_weather(book, station):
    station()
    assert "North has no weather yet; import" in _only_reason(board_of(load(book)))


def test_a_station_without_latitude(book, station, weather):
    station(latitude="")
    weather(60)
    assert "the latitude of North is unknown" in _only_reason(board_of(load(book)))


@pytest.mark.parametrize("latitude", ["75", "90", "-90", "0"])
def test_any_latitude_of_the_globe_works(book, station, weather, latitude):
    """Beyond the polar circle the sun stays down in winter and up in summer."""
    station(latitude=latitude)
    weather(450)
    _no_nan(board_of(load(book)))


def test_a_latitude_off_the_globe_is_refused(book, station, tmp_path):
    with pytest.raises(BadLines, match="latitude: 95 is not possible"):
        station(latitude="95")
    path = tmp_path / "far.csv"
    path.write_text(f"station,latitude,{WEATHER}\nX1,95,2026-07-01,10,20,0\n")
    with pytest.raises(BadValue, match=r"far.csv gives 95 as its latitude, outside -90 to 90"):
        import_weather(book, path, ReadOptions())
