"""The weather of a site is worked out once, and again only when something in it changes."""

from datetime import date

import numpy as np

from store.model import site_weather as module
from store.model.board import board_of
from store.model.site_weather import site_weather
from tests.store.conftest import TODAY, snapshot_on


def counted(monkeypatch, name):
    calls = []
    real = getattr(module, name)

    def count(*arguments, **more):
        calls.append(arguments)
        return real(*arguments, **more)

    monkeypatch.setattr(module, name, count)
    return calls


def test_a_second_board_asks_for_no_weather_again(book_path, monkeypatch):
    before = board_of(snapshot_on(book_path, TODAY))
    fills, forcings = (
        counted(monkeypatch, "fill_gaps"),
        counted(monkeypatch, "forcing_from_weather"),
    )
    again = board_of(snapshot_on(book_path, TODAY))
    assert not fills
    assert not forcings
    for one, other in zip(before.ahead.values(), again.ahead.values(), strict=True):
        assert np.array_equal(one.volume_l, other.volume_l)


def test_another_day_of_rain_makes_another_site(book_path):
    one, later = (snapshot_on(book_path, day) for day in (date(2015, 10, 10), TODAY))
    record, longer = (next(iter(snapshot.weather.values())) for snapshot in (one, later))
    kept = site_weather(record, 40.7)
    assert kept is site_weather(record, 40.7)
    assert kept is not site_weather(longer, 40.7)
    assert kept is not site_weather(record, 40.8)
