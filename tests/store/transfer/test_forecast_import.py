"""Forecast files into the logbook: a record of their own, never one of measured weather."""

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from store.errors import BadLines, NotFound, Refused
from store.logbook.entries import live_entries
from store.logbook.journal import undo
from store.logbook.places import places
from store.logbook.weather_records import record_names
from store.model.snapshot import load
from store.records import TractFacts
from store.transfer.forecast import import_forecast, keep_forecast
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions
from store.weather.readers.recognise import read_weather
from tests.new_logbook import new_logbook

HEAD = "date,tmin_c,tmax_c,rain_mm"
PAST = ("2026-09-30,10,25,0", "2026-10-01,11,26,12.5")
AHEAD = ("2026-10-02,8,15,20", "2026-10-03,7,14,5")


@pytest.fixture
def forecast(book, save):
    def forecast(*lines, tract=None, head=HEAD, name="ahead.csv", **options):
        path = save(head, *lines, name=name)
        return import_forecast(book, path, ReadOptions(**options), tract)

    return forecast


@pytest.fixture(autouse=True)
def _measured(book, save):
    import_weather(book, save(HEAD, *PAST, name="ridge.csv"), ReadOptions())


def _weather(book, tract):
    return load(book).weather[places(book).find_tract(tract).tract_id]


def _record_ids(book):
    return {t.name: t.forecast_record_id for t in places(book).tracts.values()}


def test_one_tract_gets_a_record_of_its_own(book, forecast):
    done = forecast(*AHEAD, tract="north")
    assert done.counted == "Forecast for North: 2 new days, 0 known already"
    assert done.tracts == ("North",)
    weather = _weather(book, "North")
    assert weather.record_name == "ridge"
    assert weather.weather.last_day == date(2026, 10, 1)
    np.testing.assert_array_equal(weather.forecast.rain_mm, [20.0, 5.0])
    assert _weather(book, "South").forecast is None


def test_without_a_tract_named_all_use_it(book, forecast):
    done = forecast(*AHEAD)
    assert done.record_name == "forecast for all tracts"
    assert done.tracts == ("North", "South")
    assert _weather(book, "South").forecast.days == 2
    assert len(set(_record_ids(book).values())) == 1


def test_a_newer_file_replaces_the_days_of_the_older(book, forecast):
    forecast(*AHEAD, tract="North")
    record_id = _record_ids(book)["North"]
    done = forecast("2026-10-03,7,14,0", "2026-10-04,6,13,2", tract="North", name="newer.csv")
    assert (done.new_days, done.known_days) == (2, 0)
    assert _record_ids(book)["North"] == record_id
    np.testing.assert_array_equal(_weather(book, "North").forecast.rain_mm, [20.0, 0.0, 2.0])


def test_a_forecast_for_one_tract_leaves_that_of_the_others(book, forecast):
    forecast(*AHEAD)
    forecast("2026-10-02,8,15,99", tract="South")
    assert _weather(book, "North").forecast.rain_mm[0] == 20.0
    np.testing.assert_array_equal(_weather(book, "South").forecast.rain_mm, [99.0])
    forecast("2026-10-02,8,15,1")
    assert {_weather(book, name).forecast.rain_mm[0] for name in ("North", "South")} == {1.0}


def test_the_same_file_again_changes_nothing(book, forecast):
    forecast(*AHEAD)
    before = list(book.db.conn.iterdump())
    done = forecast(*AHEAD)
    assert (done.new_days, done.known_days) == (0, 2)
    assert list(book.db.conn.iterdump()) == before


def test_one_undo_takes_back_the_days_and_the_facts(book, forecast):
    forecast(*AHEAD)
    undo(book)
    assert set(_record_ids(book).values()) == {None}
    assert len(record_names(book)) == 1


def test_units_are_stated_as_for_weather(book, forecast):
    forecast("2026-10-02,50,77,1", head="date,tmin_f,tmax_f,rain_in", tract="North")
    assert _weather(book, "North").forecast.rain_mm[0] == pytest.approx(25.4)


def test_a_forecast_of_the_past_is_kept_and_told_of(forecast):
    (note,) = forecast(*PAST, tract="North").notes
    assert "ends on 2026-10-01, so no outlook from 2026-10-01 on uses it" in note


def test_what_is_refused(save, refuses, forecast, tmp_path):
    assert "did you mean North" in refuses(NotFound, lambda: forecast(*AHEAD, tract="Nroth"))
    assert "line 2" in refuses(BadLines, lambda: forecast("2026-10-02,15,8,0"))
    empty = new_logbook(tmp_path / "empty.db")
    path = save(HEAD, *AHEAD)
    with pytest.raises(Refused, match="no tract to forecast for"):
        keep_forecast(empty, read_weather(path))
    empty.close()


def test_days_to_come_are_no_measured_weather(book, save, refuses):
    """The logbook is worked on as of 1 October, and that is the real day."""
    real = replace(book, clock=lambda: datetime(2026, 10, 1, 12, tzinfo=UTC))
    path = save(HEAD, *PAST, *AHEAD)
    said = refuses(Refused, lambda: import_weather(real, path, ReadOptions()))
    assert "reaches to 2026-10-03, but today is 2026-10-01" in said
    assert "the kind forecast" in said
    assert import_weather(real, save(HEAD, *PAST), ReadOptions()).new_days == 2


def test_a_logbook_as_of_a_past_day_takes_what_was_measured_since(book, save):
    real = replace(book, clock=lambda: datetime(2026, 10, 5, 12, tzinfo=UTC))
    assert import_weather(real, save(HEAD, *PAST, *AHEAD), ReadOptions()).new_days == 4


def test_weather_never_goes_into_a_record_of_forecasts(book, save, refuses, forecast):
    forecast(*AHEAD, tract="North")
    path = save(HEAD, *PAST, name="Forecast for North.csv")
    said = refuses(Refused, lambda: import_weather(book, path, ReadOptions()))
    assert "named like a forecast" in said


def test_a_tract_keeps_its_other_facts(book, forecast):
    before = {t.name: t for t in places(book).tracts.values()}
    forecast(*AHEAD)
    for entry in live_entries(book, (TractFacts,)):
        old = before[entry.fact.name]
        assert entry.fact == replace(old, forecast_record_id=entry.fact.forecast_record_id)
