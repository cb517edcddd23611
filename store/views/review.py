"""The seasons of every station side by side, totals of a tract, and the autumn jump in use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from statistics import median

from store.errors import BadValue
from store.model.board import Board
from store.model.season_review import StationSeason, review_years, station_season
from store.model.snapshot import Snapshot
from store.season.month_day import Span
from store.season.pulse import Pulse, pulse_of
from store.season.tract_season import span_of
from store.vocabulary import WindowKind

ASKED_BEFORE_D, ASKED_AFTER_D = 80, 30
"""Days around the first of the heavy-use weeks whose counts are asked for the jump (assumed)."""
FEWEST_PULSES, LEAST_MOVE_D = 2, 3
"""Clear jumps that the weeks may be moved by, and days worth moving them (assumed)."""


@dataclass(frozen=True)
class SeasonLine:
    """A station in one season; `pulse` is None with the sentence why in `no_pulse`."""

    label: str
    tract: str
    season: StationSeason
    pulse: Pulse | None
    no_pulse: str


@dataclass(frozen=True)
class SeasonTotals:
    """All stations of a tract in one season; `wet_share` is None where none has a level."""

    tract: str
    year: int
    stations: int
    wet_share: float | None
    hauled_l: float
    fills: int
    brought_days: float
    visits: int
    quiet_visits: int
    fouled_days: int


def season_lines_of(board: Board, year: int | None = None) -> Iterator[SeasonLine]:
    """Every station in every season it stood in, or in one, by tract and name.

    One after the other, since each takes a moment.
    """
    snapshot = board.snapshot
    for station_id, facts in snapshot.places.stations.items():
        for one in review_years(snapshot, station_id):
            if year is not None and one != year:
                continue
            pulse, why = season_pulse(snapshot, station_id, one)
            yield SeasonLine(
                snapshot.places.label(facts),
                snapshot.places.tract_of(facts).name,
                station_season(snapshot, board.levels, station_id, one),
                pulse,
                why,
            )


def season_totals(lines: tuple[SeasonLine, ...]) -> tuple[SeasonTotals, ...]:
    """The lines summed by tract and season."""
    keys = sorted({(line.tract, line.season.year) for line in lines})
    totals = []
    for tract, year in keys:
        own = [line.season for line in lines if (line.tract, line.season.year) == (tract, year)]
        known = [season for season in own if season.wet_days is not None]
        days = sum(season.heavy_days for season in known)
        wet = sum(season.wet_days[1] for season in known if season.wet_days is not None)
        totals.append(
            SeasonTotals(
                tract=tract,
                year=year,
                stations=len(own),
                wet_share=wet / days if days else None,
                hauled_l=sum(season.hauled_l for season in own),
                fills=sum(len(season.fills) for season in own),
                brought_days=sum(season.brought_days for season in own),
                visits=sum(season.visits for season in own),
                quiet_visits=sum(season.quiet_visits for season in own),
                fouled_days=sum(season.fouled_days for season in own),
            )
        )
    return tuple(totals)


def weeks_as_seen(snapshot: Snapshot, tract_id: str) -> Span | None:
    """The heavy-use weeks of a tract moved to where its cameras saw use rise.

    None from fewer than two clear jumps, or where they agree with the weeks as they are.
    """
    season = snapshot.seasons[tract_id]
    first = season.heavy_use.first
    late_d = []
    for station_id, facts in snapshot.places.stations.items():
        if facts.tract_id != tract_id:
            continue
        for year in review_years(snapshot, station_id):
            pulse, _ = season_pulse(snapshot, station_id, year)
            if pulse is not None and pulse.is_clear:
                late_d.append((pulse.middle - first.in_season(year, season.starts)).days)
    if len(late_d) < FEWEST_PULSES:
        return None
    days = round(median(late_d))
    if abs(days) < LEAST_MOVE_D:
        return None
    return span_of(WindowKind.HEAVY_USE, first.later(days), season.heavy_use.last.later(days))


def season_pulse(snapshot: Snapshot, station_id: str, year: int) -> tuple[Pulse | None, str]:
    """The jump in use at a station in a season, or the sentence why none is told."""
    history, season = snapshot.histories[station_id], snapshot.season_of(station_id)
    weeks = season.heavy_use.first.in_season(year, season.starts)
    counts = [
        (seen.on, seen.camera_per_day)
        for seen in history.uses
        if seen.camera_per_day is not None and _near(seen.on, weeks)
    ]
    try:
        return pulse_of(counts), ""
    except BadValue as error:
        return None, str(error)


def _near(day: date, weeks: date) -> bool:
    return -ASKED_BEFORE_D <= (day - weeks).days <= ASKED_AFTER_D
