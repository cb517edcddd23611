"""What the days ahead hold for each station: chances, dates, gallons, with or without a fill."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.answers.answer import Answer, Cell
from store.answers.futures import Fill, Future, future_runs
from store.answers.levels import Levels, levels
from store.answers.snapshot import Snapshot
from store.contamination.estimates import DateRange
from store.errors import BadValue
from store.records import StationFacts
from store.season.windows import WindowKind, next_window
from store.units import gallons_from_litres
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray

LONGEST_DAYS = 366
MEMBERS = 1000
"""Enough that sampling moves a chance by 1.6 points at most (one standard error)."""


@dataclass(frozen=True, eq=False)
class Prospect:
    """One station from tomorrow to `until`.

    `dry_chance` and the level bands have shape (days,), shares 0 to 1. `hold_chance`
    is the chance that it never is dry in the heavy-use weeks; None when they lie
    beyond `until`. `first_dry` holds the 10, 50 and 90 percent dates, None where that
    share of the courses does not see it dry. `top_up_l` are the litres that would
    fill it on `top_up_on`: low, middle, high; None when that day is beyond `until`.
    """

    station: StationFacts
    first_day: date
    until: date
    fill: Fill | None
    dry_chance: FloatArray
    low_share: FloatArray
    median_share: FloatArray
    high_share: FloatArray
    hold_chance: float | None
    first_dry: DateRange
    top_up_on: date
    top_up_l: tuple[float, float, float] | None
    ever_dry_chance: float
    basis: str


def prospects(
    snapshot: Snapshot,
    answer: Levels,
    until: date,
    fills: Mapping[str, Fill] | None = None,
    only: Collection[str] | None = None,
) -> Iterator[Prospect]:
    """The prospects of stations, one after the other, so that a screen can show the first.

    Raises:
        BadValue: `until` is not after today or more than a year ahead, or a fill is to
            come after it or before today.
    """
    days = (until - snapshot.today).days
    if not 1 <= days <= LONGEST_DAYS:
        raise BadValue(
            f"An outlook to {until} is not possible on {snapshot.today}; choose a day from "
            f"tomorrow to a year ahead."
        )
    for fill in (fills or {}).values():
        if not snapshot.today <= fill.on <= until:
            raise BadValue(
                f"A fill on {fill.on} is outside the outlook from {snapshot.today} to {until}; "
                "choose a day within it."
            )
    ahead = future_runs(answer, snapshot.today, days=days, members=MEMBERS, fills=fills, only=only)
    for station_id, run in ahead:
        yield _prospect(snapshot, run.future, until, (fills or {}).get(station_id))


def _prospect(snapshot: Snapshot, future: Future, until: date, fill: Fill | None) -> Prospect:
    dry = future.dry
    low, median, high = member_quantiles(future.share)
    fill_window = next_window(snapshot.season, WindowKind.FILL, snapshot.today)
    top_up_on = max(fill_window.first, future.first_day)
    return Prospect(
        station=future.station.facts,
        first_day=future.first_day,
        until=until,
        fill=fill,
        dry_chance=dry.mean(axis=1),
        low_share=low,
        median_share=median,
        high_share=high,
        hold_chance=_hold_chance(snapshot, future, until),
        first_dry=_first_dry(future),
        top_up_on=top_up_on,
        top_up_l=_top_up(future, top_up_on) if top_up_on <= until else None,
        ever_dry_chance=float(dry.any(axis=0).mean()),
        basis=future.basis,
    )


def _hold_chance(snapshot: Snapshot, future: Future, until: date) -> float | None:
    tomorrow = snapshot.today + timedelta(days=1)
    window = next_window(snapshot.season, WindowKind.HEAVY_USE, tomorrow)
    if window.last > until:
        return None
    start = max(future.index(window.first), 0)
    weeks = future.dry[start : future.index(window.last) + 1]
    return float((~weeks).all(axis=0).mean())


def _first_dry(future: Future) -> DateRange:
    dry = future.dry
    days = np.where(dry.any(axis=0), dry.argmax(axis=0), np.inf)

    def at(quantile: float) -> date | None:
        day = float(np.quantile(days, quantile, method="inverted_cdf"))
        return future.first_day + timedelta(days=int(day)) if np.isfinite(day) else None

    return DateRange(low=at(0.1), median=at(0.5), high=at(0.9))


def _top_up(future: Future, day: date) -> tuple[float, float, float]:
    room = future.station.tank.capacity_l - future.volume_l[future.index(day)]
    low, median, high = (float(value) for value in member_quantiles(room))
    return low, median, high


def outlook_rows(
    snapshot: Snapshot, until: date, gallons: Mapping[str, Fill], *, daily: bool = False
) -> Answer:
    """The prospects of every station in US units; `gallons` holds fills by station id.

    With `daily` there is a row for every station and day instead of every station.

    Raises:
        BadValue: as `prospects`.
    """
    answer = levels(snapshot)
    found = list(prospects(snapshot, answer, until, gallons))
    notes = (*answer.without.values(), *dict.fromkeys(f"Basis: {p.basis}." for p in found))
    if daily:
        columns: tuple[str, ...] = (
            *("date", "station", "dry_chance_pct", "p10_pct", "p50_pct", "p90_pct"),
        )
        return Answer(columns, tuple(r for p in found for r in _daily(snapshot, p)), notes)
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
    return Answer(columns, tuple(_row(snapshot, p) for p in found), notes)


def _row(snapshot: Snapshot, found: Prospect) -> tuple[Cell, ...]:
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


def _daily(snapshot: Snapshot, found: Prospect) -> list[tuple[Cell, ...]]:
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
