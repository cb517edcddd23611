"""Stations in the columns of the file that can be imported, to be imported again unchanged."""

from __future__ import annotations

from collections.abc import Iterable

from store.exchange.exact import ft2_or_m2, gallons_or_litres, inches_or_mm, quantity
from store.exchange.filled_columns import filled
from store.logbook.places import Places
from store.records import Entry, StationFacts
from store.reports.report import Column, Measure, Report, Row, Where
from store.service import Service, services

LENGTHS = (
    *("length", "width", "diameter", "depth"),
    *("bottom_length", "bottom_width", "bottom_diameter"),
)
COLUMNS = (
    *(Column(name) for name in ("tract", "station", "shape")),
    Column("longest", "long or across", Measure.DEPTH, digits=1, where=Where.PRINT),
    *(
        column
        for stem in LENGTHS
        for column in quantity(
            f"{stem}_in",
            f"{stem}_mm",
            stem.replace("_", " "),
            Measure.DEPTH,
            Where.PRINT if stem in ("width", "depth") else Where.WIDE_PRINT,
        )
    ),
    *(Column(f"depth_volume_{units}", where=Where.FILE) for units in ("in_gal", "mm_l")),
    *(Column(f"rim_above_ground_{unit}", where=Where.FILE) for unit in ("in", "mm")),
    *quantity("apron_area_ft2", "apron_area_m2", "apron", Measure.AREA),
    Column("apron_surface", "surface", where=Where.WIDE),
    Column("exposure", where=Where.WIDE),
    Column("access"),
    *(Column(name, where=Where.WIDE) for name in ("expected_use", "latitude", "longitude")),
    *(Column(name, where=Where.WIDE) for name in ("installed", "bear_country", "directions")),
)


def station_rows(places: Places, live: Iterable[Entry]) -> Report:
    """Every station that holds, by tract and name."""
    in_service = services(live)
    rows = tuple(
        _row(places, station, in_service.get(station.station_id, Service()))
        for station in places.stations.values()
    )
    return filled(COLUMNS, rows)


def _row(places: Places, station: StationFacts, service: Service) -> Row:
    tank = station.tank
    lengths_mm = [getattr(tank, f"{stem}_mm") for stem in LENGTHS]
    lengths = [cell for mm in lengths_mm for cell in (*inches_or_mm(mm), mm)]
    return (
        places.tract_of(station).name,
        station.name,
        tank.shape.value,
        tank.length_mm or tank.diameter_mm,
        *lengths,
        *_table(tank.depth_volume),
        *inches_or_mm(station.rim_above_ground_mm),
        *ft2_or_m2(station.apron_area_m2),
        station.apron_area_m2,
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
