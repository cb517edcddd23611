"""The level of stations day by day."""

from __future__ import annotations

from datetime import date, timedelta

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.levels import SHOWN_DAYS, StationLevels, levels_of
from store.model.snapshot import Snapshot
from store.reports.report import Column, Measure, Report, Row, Where
from store.views.weather_state import weather_notes
from store.water.geometry import below_rim_mm

HINDSIGHT = "The level of a past day was worked out again with the next reading after it."

HEAD = (
    Column("date"),
    Column("station"),
    Column("volume_gal", "water", Measure.VOLUME, "volume_l", digits=2, printed=0),
    Column("percent", "% full", digits=1, printed=0),
    Column("below_rim_in", "below rim", Measure.DEPTH, "below_rim_cm", digits=2, printed=1),
    Column("overflow_gal", "ran over", Measure.VOLUME, "overflow_l", 2, 0, Where.WIDE),
    Column("source", "from"),
    Column("p10_gal", "likely from", Measure.VOLUME, "p10_l", digits=2, printed=0),
    Column("p50_gal", "middle", Measure.VOLUME, "p50_l", 2, 0, Where.WIDE),
    Column("p90_gal", "likely to", Measure.VOLUME, "p90_l", digits=2, printed=0),
    *(
        Column(f"{at}_below_rim_in", f"{at} below rim", Measure.DEPTH, f"{at}_below_rim_cm", 2, 1,
               Where.WIDE)
        for at in ("p10", "p50", "p90")
    ),
)  # fmt: skip
"""The likely band holds 80 percent of the courses that the water may have taken."""


def level_rows(
    snapshot: Snapshot,
    first: date | None,
    last: date | None,
    station_name: str | None,
    *,
    memory: FilterCache | None = None,
) -> Report:
    """Levels day by day, of a month up to `last` without `first`.

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
    rows: list[Row] = []
    notes = [*weather_notes(snapshot, first), HINDSIGHT]
    for station_id, facts in snapshot.places.stations.items():
        if wanted is not None and wanted.station_id != station_id:
            continue
        if station_id in levels.by_station:
            label = snapshot.places.label(facts)
            rows += _rows(label, levels.by_station[station_id], first, last)
        else:
            notes.append(levels.without[station_id])
    return Report(HEAD, tuple(rows), tuple(notes))


def _rows(label: str, station: StationLevels, first: date, last: date) -> list[Row]:
    below_mm, share = station.below_rim_mm, station.share
    bands = (station.low_l, station.median_l, station.high_l)
    depths = [below_rim_mm(station.station.tank, band) for band in bands]
    begin = max((first - station.first_day).days, 0)
    end = min((last - station.first_day).days + 1, len(station.volume_l))
    return [
        (
            station.first_day + timedelta(days=day),
            label,
            float(station.volume_l[day]),
            100.0 * float(share[day]),
            float(below_mm[day]),
            float(station.overflow_l[day]),
            "read" if station.read[day] else "modeled",
            *(float(band[day]) for band in bands),
            *(float(depth[day]) for depth in depths),
        )
        for day in range(begin, end)
    ]
