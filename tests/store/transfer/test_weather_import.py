"""Weather files into the logbook: records, tracts, overlaps."""

from datetime import date

import numpy as np
import pytest

from store.errors import BadFile, BadLines
from store.logbook.places import places
from store.logbook.weather_records import record_names
from store.logbook.weather_rows import weather_layers
from store.model.snapshot import load
from store.transfer.weather import import_weather, keep_weather
from store.weather.files import FileUnits, ReadOptions
from store.weather.readers.recognise import read_weather

HEAD = "date,tmin_c,tmax_c,rain_mm"
DAYS = ("2026-07-01,10,25,0", "2026-07-02,11,26,12.5", "2026-07-03,12,27,")


def _add(book, path, tract=None, latitude=None, **options):
    return import_weather(book, path, ReadOptions(**options), tract, latitude)


def _weather(book, tract):
    return load(book).weather[places(book).find_tract(tract).tract_id]


def test_a_tract_gets_its_weather(book, save):
    done = _add(book, save(HEAD, *DAYS, name="ridge.csv"), "north", 42.5)
    assert (done.record_name, done.new_days, done.known_days) == ("ridge", 3, 0)
    assert done.tracts == ("North",)
    weather = _weather(book, "North").weather
    assert weather.first_day == date(2026, 7, 1)
    np.testing.assert_array_equal(weather.rain_mm, [0.0, 12.5, np.nan])
    np.testing.assert_array_equal(weather.tmax_c, [25.0, 26.0, 27.0])
    assert "South" not in {places(book).tracts[key].name for key in load(book).weather}


def test_without_a_tract_named_all_without_weather_use_it(book, save):
    _add(book, save(HEAD, *DAYS, name="a.csv"), "North")
    done = _add(book, save(HEAD, *DAYS, name="b.csv"))
    assert done.tracts == ("South",)
    assert _weather(book, "North").record_name == "a"


def test_a_new_tract_is_made(book, save):
    _add(book, save(HEAD, *DAYS), " West ", 43.0)
    assert places(book).find_tract("West").latitude_deg == 43.0


def test_the_same_days_again_are_known_and_change_nothing(book, save):
    path = save(HEAD, *DAYS)
    _add(book, path)
    before = list(book.db.conn.iterdump())
    done = _add(book, path)
    assert (done.new_days, done.known_days) == (0, 3)
    assert list(book.db.conn.iterdump()) == before


def test_the_newest_import_wins_and_a_blank_erases_nothing(book, save):
    _add(book, save(HEAD, *DAYS, name="ridge.csv"), "North")
    done = _add(
        book,
        save(HEAD, "2026-07-02,11,26,", "2026-07-03,12,27,3", "2026-07-04,9,,1", name="ridge.csv"),
        "North",
    )
    assert (done.new_days, done.known_days) == (2, 1)
    weather = _weather(book, "North").weather
    np.testing.assert_array_equal(weather.rain_mm, [0.0, 12.5, 3.0, 1.0])
    assert len(record_names(book)) == 1
    (record_id,) = record_names(book)
    assert [layer.weather.days for layer in weather_layers(book, record_id)] == [3, 2]


def test_a_file_without_a_station_goes_to_the_record_its_tract_uses(book, save):
    _add(book, save(HEAD, *DAYS, name="2025.csv"), "North")
    done = _add(book, save(HEAD, "2026-07-04,9,20,1", name="2026.csv"), "North")
    assert done.record_name == "2025"


def test_marks_semicolons_and_windows_line_ends(book, save):
    lines = "\r\n".join([HEAD, *DAYS]).replace(",", ";")
    done = _add(book, save(f"\ufeff{lines}\r"), "North")
    assert done.new_days == 3
    assert _weather(book, "North").weather.rain_mm[1] == 12.5


def test_units_named_by_columns_or_stated(book, save):
    _add(book, save("date,tmin_f,tmax_f,rain_in", "2026-07-01,50,77,1"), "North")
    weather = _weather(book, "North").weather
    assert weather.tmax_c[0] == pytest.approx(25.0)
    assert weather.rain_mm[0] == pytest.approx(25.4)
    path = save("date,tmin,tmax,prcp", "2026-07-01,50,77,1", name="bare.csv")
    _add(book, path, "South", units=FileUnits.US)
    assert _weather(book, "South").weather.rain_mm[0] == pytest.approx(25.4)


def test_unknown_columns_are_named(book, save):
    done = _add(book, save(f"{HEAD},mood", f"{DAYS[0]},good"))
    assert any("mood" in note for note in done.notes)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("2026-07-04,25,10,0", "the low 25.0 C is above the high 10.0 C"),
        ("2026-07-04,10,25,-5", "rain_mm"),
        ("2026-07-04,10,25,wet", "rain_mm"),
        ("2026-07-04,10,25,3000", "rain_mm"),
        ("2026-07-04,10,95,0", "tmax_c"),
        ("2026-02-30,10,25,0", "date"),
        ("2026-13-01,10,25,0", "date"),
        ("2026-07-01,10,25,7", "line 2 contradicts this one"),
        ("2026-07-04,10,25,0,surplus", "more cells"),
    ],
)
def test_a_bad_line_refuses_the_file_or_is_left_out(book, save, refuses, line, said):
    path = save(HEAD, *DAYS, line)
    sentence = refuses(BadLines, lambda: _add(book, path))
    assert said in sentence
    assert "line 5" in sentence
    done = _add(book, path, skip_bad_lines=True)
    assert done.new_days == 3
    assert [problem.line for problem in done.rejected] == [5]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (("day_of_use,rain_mm", "2026-07-01,1"), "a date"),
        (("date,mood", "2026-07-01,good"), "rain or temperature"),
        ((HEAD,), "no days"),
        ((HEAD, "2026-07-01,,,"), "no usable rain or temperature"),
        (("date,rain_mm,rain_in", "2026-07-01,1,1"), "same element"),
        (("date,rain_mm", "03/04/2025,1", "04/05/2025,0"), "date"),
    ],
)
def test_files_that_say_too_little(book, save, refuses, lines, said):
    assert said in refuses(BadFile, lambda: _add(book, save(*lines)))


def test_a_failure_while_writing_leaves_the_logbook_as_it_was(book, save, refuses, monkeypatch):
    def fail(*_, **__):
        raise RuntimeError("the disk is gone")

    monkeypatch.setattr("store.logbook.weather_rows.timedelta", fail)
    refuses(RuntimeError, lambda: _add(book, save(HEAD, *DAYS)))


def test_reading_first_and_keeping_later_is_the_same(book, save):
    path = save(HEAD, *DAYS)
    before = list(book.db.conn.iterdump())
    file = read_weather(path, options=ReadOptions())
    assert list(book.db.conn.iterdump()) == before
    assert keep_weather(book, file, "North").new_days == 3
