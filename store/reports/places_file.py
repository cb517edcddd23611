"""Where stations are, as GPX 1.1 waypoints or GeoJSON (RFC 7946).

A station without coordinates of its own is left out, and named in a note.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

from store.logbook.places import Places
from store.records import StationFacts

GPX = "http://www.topografix.com/GPX/1/1"
DECIMALS = 6
"""A tenth of a metre."""


@dataclass(frozen=True)
class PlacesFile:
    content: bytes
    notes: tuple[str, ...]


def gpx_file(places: Places) -> PlacesFile:
    """Every placed station as a waypoint, by tract and name."""
    root = ElementTree.Element("gpx", {"xmlns": GPX, "version": "1.1", "creator": "Brimbook"})
    for station, latitude, longitude in _placed(places):
        at = {"lat": f"{latitude:.{DECIMALS}f}", "lon": f"{longitude:.{DECIMALS}f}"}
        waypoint = ElementTree.SubElement(root, "wpt", at)
        ElementTree.SubElement(waypoint, "name").text = places.label(station)
        ElementTree.SubElement(waypoint, "desc").text = _told(places, station)
    ElementTree.indent(root)
    content = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True)
    return PlacesFile(content + b"\n", _notes(places))


def geojson_file(places: Places) -> PlacesFile:
    """Every placed station as a point: longitude first, as the standard has it."""
    features = [
        {
            "type": "Feature",
            "geometry": {
                "type": "Point",
                "coordinates": [round(longitude, DECIMALS), round(latitude, DECIMALS)],
            },
            "properties": {
                "name": places.label(station),
                "tract": places.tract_of(station).name,
                "access": station.access.value,
            },
        }
        for station, latitude, longitude in _placed(places)
    ]
    told = {"type": "FeatureCollection", "features": features}
    content = json.dumps(told, ensure_ascii=False, indent=1).encode()
    return PlacesFile(content + b"\n", _notes(places))


def _placed(places: Places) -> Iterator[tuple[StationFacts, float, float]]:
    for station in places.stations.values():
        if station.latitude_deg is not None and station.longitude_deg is not None:
            yield station, station.latitude_deg, station.longitude_deg


def _told(places: Places, station: StationFacts) -> str:
    return f"{places.tract_of(station).name}; reached by {station.access.value}"


def _notes(places: Places) -> tuple[str, ...]:
    placed = {station.station_id for station, _, _ in _placed(places)}
    bare = [places.label(s) for key, s in places.stations.items() if key not in placed]
    if not bare:
        return ()
    return (f"Without coordinates and left out: {', '.join(bare)}.",)
