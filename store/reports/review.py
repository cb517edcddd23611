"""The seasons of every station as rows in US units."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.board import board_of
from store.model.snapshot import Snapshot
from store.reports.report import Cell, Report
from store.units import gallons_from_litres
from store.views.review import SeasonLine, season_lines_of

NOTHING = "No station stood in a season yet, so there is nothing to look back on."


def review_rows(
    snapshot: Snapshot, year: int | None = None, *, memory: FilterCache | None = None
) -> Report:
    """One row a station and season; `wet` of `of` heavy-use days had water within reach.

    `low` and `high` are its band, `won` the wet days that the fills brought.
    """
    board = board_of(snapshot, memory)
    rows = tuple(_row(line) for line in season_lines_of(board, year))
    notes = tuple(board.levels.without.values()) or ()
    columns = (
        *("station", "season", "wet", "of", "low", "high", "dry", "fills", "gal", "won"),
        *("visits", "quiet", "fouled", "animals"),
    )
    return Report(columns, rows, notes if rows else (*notes, NOTHING))


def _row(line: SeasonLine) -> tuple[Cell, ...]:
    season = line.season
    low, wet, high = season.wet_days or (None, None, None)
    animals = season.animals_a_day
    return (
        line.label,
        season.year,
        wet,
        season.heavy_days,
        low,
        high,
        season.dry_days,
        len(season.fills),
        round(gallons_from_litres(season.hauled_l)),
        round(season.brought_days, 1),
        season.visits,
        season.quiet_visits,
        season.fouled_days,
        None if animals is None else round(animals, 1),
    )
