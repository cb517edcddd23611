"""The chances ahead of every station."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from store.model.assimilation import FilterCache
from store.model.ensembles import Fill
from store.model.levels import levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Column, Measure, Report, Row, Where
from store.views.outlook import Outlook, nearest_end, outlooks

HEAD = (
    Column("station"),
    Column("tract", where=Where.WIDE),
    Column("until", where=Where.WIDE),
    Column("hold_chance_pct", "% holds through heavy use", digits=1, chance=True),
    Column("ever_dry_chance_pct", "% ever dry", digits=1, chance=True),
    Column("first_dry_early", "dry at the earliest"),
    Column("first_dry_median", "dry about"),
    Column("first_dry_late", "dry at the latest", where=Where.WIDE),
    Column("top_up_on", "top up on"),
    Column("top_up_gal_p10", "room at least", Measure.VOLUME, "top_up_l_p10", 1, 0, Where.WIDE),
    Column("top_up_gal_p50", "room for", Measure.VOLUME, "top_up_l_p50", digits=1, printed=0),
    Column("top_up_gal_p90", "room at most", Measure.VOLUME, "top_up_l_p90", 1, 0, Where.WIDE),
    Column("fill_gal", "brought", Measure.VOLUME, "fill_l", digits=1, printed=0),
)
DAILY_HEAD = (
    Column("date"),
    Column("station"),
    Column("dry_chance_pct", "% dry", digits=1, chance=True),
    Column("p10_pct", "likely from % full", digits=1, printed=0),
    Column("p50_pct", "middle % full", digits=1, printed=0),
    Column("p90_pct", "to % full", digits=1, printed=0),
)


def outlook_rows(
    snapshot: Snapshot,
    until: date | None,
    fills: Mapping[str, Fill],
    *,
    daily: bool = False,
    memory: FilterCache | None = None,
) -> Report:
    """The outlooks of every station; `fills` are by station id.

    Without `until` they go to the end of the heavy-use weeks that are still to be served.
    With `daily` there is a row for every station and day instead of every station.

    Raises:
        BadValue: as `outlooks`.
    """
    if until is None:
        until = nearest_end(snapshot.heavy_use_end, snapshot.today)
    levels = levels_of(snapshot, memory)
    found = list(outlooks(snapshot, levels, until, fills))
    notes = (
        f"Until {until}.",
        *levels.without.values(),
        *dict.fromkeys(f"Basis: {p.basis}." for p in found),
    )
    if daily:
        return Report(DAILY_HEAD, tuple(r for p in found for r in _daily(snapshot, p)), notes)
    return Report(HEAD, tuple(_row(snapshot, p) for p in found), notes)


def _row(snapshot: Snapshot, found: Outlook) -> Row:
    places = snapshot.places
    fill_l = None if found.fill is None else found.fill.volume_l
    top_up: Row = found.top_up_l or (None, None, None)
    return (
        places.label(found.station),
        places.tract_of(found.station).name,
        found.until,
        None if found.hold_chance is None else 100.0 * found.hold_chance,
        100.0 * found.ever_dry_chance,
        found.first_dry.low,
        found.first_dry.median,
        found.first_dry.high,
        found.top_up_on,
        *top_up,
        fill_l,
    )


def _daily(snapshot: Snapshot, found: Outlook) -> list[Row]:
    label = snapshot.places.label(found.station)
    columns = (found.dry_chance, found.low_share, found.median_share, found.high_share)
    return [
        (
            found.first_day + timedelta(days=day),
            label,
            *(100.0 * float(values[day]) for values in columns),
        )
        for day in range(len(found.dry_chance))
    ]
