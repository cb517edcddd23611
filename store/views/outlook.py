"""What the days ahead hold for each station: chances, dates, gallons, with or without a fill."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.contamination.estimates import DateQuantiles
from store.errors import BadValue
from store.model.board import Board
from store.model.ensembles import MEMBERS_FOR_CHANCES, Ensemble, Fill, ensemble_runs
from store.model.heavy_use import hold_chance
from store.model.known_levels import Levels
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.typed import day_typed
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray

LONGEST_DAYS = 366


@dataclass(frozen=True, eq=False)
class Outlook:
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
    first_dry: DateQuantiles
    top_up_on: date
    top_up_l: tuple[float, float, float] | None
    ever_dry_chance: float
    basis: str


def outlooks(
    snapshot: Snapshot,
    levels: Levels,
    until: date,
    fills: Mapping[str, Fill] | None = None,
    only: Collection[str] | None = None,
) -> Iterator[Outlook]:
    """The outlooks of stations, one after the other, so that a screen can show the first.

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
    ahead = ensemble_runs(
        levels, snapshot.today, days=days, members=MEMBERS_FOR_CHANCES, fills=fills, only=only
    )
    for station_id, run in ahead:
        yield _outlook(snapshot, run.future, until, (fills or {}).get(station_id))


def _outlook(snapshot: Snapshot, future: Ensemble, until: date, fill: Fill | None) -> Outlook:
    dry = future.dry
    low, median, high = member_quantiles(future.share)
    station_id = future.station.facts.station_id
    top_up_on, weeks = snapshot.top_up_day(station_id), snapshot.heavy_use(station_id)
    return Outlook(
        station=future.station.facts,
        first_day=future.first_day,
        until=until,
        fill=fill,
        dry_chance=dry.mean(axis=1),
        low_share=low,
        median_share=median,
        high_share=high,
        hold_chance=None if weeks.last > until else hold_chance(future, weeks),
        first_dry=_first_dry(future),
        top_up_on=top_up_on,
        top_up_l=_top_up(future, top_up_on) if top_up_on <= until else None,
        ever_dry_chance=float(dry.any(axis=0).mean()),
        basis=future.basis,
    )


def _first_dry(future: Ensemble) -> DateQuantiles:
    dry = future.dry
    days = np.where(dry.any(axis=0), dry.argmax(axis=0), np.inf)

    def at(quantile: float) -> date | None:
        day = float(np.quantile(days, quantile, method="inverted_cdf"))
        return future.first_day + timedelta(days=int(day)) if np.isfinite(day) else None

    return DateQuantiles(low=at(0.1), median=at(0.5), high=at(0.9))


def _top_up(future: Ensemble, day: date) -> tuple[float, float, float]:
    room = future.station.tank.capacity_l - future.volume_l[future.index(day)]
    low, median, high = (float(value) for value in member_quantiles(room))
    return low, median, high


def outlook_stations(board: Board) -> tuple[StationFacts, ...]:
    """Every station that is not retired, by tract and name."""
    histories = board.snapshot.histories
    stations = board.snapshot.places.stations.items()
    return tuple(facts for station_id, facts in stations if histories[station_id].retired is None)


def nearest_end(day: date, today: date) -> date:
    """`day`, or the nearest day to which an outlook can reach."""
    return min(max(day, today + timedelta(days=1)), today + timedelta(days=LONGEST_DAYS))


def typed_end(text: str, today: date) -> date:
    """The last day of an outlook as a person typed it.

    Raises:
        BadValue: it is no date, or an outlook cannot reach to it.
    """
    day = day_typed(text, today, ahead=True)
    if day != nearest_end(day, today):
        raise BadValue(
            f"{day} is not ahead of {today}, or more than a year; choose a day from tomorrow to "
            f"{nearest_end(date.max, today)}."
        )
    return day


def planned_fill(snapshot: Snapshot, station_id: str, until: date, volume_l: float | None) -> Fill:
    """Water brought on the day for topping up, or today where that lies beyond `until`.

    `volume_l` None means to the rim.

    Raises:
        BadValue: the volume is not more than nothing.
    """
    if volume_l is not None and volume_l <= 0.0:
        raise BadValue("A fill must be more than 0; type how much would be brought.")
    day = snapshot.top_up_day(station_id)
    return Fill(day if day <= until else snapshot.today, volume_l)
