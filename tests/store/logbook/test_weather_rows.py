"""Weather as layers of days under the imports that brought them."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from store.errors import Refused
from store.logbook.journal import redo, undo
from store.logbook.weather_records import record_names
from store.logbook.weather_rows import store_weather, weather_layers
from store.records import WeatherImport
from store.weather.days import empty_weather
from store.weather.elements import FIELDS

DAY = date(2026, 2, 27)


def _weather(**values):
    weather = empty_weather(DAY, len(next(iter(values.values()))))
    for name, column in values.items():
        getattr(weather, name)[:] = column
    return weather


def _import(book, record_id, name="ridge"):
    return WeatherImport(book.new_id(), record_id, name, "ridge.csv (plain CSV)")


def test_days_come_back_as_they_went_in(empty):
    record_id = empty.new_id()
    weather = _weather(rain_mm=[0.0, np.nan, 0.1 + 0.2, 7.0], tmin_c=[-1.5, np.nan, 0.0, np.nan])
    store_weather(empty, _import(empty, record_id), weather)
    (layer,) = weather_layers(empty, record_id)
    assert layer.weather.first_day == DAY
    for name in FIELDS:
        np.testing.assert_array_equal(getattr(layer.weather, name), getattr(weather, name))


def test_days_of_which_nothing_is_known_are_not_stored(empty):
    record_id = empty.new_id()
    store_weather(empty, _import(empty, record_id), _weather(rain_mm=[np.nan, 1.0, np.nan]))
    (layer,) = weather_layers(empty, record_id)
    assert (layer.weather.first_day, layer.weather.days) == (date(2026, 2, 28), 1)


def test_layers_are_oldest_first_and_by_record(empty):
    first, second = empty.new_id(), empty.new_id()
    for record_id, rain in ((first, 1.0), (second, 5.0), (first, 2.0)):
        store_weather(empty, _import(empty, record_id), _weather(rain_mm=[rain]))
    rains = [layer.weather.rain_mm[0] for layer in weather_layers(empty, first)]
    assert rains == [1.0, 2.0]
    assert set(record_names(empty)) == {first, second}


def test_the_newest_name_of_a_record_counts(empty):
    record_id = empty.new_id()
    for name in ("old", "new"):
        store_weather(empty, _import(empty, record_id, name), _weather(rain_mm=[1.0]))
    assert record_names(empty) == {record_id: "new"}


def test_undo_takes_a_layer_away_and_redo_brings_its_days_back(empty):
    record_id = empty.new_id()
    store_weather(empty, _import(empty, record_id), _weather(rain_mm=[1.0, 2.0]))
    undo(empty)
    assert weather_layers(empty, record_id) == []
    assert record_names(empty) == {}
    redo(empty)
    (layer,) = weather_layers(empty, record_id)
    np.testing.assert_array_equal(layer.weather.rain_mm, [1.0, 2.0])


@pytest.mark.parametrize(
    "values",
    [
        {"rain_mm": [-1.0]},
        {"rain_mm": [1.0, 2500.0]},
        {"tmin_c": [10.0], "tmax_c": [5.0]},
        {"humidity_pct": [101.0]},
    ],
)
def test_impossible_weather_is_refused_whole(empty, values):
    """The readers refuse these first; the tables are the last line of defence."""
    before = list(empty.db.conn.iterdump())
    with pytest.raises(Refused):
        store_weather(empty, _import(empty, empty.new_id()), _weather(**values))
    assert list(empty.db.conn.iterdump()) == before


def test_an_import_id_is_used_once(empty):
    what = _import(empty, empty.new_id())
    store_weather(empty, what, _weather(rain_mm=[1.0]))
    before = list(empty.db.conn.iterdump())
    with pytest.raises(Refused):
        store_weather(empty, replace(what, record_name="other"), _weather(rain_mm=[1.0]))
    assert list(empty.db.conn.iterdump()) == before
