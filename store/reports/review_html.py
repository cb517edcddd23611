"""The review of all seasons as one page that needs nothing from elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from store.errors import BadValue
from store.model.assimilation import FilterCache
from store.model.board import Board
from store.model.snapshot import Snapshot
from store.model.working_out import board_of
from store.reports.svg import Bar, bars
from store.season.prompt import plain_date
from store.units import Units
from store.views.review import SeasonLine, SeasonTotals, season_lines_of, season_totals
from store.views.what_if import Tried, tried

STYLE = """
body { font: 15px/1.4 sans-serif; max-width: 46em; margin: 1.5em auto; padding: 0 1em;
       color: #222; background: #fff; }
h1 { font-size: 1.5em; } h2 { font-size: 1.2em; margin-top: 1.6em; }
table { border-collapse: collapse; width: 100%; font-size: 0.9em; }
th, td { text-align: right; padding: 0.15em 0.5em; border-bottom: 1px solid #ddd; }
th:first-child, td:first-child { text-align: left; }
td { white-space: nowrap; }
svg { max-width: 100%; height: auto; font: 12px sans-serif; }
.room { fill: #eee; } .bar { fill: #2f6f8f; } .band { stroke: #222; stroke-width: 2; }
.said { font-weight: bold; }
@media print { section { break-inside: avoid; } body { margin: 0; } }
"""
HOW = (
    "Wet days are days of the heavy-use weeks with water within reach; their band takes every "
    "day's 80 percent band at once, so it is wider than one of the count. What a fill brought is "
    "worked out with and without it, in the weather that came. Chances are of the model, which "
    "can be wrong; local codes and the wildlife agency's rules go first in all work."
)


def review_page(
    snapshot: Snapshot, year: int | None = None, *, memory: FilterCache | None = None
) -> bytes:
    """The page, UTF-8."""
    board = board_of(snapshot, memory)
    return page_of(board, tuple(season_lines_of(board, year)))


def page_of(board: Board, lines: tuple[SeasonLine, ...]) -> bytes:
    """The page of seasons that were worked out already."""
    body = "".join(_body(board, lines))
    page = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>Season review</title><style>{STYLE}</style></head><body>{body}</body></html>\n"
    )
    return page.encode()


def _body(board: Board, lines: tuple[SeasonLine, ...]) -> Iterator[str]:
    snapshot = board.snapshot
    yield f"<h1>Season review, {plain_date(snapshot.today)}</h1><p>{HOW}</p>"
    if not lines:
        yield "<p>No station stood in a season yet, so there is nothing to look back on.</p>"
        return
    yield "<h2>Tracts</h2>"
    yield _table(_TRACT_HEADS, (_tract_cells(t, snapshot.units) for t in season_totals(lines)))
    for label, tract in dict.fromkeys((line.label, line.tract) for line in lines):
        own = [line for line in lines if (line.label, line.tract) == (label, tract)]
        yield f"<section><h2>{escape(label)}, {escape(tract)}</h2>"
        yield from _station(board, own)
        yield "</section>"


def _station(board: Board, own: list[SeasonLine]) -> Iterator[str]:
    if len(own) == 1:
        yield "<p>One season only, so there is nothing to compare it with.</p>"
    yield _table(_SEASON_HEADS, (_season_cells(line, board.snapshot.units) for line in own))
    wet = [line for line in own if line.season.wet_days is not None]
    if wet:
        yield bars("Days of heavy use with water, by season", [_wet_bar(line) for line in wet])
    for line in own:
        if line.pulse is not None:
            pulse = line.pulse
            yield (
                f"<p>{line.season.year}: use rose about {plain_date(pulse.middle)} (80 percent: "
                f"{plain_date(pulse.low)} to {plain_date(pulse.high)}), from {pulse.before:.1f} to "
                f"{pulse.after:.1f} animals a day.</p>"
            )
    station_id = own[0].season.station_id
    if board.snapshot.histories[station_id].retired is not None:
        return
    try:
        yield _tried(tried(board, station_id))
    except BadValue as error:
        yield f"<p>{escape(str(error))}</p>"


def _wet_bar(line: SeasonLine) -> Bar:
    season = line.season
    low, wet, high = season.wet_days or (0, 0, 0)
    days = max(season.heavy_days, 1)
    return Bar(
        str(season.year),
        wet / days,
        f"{wet} of {season.heavy_days} days",
        (low / days, high / days),
    )


def _tried(found: Tried) -> str:
    rows = [
        Bar(
            variant.name,
            variant.hold_chance,
            f"{variant.hold_chance:.0%}, {variant.fills.mean():.1f} fills a year",
        )
        for variant in found.found.variants
    ]
    said = "" if found.suggestion is None else escape(found.suggestion.text)
    chart = bars("Holds water through heavy use without a fill", rows)
    basis = escape(found.found.basis)
    return f'<p class="said">{said}.</p>{chart}<p>Chance to hold, over {basis}.</p>'


_SEASON_HEADS = (
    *("Season", "Wet days", "Dry days", "Fills", "Brought", "Wet days won"),
    *("Visits", "In quiet weeks", "Days fouled", "Animals a day"),
)
_TRACT_HEADS = (
    *("Tract", "Season", "Stations", "Wet", "Fills", "Brought", "Wet days won"),
    *("Visits", "In quiet weeks", "Days fouled"),
)


def _season_cells(line: SeasonLine, units: Units) -> tuple[str, ...]:
    season = line.season
    wet = "-" if season.wet_days is None else f"{season.wet_days[1]} of {season.heavy_days}"
    animals = "-" if season.animals_a_day is None else f"{season.animals_a_day:.1f}"
    return (
        str(season.year),
        wet,
        str(season.dry_days),
        str(len(season.fills)),
        f"{units.volume(season.hauled_l):.0f} {units.volume_name}",
        f"{season.brought_days:.1f}",
        str(season.visits),
        str(season.quiet_visits),
        str(season.fouled_days),
        animals,
    )


def _tract_cells(totals: SeasonTotals, units: Units) -> tuple[str, ...]:
    return (
        totals.tract,
        str(totals.year),
        str(totals.stations),
        "-" if totals.wet_share is None else f"{totals.wet_share:.0%}",
        str(totals.fills),
        f"{units.volume(totals.hauled_l):.0f} {units.volume_name}",
        f"{totals.brought_days:.1f}",
        str(totals.visits),
        str(totals.quiet_visits),
        str(totals.fouled_days),
    )


def _table(heads: Iterable[str], rows: Iterable[tuple[str, ...]]) -> str:
    head = "".join(f"<th>{escape(text)}</th>" for text in heads)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
