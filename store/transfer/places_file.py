"""Where stations are, from a GPX 1.1 file or GeoJSON (RFC 7946).

A point belongs to the station of its name, written `tract/station` where the name alone is
not enough. Points of other names are passed over.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from store.csv_text import read_text
from store.errors import BadFile, BadLines, NotFound, Problem
from store.logbook.places import Places
from store.records import Draft
from store.transfer.sheets import Imported
from store.typed import number_from

SHOWN_NAMES = 5
SHOWN_CHARACTERS = 40
SAME_DEGREES = 5e-7
"""Points this close are one: a GPS tells a few metres, some 3e-5 degrees."""


@dataclass(frozen=True)
class Point:
    """A named point; `number` is its place in the file, counted from 1."""

    number: int
    name: str
    latitude_deg: float
    longitude_deg: float


def read_places(path: Path, places: Places, today: date) -> Imported:
    """Read points into new facts of the stations they name.

    Raises:
        BadFile: the file cannot be read, or is neither GPX nor GeoJSON.
        BadLines: a point has no place on earth, or a station's name stands twice at
            different places or fits several stations.
    """
    problems: list[Problem] = []
    points = [point for point in _points(path, problems) if point is not None]
    placed: dict[str, Point] = {}
    strangers: list[str] = []
    for point in points:
        try:
            station = places.find_station(point.name)
        except NotFound as error:
            if "several" in str(error):
                problems.append(Problem(point.number, "name", str(error).rstrip(".")))
            else:
                strangers.append(point.name)
            continue
        before = placed.setdefault(station.station_id, point)
        if not _same(before, point.latitude_deg, point.longitude_deg):
            problems.append(
                Problem(
                    point.number,
                    "name",
                    f"{point.name} is point {before.number} already, at another place; keep one",
                )
            )
    if problems:
        raise BadLines(path, problems)
    drafts, known = [], 0
    for station_id, point in placed.items():
        facts = places.stations[station_id]
        if _same(point, facts.latitude_deg, facts.longitude_deg):
            known += 1
            continue
        moved = replace(facts, latitude_deg=point.latitude_deg, longitude_deg=point.longitude_deg)
        drafts.append(Draft(today, moved, revises=places.station_entries[station_id]))
    return Imported(tuple(drafts), known, _told(path, strangers))


def _same(point: Point, latitude_deg: float | None, longitude_deg: float | None) -> bool:
    return (
        latitude_deg is not None
        and longitude_deg is not None
        and abs(point.latitude_deg - latitude_deg) < SAME_DEGREES
        and abs(point.longitude_deg - longitude_deg) < SAME_DEGREES
    )


def _told(path: Path, strangers: list[str]) -> tuple[str, ...]:
    if not strangers:
        return ()
    names = list(dict.fromkeys(strangers))
    more = f" and {len(names) - SHOWN_NAMES} more" if len(names) > SHOWN_NAMES else ""
    named = ", ".join(name or "one without a name" for name in names[:SHOWN_NAMES])
    return (f"{path.name}: passed over points that name no station: {named}{more}.",)


def _points(path: Path, problems: list[Problem]) -> Iterator[Point | None]:
    text = read_text(path)
    if text.lstrip().startswith("<"):
        return _gpx_points(path, text, problems)
    if text.lstrip().startswith("{"):
        return _geojson_points(path, text, problems)
    raise BadFile(f"{path.name} is neither GPX nor GeoJSON; save the places as one of them.")


def _gpx_points(path: Path, text: str, problems: list[Problem]) -> Iterator[Point | None]:
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise BadFile(f"{path.name} declares a document type, which no GPX file does.")
    try:
        root = ElementTree.fromstring(text.lstrip())
    except ElementTree.ParseError as error:
        raise BadFile(f"{path.name} is no well-formed XML: {error}.") from error
    if _local(root) != "gpx":
        raise BadFile(f"{path.name} is XML, but not GPX: it begins with {_local(root)}.")
    waypoints = (element for element in root if _local(element) == "wpt")
    for number, element in enumerate(waypoints, 1):
        names = (child.text or "" for child in element if _local(child) == "name")
        name = next(names, "").strip()
        yield _point(number, name, element.get("lat"), element.get("lon"), problems)


def _geojson_points(path: Path, text: str, problems: list[Problem]) -> Iterator[Point | None]:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise BadFile(f"{path.name} is no GeoJSON: {error}.") from error
    if not isinstance(told, dict) or told.get("type") not in ("FeatureCollection", "Feature"):
        raise BadFile(f"{path.name} holds no FeatureCollection, so it is no GeoJSON of places.")
    features = told.get("features") if told["type"] == "FeatureCollection" else [told]
    for number, feature in enumerate(features if isinstance(features, list) else [], 1):
        geometry, own = _member(feature, "geometry"), _member(feature, "properties")
        if _member(geometry, "type") != "Point":
            continue
        name = _member(own, "name")
        coordinates = _member(geometry, "coordinates")
        at = coordinates if isinstance(coordinates, list) else []
        longitude, latitude = [*at, None, None][:2]
        yield _point(number, name if isinstance(name, str) else "", latitude, longitude, problems)


def _member(told: Any, name: str) -> Any:
    return told.get(name) if isinstance(told, dict) else None


def _local(element: ElementTree.Element) -> str:
    """The name of an element without its namespace: GPX 1.0 and 1.1 differ in it alone."""
    return element.tag.rpartition("}")[2]


def _point(
    number: int, name: str, latitude: object, longitude: object, problems: list[Problem]
) -> Point | None:
    """A point within the limits of the earth; None with the problem noted."""
    degrees = [
        _degrees(number, field, told, most, problems)
        for field, told, most in (("latitude", latitude, 90.0), ("longitude", longitude, 180.0))
    ]
    lat, lon = degrees
    return None if lat is None or lon is None else Point(number, name, lat, lon)


def _degrees(
    number: int, field: str, told: object, most: float, problems: list[Problem]
) -> float | None:
    try:
        value = float(told) if isinstance(told, int | float) else number_from(str(told or ""))
    except (ValueError, OverflowError):
        value = math.nan
    if abs(value) <= most:
        return value
    shown = str(told)[:SHOWN_CHARACTERS]
    problems.append(Problem(number, field, f"{shown!r} is not a number from -{most:g} to {most:g}"))
    return None
