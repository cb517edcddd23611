"""The weather stations near a tract as rows, and where a tract is."""

from __future__ import annotations

from pathlib import Path
from statistics import fmean

from store.errors import BadValue
from store.fetching.station_list import NearStation, stations_near
from store.haul.distance import Place
from store.logbook.places import Places
from store.records import TractFacts
from store.reports.report import Column, Measure, Report, Row

COLUMNS = (
    Column("station"),
    Column("name"),
    Column("miles", "", Measure.DISTANCE, "kilometres", digits=1, printed=1),
    Column("way"),
    Column("feet", "high", Measure.HEIGHT, "metres", digits=0, printed=0),
    Column("first_year", "from"),
    Column("last_year", "to"),
)


def place_of_tract(known: Places, tract: TractFacts) -> Place:
    """Where a tract is: its own coordinates, else the middle of its stations'.

    Raises:
        BadValue: neither is known.
    """
    if tract.latitude_deg is not None and tract.longitude_deg is not None:
        return Place(tract.latitude_deg, tract.longitude_deg)
    coordinates = [
        (one.latitude_deg, one.longitude_deg)
        for one in known.stations.values()
        if one.tract_id == tract.tract_id
        and one.latitude_deg is not None
        and one.longitude_deg is not None
    ]
    if not coordinates:
        raise BadValue(
            f"Nobody has said where {tract.name} is; give the latitude and longitude of one of "
            "its stations, or of a place there."
        )
    return Place(fmean(one[0] for one in coordinates), fmean(one[1] for one in coordinates))


def near_rows(stations: Path, inventory: Path, place: Place, count: int, since: int) -> Report:
    """The nearest weather stations, with the years of their record.

    Raises:
        BadFile: as `stations_near`.
    """
    near = stations_near(stations, inventory, place, count, since)
    notes = (
        "The years are those with rain, highs and lows; single days may be missing in them. A "
        "station at another height has other weather, however near it is.",
    )
    return Report(COLUMNS, tuple(_row(one) for one in near), notes)


def _row(one: NearStation) -> Row:
    return (
        one.station_id,
        one.name,
        one.distance_km,
        one.way,
        one.elevation_m,
        one.first_year,
        one.last_year,
    )
