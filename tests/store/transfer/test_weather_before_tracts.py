"""Weather that comes before the first tract is kept for it."""

from dataclasses import replace
from datetime import date

import pytest

from store.logbook.journal import undo, write
from store.logbook.places import places
from store.logbook.waiting_weather import using_waiting_weather
from store.model.snapshot import load
from store.records import Draft, TractFacts
from store.transfer.forecast import import_forecast
from store.transfer.importing import SheetKind, import_sheet
from store.transfer.weather import import_weather
from store.weather.files import ReadOptions
from tests.new_logbook import new_logbook

TODAY = date(2026, 10, 1)
DAYS = ("date,tmin_c,tmax_c,rain_mm", "2026-07-01,10,25,0", "2026-07-02,11,26,12.5")
STATIONS = (
    "tract,station,shape,length_in,width_in,depth_in,apron_area_ft2",
    "North,Oak,rectangular,48,36,30,150",
)


@pytest.fixture
def empty(tmp_path):
    logbook = new_logbook(tmp_path / "book.db")
    logbook.fixed_today = TODAY
    yield logbook
    logbook.close()


def add_tract(book, name, **facts):
    tract = TractFacts(book.new_id(), name, **facts)
    write(book, f"{name} added", using_waiting_weather(book, [Draft(TODAY, tract)]))
    return tract.tract_id


def test_the_first_tract_uses_it_and_later_ones_do_not(empty, save):
    done = import_weather(empty, save(*DAYS, name="ridge.csv"), ReadOptions(), latitude_deg=42.5)
    assert (done.tracts, done.users) == ((), "the first tract that you add")
    north, south = add_tract(empty, "North"), add_tract(empty, "South")
    snapshot = load(empty)
    assert snapshot.weather[north].record_name == "ridge"
    assert snapshot.latitudes[north] == 42.5
    assert south not in snapshot.weather
    undo(empty)
    undo(empty)
    assert add_tract(empty, "West") in load(empty).weather, "after an undo it waits again"


def test_stations_from_a_file_use_it(empty, save):
    import_weather(empty, save(*DAYS, name="ridge.csv"), ReadOptions())
    import_sheet(empty, SheetKind.STATIONS, save(*STATIONS), latitude_deg=42.0)
    (tract_id,) = places(empty).tracts
    assert load(empty).weather[tract_id].record_name == "ridge"


def test_of_several_none_is_guessed(empty, save):
    import_weather(empty, save(*DAYS, name="a.csv"), ReadOptions())
    assert import_weather(empty, save(*DAYS, name="a.csv"), ReadOptions()).waits, "known already"
    done = import_weather(empty, save(*DAYS, name="b.csv"), ReadOptions())
    assert not done.waits
    assert "other weather waits too" in done.users
    assert add_tract(empty, "North") not in load(empty).weather


def test_a_tract_that_is_changed_or_has_its_own_is_left_alone(empty, save):
    tract_id = add_tract(empty, "North")
    tract = places(empty).tracts[tract_id]
    write(empty, "Changed", using_waiting_weather(empty, [
        Draft(TODAY, replace(tract, elevation_m=300.0), places(empty).tract_entries[tract_id])
    ]))  # fmt: skip
    assert places(empty).tracts[tract_id].weather_record_id is None
    done = import_weather(empty, save(*DAYS, name="ridge.csv"), ReadOptions())
    assert done.users == "North"
    ahead = "date,tmin_c,tmax_c,rain_mm", "2026-10-02,10,25,0"
    import_forecast(empty, save(*ahead, name="ahead.csv"), ReadOptions())
    assert add_tract(empty, "South") not in load(empty).weather
