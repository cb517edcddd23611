"""The chances ahead of every station."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from store.model.assimilation import FilterCache
from store.model.ensembles import Fill
from store.model.levels import levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Cell, Report
from store.units import gallons_from_litres
from store.views.outlook import Outlook, outlooks


def outlook_rows(
    snapshot: Snapshot,
    until: date,
    gallons: Mapping[str, Fill],
    *,
    daily: bool = False,
    memory: FilterCache | None = None,
) -> Report:
    """The outlooks of every station in US units; `gallons` holds fills by station id.

    With `daily` there is a row for every station and day instead of every station.

    Raises:
        BadValue: as `outlooks`.
    """
    levels = levels_of(snapshot, memory)
    found = list(outlooks(snapshot, levels, until, gallons))
    notes = (*levels.without.values(), *dict.fromkeys(f"Basis: {p.basis}." for p in found))
    if daily:
        columns: tuple[str, ...] = (
            *("date", "station", "dry_chance_pct", "p10_pct", "p50_pct", "p90_pct"),
        )
        return Report(columns, tuple(r for p in found for r in _daily(snapshot, p)), notes)
    columns = (
        "station",
        "tract",
        "until",
        "hold_chance_pct",
        "ever_dry_chance_pct",
        "first_dry_early",
        "first_dry_median",
        "first_dry_late",
        "top_up_on",
        "top_up_gal_p10",
        "top_up_gal_p50",
        "top_up_gal_p90",
        "fill_gal",
    )
    return Report(columns, tuple(_row(snapshot, p) for p in found), notes)


def _row(snapshot: Snapshot, found: Outlook) -> tuple[Cell, ...]:
    places = snapshot.places
    fill_l = None if found.fill is None else found.fill.volume_l
    top_up: tuple[Cell, ...] = (None, None, None)
    if found.top_up_l is not None:
        top_up = tuple(round(gallons_from_litres(litres), 1) for litres in found.top_up_l)
    return (
        places.label(found.station),
        places.tract_of(found.station).name,
        found.until,
        None if found.hold_chance is None else round(100.0 * found.hold_chance, 1),
        round(100.0 * found.ever_dry_chance, 1),
        found.first_dry.low,
        found.first_dry.median,
        found.first_dry.high,
        found.top_up_on,
        *top_up,
        None if fill_l is None else round(gallons_from_litres(fill_l), 1),
    )


def _daily(snapshot: Snapshot, found: Outlook) -> list[tuple[Cell, ...]]:
    label = snapshot.places.label(found.station)
    columns = (found.dry_chance, found.low_share, found.median_share, found.high_share)
    return [
        (
            found.first_day + timedelta(days=day),
            label,
            *(round(100.0 * float(values[day]), 1) for values in columns),
        )
        for day in range(len(found.dry_chance))
    ]
