"""What the season screen draws: the answer's rows as the widget's marks and spans."""

from __future__ import annotations

from datetime import date
from functools import partial

from store.season.prompt import SET_ASIDE_STATES
from store.units import Units
from store.views.log_lines import LineKind, LogLine
from store.views.timeline import SeasonTimeline, SpanKind, TimelineRow
from store.views.timeline_levels import LevelOn
from store.vocabulary import WindowKind
from tui.base.log_marks import DANGER, glyph, with_note
from tui.widgets.timeline_data import Mark, Row, Span, TimelineData, Window
from tui.words import prompt_mark

SHORT_WINDOWS = {
    WindowKind.RAKE: "Rake",
    WindowKind.INSTALL: "Install",
    WindowKind.READY: "Ready",
    WindowKind.FILL: "Fill",
    WindowKind.QUIET: "Quiet",
    WindowKind.HEAVY_USE: "Use",
    WindowKind.WINTER: "Winter",
}
SPAN_KINDS = {SpanKind.DRY_AHEAD: "low", SpanKind.UPCOMING: "other"}
"""Kinds the widget draws under another name; the rest keep their own."""
MARK_KINDS = {
    LineKind.EVENT: "contamination",
    LineKind.ACTION: "contamination",
    LineKind.CHORE: "chore",
    LineKind.READING: "reading",
}


def timeline_data(
    timeline: SeasonTimeline, rows: tuple[TimelineRow, ...], units: Units
) -> TimelineData:
    """The widget's data for some of the rows."""
    seasons = {row.station.tract_id: _windows(row) for row in rows}
    return TimelineData(
        first_day=timeline.first_day,
        last_day=timeline.last_day,
        today=timeline.today,
        rows=tuple(_row(timeline, row, units, seasons[row.station.tract_id]) for row in rows),
    )


def _windows(row: TimelineRow) -> tuple[Window, ...]:
    return tuple(
        Window(
            window.first,
            window.last,
            window.name,
            SHORT_WINDOWS[window.kind],
            shaded=window.kind is WindowKind.QUIET,
        )
        for window in row.windows
    )


def _row(
    timeline: SeasonTimeline, row: TimelineRow, units: Units, windows: tuple[Window, ...]
) -> Row:
    marks = [
        Mark(line.on, glyph(line), mark_kind(line), with_note(line, units)) for line in row.marks
    ]
    if row.standing:
        first = row.standing[0]
        sign = prompt_mark(first)
        kind = "contamination" if first.endangers else "other"
        if sign.strip():
            marks.append(Mark(timeline.today, sign, kind, first.text))
    for task in row.tasks:
        if task.state in SET_ASIDE_STATES:
            day = task.put_off_to or task.first
            marks.append(Mark(day, prompt_mark(task), "other", task.text))
    return Row(
        key=row.station.station_id,
        name=row.label,
        windows=windows,
        level_on=partial(_level_on, row.level_on),
        marks=tuple(marks),
        spans=tuple(
            Span(span.first, span.last, SPAN_KINDS.get(span.kind, span.kind.value), span.text)
            for span in row.spans
        ),
    )


def _level_on(level_on: LevelOn, day: date) -> tuple[float, float] | None:
    level = level_on(day)
    return None if level is None else (level.share, level.spread)


def mark_kind(line: LogLine) -> str:
    """How much a mark matters where several share a cell; danger comes first."""
    return "contamination" if glyph(line) == DANGER else MARK_KINDS.get(line.kind, "other")
