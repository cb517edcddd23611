"""Weather fetched by command, from a server on this machine."""

import json
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
from click.testing import CliRunner

from store.fetching.archive import fetch_station
from store.fetching.download import Patience
from store.logbook.backups import Why, backups_of
from store.logbook.journal import undo
from store.logbook.opening import logbook_at
from store.logbook.places import places
from store.records import Draft, WeatherImport
from tests.store.fetching.server import cut_off, serving, status, whole
from tests.store.fetching.test_station_list import INVENTORY, STATIONS
from tui.cli import main
from tui.commands import fetching

SAMPLE = (Path(__file__).parents[2] / "store/weather/readers/samples/archive_wide.csv").read_bytes()
STATION = "XX000000001"


@pytest.fixture
def server():
    with serving() as one:
        yield one


def run(*args, fails=False):
    result = CliRunner().invoke(main, [str(arg) for arg in args], prog_name="brimbook")
    assert result.exit_code == (1 if fails else 0), result.stderr
    return result


def fetch(book, server, *more, fails=False):
    address = f"{server.address}/{{station}}.csv"
    return run("weather", "fetch", book.path, STATION, "--address", address, *more, fails=fails)


def imports(book):
    return [entry.fact for entry in book.entries(WeatherImport)]


def test_a_station_is_fetched_like_an_import_and_undone_as_a_whole(book, server):
    server.at(f"/{STATION}.csv", whole(SAMPLE))
    before = imports(book)
    assert "used by North" in fetch(book, server, "--tract", "North").stdout
    assert [one.why for one in backups_of(book.path)] == [Why.IMPORT]
    (new,) = (one for one in imports(book) if one not in before)
    assert (new.record_name, new.latitude_deg) == (STATION, 40.5)
    assert "0 new days" in fetch(book, server).stdout, "fetched again it says nothing new"
    with logbook_at(book.path, book.today) as logbook:
        undo(logbook)
        assert places(logbook).find_tract("North").weather_record_id != new.record_id
    assert imports(book) == before


@pytest.mark.parametrize(
    ("answer", "why"),
    [
        (status(404), "answers 404"),
        (whole(SAMPLE.replace(STATION.encode(), b"XX000000009")), f"no station {STATION}"),
        (whole(b"<html>Sign in</html>", Content_Type="text/html"), "no table"),
        (whole(b"<html>Sign in</html>"), f"{STATION}.csv"),
        (whole(SAMPLE.replace(b'"  150"', b'"  950"')), "--skip-bad-lines"),
        (cut_off(SAMPLE, 200), "cut off"),
    ],
)
def test_what_is_not_the_weather_of_the_station_changes_nothing(
    book, server, monkeypatch, answer, why
):
    hasty = partial(fetch_station, patience=Patience(sleep=lambda _seconds: None))
    monkeypatch.setattr(fetching, "fetch_station", hasty)
    server.at(f"/{STATION}.csv", answer)
    before = book.path.read_bytes()
    assert why in fetch(book, server, fails=True).stderr
    assert book.path.read_bytes() == before
    assert backups_of(book.path) == []


def test_a_logbook_that_cannot_be_written_is_told_before_anything_is_fetched(book, server):
    book.path.chmod(0o444)
    assert "make it writable" in fetch(book, server, fails=True).stderr
    assert server.asked == []


def near(book, server, *more, fails=False):
    args = "weather", "near", book.path, "North", "--address", server.address, *more
    return run(*args, fails=fails)


def test_stations_near_a_tract_are_listed(book, server, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    server.at("/ghcnd-stations.txt", whole(STATIONS.encode(), Content_Type="text/plain"))
    server.at("/ghcnd-inventory.txt", whole(INVENTORY.encode(), Content_Type="text/plain"))
    today = "--today", "2026-10-01", "--as", "json"
    assert "with --at" in near(book, server, *today, fails=True).stderr
    with logbook_at(book.path, book.today) as logbook:
        known = places(logbook)
    station = known.find_station("Oak flat")
    placed = replace(station, latitude_deg=40.05, longitude_deg=-75.0)
    book.write(Draft(book.today, placed, revises=known.station_entries[station.station_id]))
    said = near(book, server, *today, "--count", "2")
    rows = json.loads(said.stdout)
    assert rows[0] == {
        "station": "XX000000001", "name": "MADE UP RIDGE, PA", "miles": 3.5, "way": "S",
        "feet": 395, "first_year": 1950, "last_year": 2025,
    }  # fmt: skip
    assert [row["feet"] for row in rows] == [395, None]
    assert "another height" in said.stderr
    at = near(book, server, *today, "--at", "40.3", "-74.9", "--ended")
    assert [row["station"][-1] for row in json.loads(at.stdout)] == ["5", "2", "1", "4"]
    for units, words in (("us", {"mi", "ft"}), ("metric", {"km", "m"})):
        table = near(book, server, *today[:2], "--units", units).stdout.splitlines()
        assert words <= set(" ".join(table[:2]).split())
        assert max(map(len, table)) <= 80
    assert len(server.asked) == 2, "the lists are kept"
