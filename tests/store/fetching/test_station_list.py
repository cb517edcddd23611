"""Stations near a place, from lists laid out as the GHCN-Daily readme says."""

import pytest

from store.errors import BadFile
from store.fetching.station_list import compass_point, stations_near
from store.haul.distance import Place

STATIONS = """\
XX000000001  40.0000  -75.0000  120.5 PA MADE UP RIDGE                  GSN     12345
XX000000002  40.1000  -75.0000 -999.9    MADE UP FLAT
XX000000003  40.0100  -75.0000   90.0 PA MADE UP RAIN ONLY
XX000000004  40.0200  -75.0000   90.0 PA MADE UP ENDED
XX000000005  40.3000  -74.9000  200.0 NJ MADE UP FAR, WITH A LONG NAME
"""
"""Columns as in section IV of the readme; the stations are made up."""


def inventory(*rows):
    return "".join(
        f"{station}  40.{minute}000  -75.0000 {element} {first} {last}\n"
        for station, minute, element, first, last in rows
    )


def all_three(station, minute, first, last):
    return [(station, minute, element, first, last) for element in ("PRCP", "TMAX", "TMIN")]


INVENTORY = inventory(
    *all_three("XX000000001", "0", 1900, 2025)[:2],
    ("XX000000001", "0", "TMIN", 1950, 2026),
    ("XX000000001", "0", "SNOW", 1850, 2026),
    *all_three("XX000000002", "1", 1980, 2026),
    ("XX000000003", "0", "PRCP", 1990, 2026),
    *all_three("XX000000004", "0", 1930, 1970),
    *all_three("XX000000005", "3", 2000, 2026),
)
HERE = Place(40.05, -75.0)


@pytest.fixture
def lists(tmp_path):
    stations, years = tmp_path / "stations.txt", tmp_path / "inventory.txt"
    stations.write_text(STATIONS)
    years.write_text(INVENTORY)
    return stations, years


def test_the_nearest_with_all_that_is_needed(lists):
    first, second = stations_near(*lists, HERE, 2, since=2025)
    assert (first.station_id, first.name) == ("XX000000001", "MADE UP RIDGE, PA")
    assert (first.first_year, first.last_year) == (1950, 2025), "the years all three cover"
    assert (first.elevation_m, second.elevation_m) == (120.5, None)
    assert (first.way, second.way) == ("S", "N")
    # a twentieth of a degree of the meridian on a sphere of radius R1 is 5.5597 km
    assert first.distance_km == pytest.approx(5.5597, abs=0.001)
    assert second.name == "MADE UP FLAT"


def test_those_that_ended_come_in_when_asked_for(lists):
    near = stations_near(*lists, HERE, 10, since=1900)
    assert [one.station_id[-1] for one in near] == ["1", "4", "2", "5"]
    assert stations_near(*lists, HERE, 10, since=2030) == []


def test_what_is_no_inventory_is_told(lists):
    stations, years = lists
    for content in ("<html>sign in</html>\n" * 20, STATIONS, "", INVENTORY.replace("19", "x9")):
        years.write_text(content)
        with pytest.raises(BadFile, match="no inventory"):
            stations_near(stations, years, HERE, 5, since=1900)


@pytest.mark.parametrize(
    ("there", "point"),
    [((41, -75), "N"), ((41, -74), "NE"), ((40, -74), "E"), ((39, -76), "SW"), ((40, -76), "W"),
     ((41, -76), "NW"), ((39, -75), "S"), ((39, -74), "SE")],
)  # fmt: skip
def test_the_way(there, point):
    assert compass_point(Place(40, -75), Place(*there)) == point


def test_the_way_over_the_date_line():
    assert compass_point(Place(0, 179.9), Place(0, -179.9)) == "E"
