"""What a season timeline shows: rows of marks and spans, windows over all of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tui.widgets.axis import MONTHS, Axis
from tui.widgets.cells import one_line


@dataclass(frozen=True)
class Window:
    """A stretch of days in which a piece of work counts; `short` stands in for `label`."""

    first: date
    last: date
    label: str
    short: str


@dataclass(frozen=True)
class Mark:
    """Something that happened on a day; `glyph` is one cell, `kind` one of `MARK_KINDS`."""

    day: date
    glyph: str
    kind: str
    label: str


@dataclass(frozen=True)
class Span:
    """A state that held from `first` to `last`; `kind` is one of `SPAN_GLYPHS`."""

    first: date
    last: date
    kind: str
    label: str


@dataclass(frozen=True)
class Row:
    key: str
    name: str
    marks: tuple[Mark, ...] = ()
    spans: tuple[Span, ...] = ()


@dataclass(frozen=True)
class TimelineData:
    first_day: date
    last_day: date
    today: date
    windows: tuple[Window, ...] = ()
    rows: tuple[Row, ...] = ()

    def __post_init__(self) -> None:
        if self.last_day < self.first_day:
            raise ValueError("A timeline must not end before it begins.")

    def axis(self, days_per_column: int) -> Axis:
        return Axis(self.first_day, self.last_day, days_per_column)

    @cached_property
    def index_of_key(self) -> dict[str, int]:
        return {row.key: index for index, row in enumerate(self.rows)}


MARK_KINDS = ("contamination", "chore", "reading", "other")
"""Most important first: where marks share a cell the first of these is shown."""

SPAN_GLYPHS = {
    "contaminated": "╳",  # noqa: RUF001 - a drawn cross
    "overdue": "╱",  # noqa: RUF001 - a drawn slope
    "due": "·",
    "dry": "░",
    "low": "▁",
    "skipped": "-",
    "covered": "═",
    "other": "─",
}
"""Fill of every kind of span, most important first: where spans overlap that one is shown."""

SPAN_KINDS = tuple(SPAN_GLYPHS)


def rank(kind: str, kinds: tuple[str, ...]) -> int:
    """Place of `kind` in order of importance; an unknown kind counts as `other`, the last."""
    return kinds.index(kind) if kind in kinds else len(kinds) - 1


def texts_at(data: TimelineData, row: Row, first: date, last: date) -> tuple[str, ...]:
    """What stands in `row` on the days `first` to `last`: marks, then spans, then windows."""
    marks = sorted(
        (mark for mark in row.marks if first <= mark.day <= last),
        key=lambda mark: (rank(mark.kind, MARK_KINDS), mark.day),
    )
    spans = sorted(
        (span for span in row.spans if span.first <= last and span.last >= first),
        key=lambda span: (rank(span.kind, SPAN_KINDS), span.first),
    )
    windows = [window for window in data.windows if window.first <= last and window.last >= first]
    texts = [f"{_short(mark.day)} {mark.glyph} {mark.label}" for mark in marks]
    texts += [f"{span.label}, {_stretch(span.first, span.last)}" for span in spans]
    texts += [f"{window.label}, {_stretch(window.first, window.last)}" for window in windows]
    return tuple(one_line(text) for text in texts)


def _short(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"


def _stretch(first: date, last: date) -> str:
    return _short(first) if first == last else f"{_short(first)} to {_short(last)}"
