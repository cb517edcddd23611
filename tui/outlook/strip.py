"""The strip below the outlook: one station day by day, room and in figures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from rich.text import Text

from store.season.windows import Window
from store.units import Units
from store.views.outlook import Outlook
from store.weather.days import FloatArray
from tui.outlook.columns import fill_words
from tui.widgets.cells import EIGHTHS_UP, crop
from tui.words import chance, day_month

GUTTER = 8
"""Cells for the name of a row."""
DATE_ROOM, LEVEL_ROOM = 9, 15
"""Cells a date with its chance needs below the drawing, and a level with its band."""
WEEKLY_UP_TO = 70
"""Days up to which weeks are marked, and months beyond."""
TICK = "╵"
NO_CHANCE = "·"
FILLED = " filled"
EIGHTHS = 8

Mark = tuple[int, int]
"""Column and day, both counted from 0."""


def strip_lines(
    label: str,
    found: Outlook,
    filled: Outlook | None,
    heavy_use: Window,
    units: Units,
    *,
    width: int,
    rows: int,
) -> Text:
    """The station in words, its chance of being dry in `rows` rows of bars, its levels."""
    room = max(width - GUTTER, LEVEL_ROOM)
    days = len(found.dry_chance)
    marks = marked_days(found.first_day, days, room)
    lines = [_heading(label, found, filled, units, width)]
    lines += _bars("Dry", found.dry_chance, room, rows)
    if filled is not None:
        lines += _bars(FILLED, filled.dry_chance, room, rows)
    dates = [day_month(found.first_day + timedelta(days=day)) for _, day in marks]
    lines.append(_row("", dates, marks, room, TICK))
    for name, one in (("Dry", found), (FILLED, filled)):
        if one is not None:
            lines.append(_row(name, [chance(one.dry_chance[d]) for _, d in marks], marks, room))
    marks = spaced(marks, room, LEVEL_ROOM)
    for name, one in (("Level", found), (FILLED, filled)):
        if one is not None:
            lines.append(_row(name, [_level(one, d) for _, d in marks], marks, room))
    for line in lines:
        line.truncate(width, overflow="ellipsis")
    return Text("\n").join([*lines, _basis(found, heavy_use)])


def marked_days(first_day: date, days: int, width: int) -> list[Mark]:
    """The first and the last day, and weeks or months between where dates have room."""
    if days == 1:
        return [(0, 0)]
    between = [(day * width // days, day) for day in _candidates(first_day, days)]
    return spaced([(0, 0), *between, (width - 1, days - 1)], width, DATE_ROOM)


def spaced(marks: list[Mark], width: int, room: int) -> list[Mark]:
    """The first and the last mark, and those between with `room` cells to write in."""
    kept, free = marks[:1], room
    for column, day in marks[1:-1]:
        if free <= column <= width - 2 * room:
            kept.append((column, day))
            free = column + room
    return [*kept, *marks[1:][-1:]]


def _candidates(first_day: date, days: int) -> Iterator[int]:
    if days <= WEEKLY_UP_TO:
        yield from range(7, days, 7)
        return
    for day in range(1, days):
        if (first_day + timedelta(days=day)).day == 1:
            yield day


def dry_bars(dry_chance: FloatArray, width: int, rows: int) -> list[str]:
    """Rows of block glyphs from the top; a column shows the worst of its days."""
    days = len(dry_chance)
    heights = []
    for column in range(width):
        start = column * days // width
        stop = max(start + 1, (column + 1) * days // width)
        worst = float(dry_chance[start:stop].max())
        heights.append(max(round(worst * rows * EIGHTHS), int(worst > 0.0)))
    lines = []
    for foot in range((rows - 1) * EIGHTHS, -1, -EIGHTHS):
        glyphs = [EIGHTHS_UP[min(max(height - foot, 0), EIGHTHS)] for height in heights]
        lines.append("".join(glyphs) if foot else "".join(g.strip() or NO_CHANCE for g in glyphs))
    return lines


def _bars(name: str, dry_chance: FloatArray, width: int, rows: int) -> list[Text]:
    bars = dry_bars(dry_chance, width, rows)
    names = [*[""] * (rows - 1), name]
    return [Text(f"{name:{GUTTER}}{line}") for name, line in zip(names, bars, strict=True)]


def _row(name: str, said: list[str], marks: list[Mark], width: int, tick: str = " ") -> Text:
    """Texts below their marks: the last ends there, the others begin there."""
    line = ""
    for (column, _), text in zip(marks[:-1], said[:-1], strict=True):
        line = f"{line:{column}}{tick}{text}"
    end = f"{said[-1]}{tick}"
    return Text(f"{name:{GUTTER}}{line:{max(width - len(end), 0)}}{end}")


def _level(found: Outlook, day: int) -> str:
    low, middle, high = (
        round(100.0 * float(band[day]))
        for band in (found.low_share, found.median_share, found.high_share)
    )
    return f"{middle}% ({low}-{high})"


def _heading(label: str, found: Outlook, filled: Outlook | None, units: Units, width: int) -> Text:
    said = "  the heavy-use weeks end after the chosen day"
    if found.hold_chance is not None:
        said = f"  holds water in heavy use: {chance(found.hold_chance)}"
        if filled is not None and filled.fill is not None:
            then = chance(filled.hold_chance)
            said += f"; {fill_words(filled.fill.volume_l, units)}: {then}"
    return Text.assemble((crop(label, max(width - len(said), GUTTER)), "bold"), said)


def _basis(found: Outlook, heavy_use: Window) -> Text:
    first, last = heavy_use.first, heavy_use.last
    span = f"{day_month(first)} to {day_month(last)}"
    return Text(f"Heavy use {span}. Level: middle, 80% band. Basis: {found.basis}.", "italic")
