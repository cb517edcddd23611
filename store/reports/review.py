"""The seasons of every station as rows."""

from __future__ import annotations

from store.model.assimilation import FilterCache
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.reports.report import Column, Measure, Report, Row, Where
from store.views.review import SeasonLine, season_lines_of

NOTHING = "No station stood in a season yet, so there is nothing to look back on."

HEAD = (
    Column("station"),
    Column("season"),
    Column("wet", "wet days"),
    Column("of"),
    Column("low", "likely from", where=Where.WIDE),
    Column("high", "likely to", where=Where.WIDE),
    Column("dry", "dry days of the year"),
    Column("fills"),
    Column("gal", "", Measure.VOLUME, "litres", digits=0),
    Column("won", "wet days won", digits=1),
    Column("visits"),
    Column("quiet", "visits in quiet weeks", where=Where.WIDE),
    Column("fouled", "days fouled"),
    Column("animals", "animals a day", digits=1, where=Where.WIDE),
)


def review_rows(
    snapshot: Snapshot, year: int | None = None, *, memory: FilterCache | None = None
) -> Report:
    """One row a station and season; `wet` of `of` heavy-use days had water within reach.

    `low` and `high` are its band, `won` the wet days that the fills brought.
    """
    board = board_of(snapshot, memory)
    rows = tuple(_row(line) for line in season_lines_of(board, year))
    notes = tuple(board.levels.without.values()) or ()
    return Report(HEAD, rows, notes if rows else (*notes, NOTHING))


def _row(line: SeasonLine) -> Row:
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
        season.hauled_l,
        season.brought_days,
        season.visits,
        season.quiet_visits,
        season.fouled_days,
        animals,
    )
