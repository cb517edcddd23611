"""What the lines below the season timeline say."""

from __future__ import annotations

from datetime import date

from rich.console import Console
from rich.text import Text

from store.season.cautions import in_words_of_the_job
from store.season.prompt import OPEN_STATES, Prompt
from store.season.windows import Window
from store.units import Units
from store.views.timeline import SeasonTimeline, TimelineRow
from store.views.timeline_cell import CellDetail, cell_detail
from store.views.timeline_levels import DayLevel
from tui import words
from tui.base import log_marks
from tui.base.log_marks import glyph, with_note
from tui.widgets.timeline_data import LEVEL_GLYPHS, SPAN_GLYPHS, UNSURE_GLYPH, UNSURE_SPREAD

_SPANS = {
    "contaminated": ("foul", "fouled"),
    "overdue": ("late", "late"),
    "due": ("due", "due"),
    "other": ("next", "next"),
    "skipped": ("not", "missed"),
    "dry": ("", ""),
    "low": ("dry", "dry"),
    "covered": ("lid", "lid"),
}
"""What spans stand for, in short and in full; a dry one is drawn in two ways."""


def _spans(index: int, space: str) -> str:
    named = ((SPAN_GLYPHS[kind], said[index]) for kind, said in _SPANS.items())
    return "".join(f"{glyph}{space}{said} " if said else glyph for glyph, said in named).rstrip()


LEVELS = (
    f"{LEVEL_GLYPHS[0]}{LEVEL_GLYPHS[3]}{LEVEL_GLYPHS[-1]} how full  "
    f"{UNSURE_GLYPH} unsure by a third of the tank  + more  > put off  x declined"
)
LEGEND = f"{LEVELS}\n{log_marks.LEGEND} {_spans(0, '')}"
WIDE_LEGEND = f"{LEVELS}\n{log_marks.WIDE_LEGEND} {_spans(1, ' ')}"
_CONSOLE = Console(width=80)


def told_lines(
    timeline: SeasonTimeline,
    row: TimelineRow,
    first: date,
    last: date,
    units: Units,
    width: int,
    height: int,
) -> Text:
    """At most `height` lines of `width` cells on what stands in a row on some days.

    One line names the row and the days, two or more tell, the rest are for the caution.
    """
    told = cell_detail(timeline, row, first, last)
    heading = _heading(row, told.windows, first, last)
    heading.truncate(max(1, width), overflow="ellipsis")
    lines = [heading]
    caution = _cut(_wrapped(_caution(told, units), width), max(1, height - 3), width)
    room = max(1, height - len(lines) - len(caution))
    full = row.level_on(first + (last - first) / 2)
    said = _cut(_wrapped(_said(told, full, units), width), room, width)
    return Text("\n").join([*lines, *said, *caution])


def _cut(lines: list[Text], room: int, width: int) -> list[Text]:
    """The first lines, with an ellipsis where more follow."""
    if len(lines) <= room:
        return lines
    lines = lines[:room]
    lines[-1].truncate(max(1, width - 1))
    lines[-1].append("…")
    return lines


def _wrapped(text: Text, width: int) -> list[Text]:
    if not text:
        return []
    lines = list(text.wrap(_CONSOLE, max(10, width)))
    for line in lines:
        line.rstrip()
    return lines


def _heading(row: TimelineRow, windows: tuple[Window, ...], first: date, last: date) -> Text:
    days = (
        words.full_day(first)
        if first == last
        else f"{words.day_month(first)} to {words.full_day(last)}"
    )
    named = "".join(f"; {window.name}, {_stretch(window)}" for window in windows)
    return Text.assemble((f"{row.label}, {row.tract}", "bold"), f"  {days}{named}")


def _stretch(window: Window) -> str:
    if window.first.month == window.last.month:
        return f"{window.first.day} to {words.day_month(window.last)}"
    return f"{words.day_month(window.first)} to {words.day_month(window.last)}"


def _said(told: CellDetail, full: DayLevel | None, units: Units) -> Text:
    parts = [
        f"{words.day_month(mark.on)} {glyph(mark)} {with_note(mark, units)}." for mark in told.marks
    ]
    parts += [span.text for span in told.spans]
    parts += [_task(task) for task in told.tasks]
    if full is not None:
        unsure = ", but that is unsure" if full.spread > UNSURE_SPREAD else ""
        parts.append(f"About {words.percent(full.share)} full{unsure}.")
    return Text("  ".join(parts) or "Nothing stands here.")


def _task(task: Prompt) -> str:
    mark = words.prompt_mark(task).strip()
    return f"{mark} {task.text}" if mark else task.text


def _caution(told: CellDetail, units: Units) -> Text:
    if not told.cautions:
        return Text()
    brought_l = sum(task.volume_l or 0.0 for task in told.tasks if task.state in OPEN_STATES)
    first, *others = in_words_of_the_job(told.cautions, units, brought_l)
    also = f" (Also: {', '.join(caution.subject.lower() for caution in others)}.)"
    return Text.assemble((f"{first.subject}: ", "bold"), first.text, also if others else "")
