"""The file of a station and the lists of all, fetched from a server on this machine."""

import gzip
import os
from pathlib import Path

import pytest

from store.errors import BadFile, BadValue
from store.fetching.archive import (
    INVENTORY_LIST,
    LISTS_ADDRESS,
    STATION_ADDRESS,
    STATIONS_LIST,
    fetch_lists,
    fetch_station,
    station_id_from,
)
from store.weather.readers.recognise import read_weather
from tests.store.fetching.server import serving, status, whole

SAMPLES = Path(__file__).parents[1] / "weather" / "readers" / "samples"


@pytest.fixture
def server():
    with serving() as one:
        yield one


@pytest.mark.parametrize("sample", ["archive_wide.csv", "archive_long.csv"])
@pytest.mark.parametrize("packed", [False, True])
def test_the_file_of_a_station_is_what_the_readers_read(server, tmp_path, sample, packed):
    content = (SAMPLES / sample).read_bytes()
    address = server.address + "/by_station/{station}.csv"
    server.at("/by_station/XX000000001.csv", whole(gzip.compress(content) if packed else content))
    *_, file = fetch_station("XX000000001", tmp_path, address)
    assert file.name == "XX000000001.csv"
    fetched, known = read_weather(file), read_weather(SAMPLES / sample)
    assert fetched.weather.rain_mm.tolist() == pytest.approx(known.weather.rain_mm, nan_ok=True)
    assert fetched.station_id == "XX000000001"


def test_lists_are_kept_for_a_month(server, tmp_path):
    for name in (STATIONS_LIST, INVENTORY_LIST):
        server.at(f"/daily/{name}", whole(name.encode()))
    for _ in range(2):
        *_, (stations, inventory) = fetch_lists(tmp_path, f"{server.address}/daily/")
        assert (stations.read_text(), inventory.read_text()) == (STATIONS_LIST, INVENTORY_LIST)
    assert len(server.asked) == 2, "the second time both were there"
    os.utime(inventory, (0, 0))
    server.at(f"/daily/{INVENTORY_LIST}", whole(b"newer"))
    *_, (_, inventory) = fetch_lists(tmp_path, f"{server.address}/daily")
    assert inventory.read_text() == "newer"
    server.at(f"/daily/{INVENTORY_LIST}", status(404))
    os.utime(inventory, (0, 0))
    with pytest.raises(BadFile, match="404"):
        list(fetch_lists(tmp_path, f"{server.address}/daily"))
    assert len(list(tmp_path.iterdir())) == 2, "nothing half fetched is left"


@pytest.mark.parametrize("text", ["", "XX00000001", "../../../etc", "XX0000000011", "1X000000001"])
def test_what_is_no_station_is_told(text):
    with pytest.raises(BadValue, match="no GHCN-Daily station"):
        station_id_from(text)


def test_a_station_is_taken_as_typed():
    assert station_id_from(" usw00094728 ") == "USW00094728"


def test_an_address_needs_a_place_for_the_station(tmp_path):
    with pytest.raises(BadValue, match=r"write it as \{station\}"):
        list(fetch_station("XX000000001", tmp_path, "https://127.0.0.1/file.csv"))


def test_the_addresses_are_those_of_the_public_service():
    assert STATION_ADDRESS.startswith("https://www.ncei.noaa.gov/")
    assert LISTS_ADDRESS.startswith("https://www.ncei.noaa.gov/")
