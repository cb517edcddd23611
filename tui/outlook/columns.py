"""What stands in the outlook's cells: one line a station, and one more for its fill."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date

from rich.text import Text

from store.model.board import Board
from store.records import StationFacts
from store.units import Units
from store.views.outlook import Outlook
from tui import words
from tui.base.board_screen import WIDE
from tui.base.table import SCROLLBAR, Column
from tui.widgets.cells import crop
from tui.words import chance, day_month

ROOMY = 136
"""From so many characters on headings say all."""
WORKING = "..."
NOT_DRY = "-"


@dataclass(frozen=True)
class Line:
    """A station in the table; `found` is None while it is being worked out.

    `fills` says whether water is to be brought, `fill_l` how much (None: to the
    rim), and `filled` what would come of it.
    """

    station: StationFacts
    found: Outlook | None
    has_level: bool
    fills: bool = False
    fill_l: float | None = None
    filled: Outlook | None = None


def columns_for(
    board: Board, until: date, top_ups: Collection[date], width: int
) -> tuple[Column[Line], ...]:
    """The columns for a screen `width` characters wide; from 80 on nothing is lost.

    `top_ups` are the days for topping up, one where all tracts have the same.
    """
    snapshot = board.snapshot
    units, places = snapshot.units, snapshot.places
    then = day_month(until)
    wide = width >= ROOMY
    top_up = day_month(next(iter(top_ups))) if len(top_ups) == 1 else "the day"
    name, tract = (24, 16) if width >= WIDE else (max(14, min(24, width - 60)), 0)
    if wide:
        heads = ("Holds in heavy use", f"Dry on {then}", "Ever dry by then")
        dates = ("Dry 1 in 10 by", "Likely dry from")
    else:
        heads = ("Holds", f"Dry {then}", "Ever dry")
        dates = ("May dry", "Likely")
    volume = f"{units.volume_name} to fill on {top_up}" if wide else f"Room {top_up}"

    def named(line: Line) -> Text:
        lines = [crop(places.label(line.station), name)]
        if line.fills:
            lines.append(crop(f" + {amount(line.fill_l, units)}", name))
        return Text("\n".join(lines), no_wrap=True)

    columns: list[Column[Line]] = [
        Column("Station", name + 1, named),
        Column("Tract", tract + 1, lambda line: Text(crop(_tract(board, line), tract))),
        _figures(heads[0], lambda found: chance(found.hold_chance)),
        _figures(heads[1], lambda found: chance(float(found.dry_chance[-1]))),
        _figures(heads[2], lambda found: chance(found.ever_dry_chance)),
        _figures(dates[0], lambda found: dry_day(found.first_dry.low)),
        _figures(dates[1], lambda found: dry_day(found.first_dry.median)),
    ]
    if not tract:
        del columns[1]
    room = width - sum(column.width for column in columns) - SCROLLBAR
    return (*columns, _figures(volume.rjust(room - 1), lambda found: needed(found, units), room))


def _tract(board: Board, line: Line) -> str:
    return board.snapshot.places.tract_of(line.station).name


def _figures(
    heading: str, said: Callable[[Outlook], str], width: int | None = None
) -> Column[Line]:
    width = len(heading) + 1 if width is None else width
    return Column(heading, width, lambda line: _told(line, said, lambda t: t.rjust(width - 1)))


def _told(line: Line, said: Callable[[Outlook], str], put: Callable[[str], str]) -> Text:
    """One line about the station as it is, and a second about it with its fill."""
    if not line.has_level:
        return Text(put(words.UNKNOWN))
    founds = [line.found, line.filled] if line.fills else [line.found]
    lines = [put(WORKING if found is None else said(found)) for found in founds]
    return Text("\n".join(lines), no_wrap=True)


def dry_day(day: date | None) -> str:
    """The first day it is dry in one case of ten, or in half of them; '-' where it holds."""
    return NOT_DRY if day is None else words.day_month(day)


def needed(found: Outlook, units: Units) -> str:
    """What would fill it on the top-up date, or that it is filled then."""
    if found.fill is not None:
        return f"brought {words.day_month(found.fill.on)}"
    if found.top_up_l is None:
        return words.UNKNOWN
    low, middle, high = (f"{units.volume(litres):.0f}" for litres in found.top_up_l)
    return f"{middle} ({low}-{high})"


def amount(volume_l: float | None, units: Units) -> str:
    return "to the rim" if volume_l is None else words.volume(volume_l, units)


def fill_words(volume_l: float | None, units: Units) -> str:
    return ("filled " if volume_l is None else "with ") + amount(volume_l, units)
