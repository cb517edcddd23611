"""What a season timeline shows: rows of marks and spans, windows over all of them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from tui.widgets.axis import Axis


@dataclass(frozen=True)
class Window:
    """A stretch of days in which a piece of work counts; `short` stands in for `label`."""

    first: date
    last: date
    label: str
    short: str
    shaded: bool = False
    """Whether its days are shaded in the rows too."""


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
    windows: tuple[Window, ...] = ()
    """Shown in the header while the cursor is on the row."""
    level_on: Callable[[date], tuple[float, float] | None] | None = None
    """From a day to how full the row's tank was, 0 to 1, and how unsure that is, likewise."""


@dataclass(frozen=True)
class TimelineData:
    first_day: date
    last_day: date
    today: date
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
    "low": "▒",
    "skipped": "╲",
    "covered": "═",
    "other": "─",
}
"""Fill of every kind of span, most important first: where spans overlap that one is shown."""

LEVEL_GLYPHS = "▁▂▃▄▅▆▇█"
UNSURE_GLYPH = "~"
UNSURE_SPREAD = 1 / 3
"""A level less sure than this share of the tank is drawn with gaps of the unsure glyph."""


def level_glyph(share: float) -> str:
    """A block as high as a tank is full, 0 to 1."""
    step = min(int(share * len(LEVEL_GLYPHS)), len(LEVEL_GLYPHS) - 1)
    return LEVEL_GLYPHS[max(step, 0)]


SPAN_KINDS = tuple(SPAN_GLYPHS)


def rank(kind: str, kinds: tuple[str, ...]) -> int:
    """Place of `kind` in order of importance; an unknown kind counts as `other`, the last."""
    return kinds.index(kind) if kind in kinds else len(kinds) - 1
