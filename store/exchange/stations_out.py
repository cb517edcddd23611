"""Stations in the columns of the file that can be imported, to be imported again unchanged."""

from __future__ import annotations

from collections.abc import Iterable

from store.exchange.exact import ft2_or_m2, gallons_or_litres, inches_or_mm
from store.exchange.filled_columns import filled
from store.logbook.places import Places
from store.records import Entry, StationFacts
from store.reports.report import Cell, Report
from store.service import Service, services

LENGTHS = (
    *("length", "width", "diameter", "depth"),
    *("bottom_length", "bottom_width", "bottom_diameter"),
)
COLUMNS = (
    *("tract", "station", "shape"),
    *(f"{stem}_{unit}" for stem in LENGTHS for unit in ("in", "mm")),
    *("depth_volume_in_gal", "depth_volume_mm_l", "rim_above_ground_in", "rim_above_ground_mm"),
    *("apron_area_ft2", "apron_area_m2", "apron_surface", "exposure", "access", "expected_use"),
    *("latitude", "longitude", "installed", "bear_country", "directions"),
)


def station_rows(places: Places, live: Iterable[Entry]) -> Report:
    """Every station that holds, by tract and name."""
    in_service = services(live)
    rows = tuple(
        _row(places, station, in_service.get(station.station_id, Service()))
        for station in places.stations.values()
    )
    return filled(COLUMNS, rows)


def _row(places: Places, station: StationFacts, service: Service) -> tuple[Cell, ...]:
    tank = station.tank
    lengths = [twin for stem in LENGTHS for twin in inches_or_mm(getattr(tank, f"{stem}_mm"))]
    return (
        places.tract_of(station).name,
        station.name,
        tank.shape.value,
        *lengths,
        *_table(tank.depth_volume),
        *inches_or_mm(station.rim_above_ground_mm),
        *ft2_or_m2(station.apron_area_m2),
        station.apron_surface.value,
        station.exposure.value,
        station.access.value,
        station.expected_use.value,
        station.latitude_deg,
        station.longitude_deg,
        service.installed,
        "yes" if station.bear_country else "no",
        station.directions,
    )


def _table(pairs: tuple[tuple[float, float], ...]) -> tuple[str | None, str | None]:
    """A measured table in inches and gallons, or where those do not tell it exactly as stored."""
    shown = [(inches_or_mm(depth)[0], gallons_or_litres(volume)[0]) for depth, volume in pairs]
    if not pairs:
        return None, None
    if any(None in pair for pair in shown):
        return None, _written(pairs)
    return _written(shown), None


def _written(pairs: Iterable[tuple[float | None, float | None]]) -> str:
    return " ".join(f"{depth!r}:{volume!r}" for depth, volume in pairs)
