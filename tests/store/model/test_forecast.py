"""A forecast changes the days to come and nothing that was."""

import shutil
from datetime import date, timedelta

import numpy as np
import pytest

from store.logbook.opening import logbook_at
from store.model.site_weather import coming_members
from store.model.snapshot import load
from store.model.working_out import board_of
from store.reports.outlook import outlook_rows
from store.transfer.forecast import import_forecast
from store.weather.files import ReadOptions

TODAY = date(2015, 10, 12)
TOMORROW = TODAY + timedelta(days=1)
LINES = (
    "date,tmin_c,tmax_c,rain_mm",
    "2015-10-10,1,9,500",
    "2015-10-12,1,9,500",
    "2015-10-13,5,12,0",
    "2015-10-14,6,13,40",
    "2015-10-15,,14,",
)


@pytest.fixture(scope="module")
def forecast_path(book_path, tmp_path_factory):
    """The book of the real record, with a forecast for the tract North alone."""
    folder = tmp_path_factory.mktemp("forecast")
    path = shutil.copy(book_path, folder / "book.db")
    file = folder / "ahead.csv"
    file.write_text("\n".join(LINES))
    with logbook_at(path, TODAY) as logbook:
        import_forecast(logbook, file, ReadOptions(), "North")
    return path


def _on(path, today):
    with logbook_at(path, today) as logbook:
        return load(logbook)


@pytest.fixture(scope="module")
def expecting(forecast_path):
    return _on(forecast_path, TODAY)


def _weather(snapshot, tract):
    return snapshot.weather[snapshot.places.find_tract(tract).tract_id]


def test_most_members_follow_the_forecast_on_the_first_days(snapshot, expecting):
    without, _ = coming_members(_weather(snapshot, "North"), TOMORROW, 30)
    courses, basis = coming_members(_weather(expecting, "North"), TOMORROW, 30)
    assert basis.endswith("after the forecast to 2015-10-15")
    follows = courses.tmax_c[:3] == [[12.0], [13.0], [14.0]]
    assert follows.mean(axis=1) == pytest.approx([0.95, 0.855, 0.76], abs=0.03)
    assert (follows[1:] <= follows[:-1]).all(), "who has left it does not come back"
    assert (courses.rain_mm[:2][follows[:2]] == np.repeat([0.0, 40.0], follows.sum(1)[:2])).all()
    np.testing.assert_array_equal(courses.rain_mm[2:], without.rain_mm[2:])
    np.testing.assert_array_equal(courses.rain_mm[0][~follows[0]], without.rain_mm[0][~follows[0]])
    assert np.ptp(without.rain_mm[1]) > 0.0


def test_another_tract_is_left_alone(snapshot, expecting):
    with_it, basis = coming_members(_weather(expecting, "South"), TOMORROW, 10)
    without, _ = coming_members(_weather(snapshot, "South"), TOMORROW, 10)
    np.testing.assert_array_equal(with_it.rain_mm, without.rain_mm)
    assert "forecast" not in basis


def test_levels_up_to_today_do_not_change_but_the_days_ahead_do(snapshot, expecting):
    before, after = board_of(snapshot), board_of(expecting)
    changed = {"North": 0, "South": 0}
    for station_id, levels in before.levels.by_station.items():
        again = after.levels.by_station[station_id]
        for name in ("volume_l", "low_l", "high_l"):
            np.testing.assert_array_equal(getattr(levels, name), getattr(again, name))
        ahead = before.ahead[station_id].volume_l[:2], after.ahead[station_id].volume_l[:2]
        tract = snapshot.places.tract_of(levels.station.facts).name
        changed[tract] += not np.array_equal(*ahead)
    assert changed == {"North": 3, "South": 0}


def test_once_its_days_are_past_a_forecast_is_out_of_use(book_path, forecast_path):
    """On 16 October what was forecast for the 14th is no weather of the past either."""
    later = date(2015, 10, 16)
    plain, stale = _on(book_path, later), _on(forecast_path, later)
    weather = _weather(stale, "North")
    np.testing.assert_array_equal(weather.weather.rain_mm, _weather(plain, "North").weather.rain_mm)
    courses, basis = coming_members(weather, later + timedelta(days=1), 5)
    assert "forecast" not in basis
    assert courses.rain_mm.max() < 500.0


def test_the_outlook_says_that_it_follows_the_forecast(expecting):
    notes = outlook_rows(expecting, date(2015, 10, 20), {}).notes
    assert any("after the forecast to 2015-10-15" in note for note in notes)
