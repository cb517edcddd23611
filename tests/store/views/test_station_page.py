"""A station's page on the real record: series, facts, why there is no level."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.errors import NotFound
from store.model.ensembles import Ensemble
from store.model.snapshot import supposing
from store.model.working_out import board_of
from store.records import Chore, Draft, Reading
from store.views.level_series import dry_ahead, level_series
from store.views.station_page import next_station, station_page
from store.vocabulary import ChoreKind
from tests.store.conftest import TODAY, snapshot_on


def page_of(board, name):
    return station_page(board, board.snapshot.places.find_station(name).station_id)


def test_the_course_runs_from_january_to_the_end_of_heavy_use(board):
    series = page_of(board, "North/Oak").level_series
    assert series.first_day == date(2015, 1, 1)
    assert len(series.below_rim_mm) == (date(2015, 11, 10) - date(2015, 1, 1)).days + 1
    assert series.last_modeled == TODAY


def test_the_course_begins_at_the_install_in_its_year(book_path, known):
    board = board_of(snapshot_on(book_path, date(2014, 8, 1)), known)
    assert page_of(board, "Drum").level_series.first_day == date(2014, 5, 12)


def test_after_the_heavy_use_weeks_the_course_reaches_through_the_next_ones(book_path, known):
    board = board_of(snapshot_on(book_path, date(2014, 12, 1)), known)
    series = page_of(board, "North/Oak").level_series
    days = (date(2015, 11, 10) - series.first_day).days + 1
    assert (series.first_day, len(series.below_rim_mm)) == (date(2014, 1, 1), days)


def test_the_band_holds_the_level_and_widens_ahead(board):
    series = page_of(board, "North/Oak").level_series
    today = (series.last_modeled - series.first_day).days
    past, ahead = slice(None, today + 1), slice(today + 1, None)
    assert (series.lowest_mm[past] - series.highest_mm[past]).max() > 10.0
    assert (series.highest_mm <= series.below_rim_mm + 1e-9).all()
    assert (series.below_rim_mm <= series.lowest_mm + 1e-9).all()
    assert (series.lowest_mm[ahead] - series.highest_mm[ahead]).max() > 10.0


def test_the_course_is_the_modeled_level_and_the_median_of_the_futures(board):
    station_id = board.snapshot.places.find_station("North/Oak").station_id
    series, future = level_series(board, station_id), board.ahead[station_id]
    today = (series.last_modeled - series.first_day).days
    assert series.below_rim_mm[today] == board.levels.by_station[station_id].below_rim_mm[-1]
    tank = future.station.tank
    share = 1.0 - series.below_rim_mm[today + 1] / tank.depth_mm
    assert share == pytest.approx(np.median(future.share[0]), abs=1e-6)  # straight walls


def test_a_level_read_by_eye_is_charted_as_depth(board):
    series = page_of(board, "North/Oak").level_series
    assert [(read.on, read.below_rim_mm) for read in series.readings] == [
        (date(2015, 9, 20), series.depth_mm / 2.0)
    ]


def test_without_an_install_there_is_a_reason_and_no_course(board):
    page = page_of(board, "Later")
    assert page.level_series is None
    assert page.level is None
    assert "no install" in page.no_level
    assert page.installed is None


def test_a_retired_tank_has_its_last_year_and_no_future(snapshot, known):
    station_id = snapshot.places.find_station("Fern").station_id
    retired = Draft(date(2014, 6, 1), Chore(station_id, ChoreKind.RETIRE))
    page = station_page(board_of(supposing(snapshot, station_id, [retired]), known), station_id)
    assert (page.level_series.first_day, page.level_series.last_modeled) == (
        date(2014, 1, 1),
        date(2014, 6, 1),
    )
    assert len(page.level_series.below_rim_mm) == 152
    assert page.level_series.basis == ""
    assert page.retired == date(2014, 6, 1)


def test_filled_days_of_the_weather_are_counted_over_the_modeled_days(book_path, known):
    board = board_of(snapshot_on(book_path, date(2016, 1, 10)), known)
    weather = page_of(board, "Drum").weather
    assert weather.first == date(2014, 5, 12)
    assert weather.filled == 10  # the record ends with 2015
    assert weather.days == (date(2016, 1, 10) - date(2014, 5, 12)).days + 1


def test_the_place_says_whose_latitude_it_is(board):
    place = page_of(board, "Drum").place
    assert (place.latitude_deg, place.longitude_deg) == (40.7, None)
    assert place.whose == "of the tract", "given with the import, it goes to the tract"


def test_ice_is_told_in_the_frost_of_february(board, book_path, known):
    assert not page_of(board, "North/Oak").ice
    assert page_of(board_of(snapshot_on(book_path, date(2015, 2, 20)), known), "North/Oak").ice


def test_stations_follow_one_another_round_and_round(snapshot):
    order = list(snapshot.places.stations)
    assert next_station(snapshot, order[-1], 1) == order[0]
    assert next_station(snapshot, order[0], -1) == order[-1]


def test_a_station_that_is_gone_is_told(board):
    with pytest.raises(NotFound, match="no longer in the logbook"):
        station_page(board, "gone")


def test_dry_ahead_are_the_runs_of_the_median(board):
    future = next(iter(board.ahead.values()))
    share = np.tile([[0.5], [0.0], [0.0], [0.5], [0.0]], (1, 3))
    share[1:3, 2] = 0.5  # one course of three holds water
    dried: Ensemble = replace(future, volume_l=share * future.station.tank.capacity_l)
    first = future.first_day.toordinal()
    assert [(a.toordinal() - first, b.toordinal() - first) for a, b in dry_ahead(dried)] == [
        (1, 2),
        (4, 4),
    ]


def test_without_stations_there_is_no_next_one(snapshot):
    bare = replace(snapshot, places=replace(snapshot.places, stations={}))
    assert next_station(bare, "gone", 1) == "gone"


def test_the_summary_tells_what_the_series_shows(board):
    page = page_of(board, "North/Oak")
    series, summary = page.level_series, page.summary
    past = series.below_rim_mm[: (TODAY - series.first_day).days + 1]
    assert summary.now_mm == past[-1]
    assert (summary.highest.below_rim_mm, summary.lowest.below_rim_mm) == (past.min(), past.max())
    lowest = (summary.lowest.on - series.first_day).days
    assert past[lowest] == past.max()
    levels = board.levels.of(page.facts.station_id)
    assert summary.days_dry == levels.dry[-len(past) :].sum()
    weather = board.snapshot.weather_of(page.facts).weather
    after = (summary.last_rain.on - weather.first_day).days
    today = (TODAY - weather.first_day).days
    assert weather.rain_mm[after] == summary.last_rain.rain_mm > 0.0
    assert not (weather.rain_mm[after + 1 : today + 1] > 0.0).any()


def test_an_earlier_year_is_shown_with_this_one(board):
    station_id = board.snapshot.places.find_station("North/Oak").station_id
    page = station_page(board, station_id, date(2013, 7, 1))
    assert page.level_series.first_day == date(2013, 1, 1)
    assert page.level_series.last_modeled == TODAY
    before = station_page(board, station_id, date(2001, 7, 1)).level_series.first_day
    assert before == board.levels.of(station_id).first_day


def test_a_doubted_reading_is_known_by_its_entry(snapshot, known):
    beech = snapshot.places.find_station("Beech").station_id
    read = ((date(2015, 9, 5), 200.0), (TODAY, 740.0))
    drafts = [Draft(day, Reading(beech, below_rim_mm=below)) for day, below in read]
    page = station_page(board_of(supposing(snapshot, beech, drafts), known), beech)
    (odd,) = [one for one in page.level_series.readings if one.below_rim_mm == 740.0]
    assert list(page.doubts) == [odd.entry_id]
    assert "was expected" in page.doubts[odd.entry_id]


def test_open_water_is_cautioned_of_until_it_is_covered(snapshot, board, known):
    assert [one.subject for one in page_of(board, "Beech").cautions] == ["Open water"]
    assert page_of(board, "Later").cautions == ()
    beech = snapshot.places.find_station("Beech").station_id
    covered = supposing(snapshot, beech, [Draft(TODAY, Chore(beech, ChoreKind.COVER))])
    assert page_of(board_of(covered, known), "Beech").cautions == ()
