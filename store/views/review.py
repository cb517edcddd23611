"""The seasons of every station side by side, totals of a tract, and the autumn jump in use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from store.errors import BadValue
from store.model.board import Board
from store.model.season_review import StationSeason, review_years, station_season
from store.season.pulse import Pulse, pulse_of

ASKED_BEFORE_D, ASKED_AFTER_D = 80, 10
"""Days around the heavy-use weeks whose counts are asked for the jump (assumed)."""


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
            pulse, why = _pulse(board, station_id, one)
            yield SeasonLine(
                snapshot.places.label(facts),
                snapshot.places.tract_of(facts).name,
                station_season(snapshot, board.levels, station_id, one),
                pulse,
                why,
            )


def season_totals(lines: tuple[SeasonLine, ...]) -> tuple[SeasonTotals, ...]:
    """The lines summed by tract and season."""
    keys = dict.fromkeys((line.tract, line.season.year) for line in lines)
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


def _pulse(board: Board, station_id: str, year: int) -> tuple[Pulse | None, str]:
    history, season = board.snapshot.histories[station_id], board.snapshot.season_of(station_id)
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
    return -ASKED_BEFORE_D <= (day - weeks).days <= ASKED_AFTER_D + 21
