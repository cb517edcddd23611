"""The level of stations day by day."""

from __future__ import annotations

from datetime import date, timedelta

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.levels import SHOWN_DAYS, StationLevels, levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Cell, Report
from store.units import gallons_from_litres, inches_from_mm
from store.views.weather_state import weather_notes
from store.water.geometry import below_rim_mm

HINDSIGHT = "The level of a past day was worked out again with the next reading after it."


def level_rows(
    snapshot: Snapshot,
    first: date | None,
    last: date | None,
    station_name: str | None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """Levels day by day in US units, for print and export.

    Raises:
        NotFound: no station of that name.
        BadValue: `first` is after `last`.
    """
    last = min(last or snapshot.today, snapshot.today)
    first = first or last - timedelta(days=SHOWN_DAYS)
    if first > last:
        raise BadValue(f"The first day, {first}, is after the last, {last}; swap them.")
    wanted = None if station_name is None else snapshot.places.find_station(station_name)
    levels = levels_of(snapshot, memory)
    rows: list[tuple[Cell, ...]] = []
    notes = [*weather_notes(snapshot, first), HINDSIGHT]
    for station_id, facts in snapshot.places.stations.items():
        if wanted is not None and wanted.station_id != station_id:
            continue
        if station_id in levels.by_station:
            label = snapshot.places.label(facts)
            rows += _rows(label, levels.by_station[station_id], first, last)
        else:
            notes.append(levels.without[station_id])
    return Report(
        (
            "date",
            "station",
            "volume_gal",
            "percent",
            "below_rim_in",
            "overflow_gal",
            "source",
            "p10_gal",
            "p50_gal",
            "p90_gal",
            "p10_below_rim_in",
            "p50_below_rim_in",
            "p90_below_rim_in",
        ),
        tuple(rows),
        tuple(notes),
    )


def _rows(label: str, station: StationLevels, first: date, last: date) -> list[tuple[Cell, ...]]:
    below_mm, share = station.below_rim_mm, station.share
    bands = (station.low_l, station.median_l, station.high_l)
    depths = [below_rim_mm(station.station.tank, band) for band in bands]
    begin = max((first - station.first_day).days, 0)
    end = min((last - station.first_day).days + 1, len(station.volume_l))
    return [
        (
            station.first_day + timedelta(days=day),
            label,
            round(gallons_from_litres(float(station.volume_l[day])), 2),
            round(100.0 * float(share[day]), 1),
            round(inches_from_mm(float(below_mm[day])), 2),
            round(gallons_from_litres(float(station.overflow_l[day])), 2),
            "read" if station.read[day] else "modeled",
            *(round(gallons_from_litres(float(band[day])), 2) for band in bands),
            *(round(inches_from_mm(float(depth[day])), 2) for depth in depths),
        )
        for day in range(begin, end)
    ]
