"""The weather of a site is worked out once, and again only when something in it changes."""

from dataclasses import replace
from datetime import date

import numpy as np

from store.model import site_weather as module
from store.model.site_weather import site_weather
from store.model.working_out import board_of
from store.vocabulary import DrinkingSeason
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


def test_the_law_of_drinking_is_the_tracts(snapshot):
    (weather, *_) = snapshot.weather.values()
    green = site_weather(weather, 40.7)
    dry = site_weather(replace(weather, drinking=DrinkingSeason.DRY_SUMMER), 40.7)
    assert green is not dry
    july = date(2015, 7, 1), date(2015, 7, 31)
    wanted = [site.forcing(*july).demand_l.mean() for site in (green, dry)]
    assert wanted[1] > 5.0 * wanted[0]
