"""Places out and in again, as GPX and GeoJSON, and what is refused."""

import json
from xml.etree import ElementTree

import pytest

from store.errors import BadFile, BadLines
from store.logbook.places import places
from store.reports.places_file import GPX, geojson_file, gpx_file
from store.transfer.importing import SheetKind, import_sheet

TWO = (("Oak", 42.123456, -74.5), ("South/Spring", -41.0, 170.25))


def gpx(*points):
    waypoints = "".join(
        f'<wpt lat="{lat}" lon="{lon}"><name>{name}</name></wpt>' for name, lat, lon in points
    )
    return f'<?xml version="1.0"?><gpx xmlns="{GPX}" version="1.1" creator="t">{waypoints}</gpx>'


def geojson(*points):
    features = [
        {
            "type": "Feature",
            "geometry": {"type": "Point", "coordinates": [lon, lat]},
            "properties": {"name": name},
        }
        for name, lat, lon in points
    ]
    return json.dumps({"type": "FeatureCollection", "features": features})


def read(book, tmp_path, text):
    path = tmp_path / "places.txt"
    path.write_text(text, encoding="utf-8")
    return import_sheet(book, SheetKind.PLACES, path)


def placed(book):
    known = places(book)
    return {
        known.label(facts): (facts.latitude_deg, facts.longitude_deg)
        for facts in known.stations.values()
        if facts.latitude_deg is not None
    }


@pytest.mark.parametrize("form", [gpx, geojson])
def test_points_find_their_stations_once(book, tmp_path, form):
    found = read(book, tmp_path, form(*TWO))
    assert (found.written, found.known, found.warnings) == (2, 0, ())
    assert placed(book) == {"Oak": (42.123456, -74.5), "South/Spring": (-41.0, 170.25)}
    again = read(book, tmp_path, form(*TWO))
    assert (again.written, again.known) == (0, 2)


@pytest.mark.parametrize("write", [gpx_file, geojson_file])
def test_what_is_written_is_read_back(book, tmp_path, write):
    read(book, tmp_path, gpx(*TWO))
    written = write(places(book))
    assert written.notes == ("Without coordinates and left out: North/Spring.",)
    again = read(book, tmp_path, written.content.decode())
    assert (again.written, again.known) == (0, 2)


def test_gpx_is_what_its_schema_asks_for(book, tmp_path):
    """GPX 1.1 schema: gpx with version and creator; wpt with lat and lon, name before desc."""
    read(book, tmp_path, gpx(*TWO))
    root = ElementTree.fromstring(gpx_file(places(book)).content)
    assert root.tag == f"{{{GPX}}}gpx"
    assert root.get("version") == "1.1"
    assert root.get("creator")
    for waypoint in root:
        assert waypoint.tag == f"{{{GPX}}}wpt"
        assert abs(float(waypoint.attrib["lat"])) <= 90.0
        assert abs(float(waypoint.attrib["lon"])) <= 180.0
        assert [child.tag for child in waypoint] == [f"{{{GPX}}}name", f"{{{GPX}}}desc"]


def test_geojson_has_longitude_first(book, tmp_path):
    """RFC 7946, section 3.1.1."""
    read(book, tmp_path, gpx(*TWO))
    told = json.loads(geojson_file(places(book)).content)
    assert told["type"] == "FeatureCollection"
    at = {one["properties"]["name"]: one["geometry"]["coordinates"] for one in told["features"]}
    assert at["South/Spring"] == [170.25, -41.0]


def test_ten_thousand_other_points_are_passed_over(book, tmp_path):
    many = [(f"stump {number}", 40.0, -70.0) for number in range(10_000)]
    found = read(book, tmp_path, gpx(*many, *TWO))
    assert found.written == 2
    assert "stump 0, stump 1, stump 2, stump 3, stump 4 and 9995 more" in found.warnings[0]


@pytest.mark.parametrize(
    ("text", "error", "sentence"),
    [
        (gpx(("Spring", 42.0, -74.0)), BadLines, "write North/Spring or South/Spring"),
        (gpx(("Oak", 42.0, -74.0), ("oak", 42.1, -74.0)), BadLines, "at another place; keep one"),
        (gpx(("Oak", 92.0, -74.0)), BadLines, "'92.0' is not a number from -90 to 90"),
        (gpx(("Oak", "nan", "inf")), BadLines, "'inf' is not a number from -180 to 180"),
        (geojson(("Oak", 42.0, 1e999)), BadLines, "is not a number from -180 to 180"),
        (geojson(("Oak", None, "x" * 90)), BadLines, "is not a number"),
        (gpx(*TWO)[:-9], BadFile, "no well-formed XML"),
        ("<kml/>", BadFile, "not GPX: it begins with kml"),
        ('<!DOCTYPE gpx [<!ENTITY a "b">]><gpx/>', BadFile, "declares a document type"),
        ("name,lat,lon\n", BadFile, "neither GPX nor GeoJSON"),
        ("{}", BadFile, "no FeatureCollection"),
        ("[" * 9 + "{", BadFile, "neither GPX nor GeoJSON"),
        ('{"a":' + "[" * 100_000, BadFile, "no GeoJSON"),
    ],
)
def test_what_cannot_be_taken_is_a_sentence_and_nothing_is_written(
    book, tmp_path, refuses, text, error, sentence
):
    assert sentence in refuses(error, lambda: read(book, tmp_path, text))
