"""Bears at a station: the pattern of their visits, and the spring they move in.

Common practice, no source, except the numbers said to be assumed: drain or cover a
tank that bears come to until they have lost the habit, and in bear country set
tanks late or keep them covered while bears move in spring.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from store.errors import BadValue
from store.records import TractFacts
from store.season.month_day import Span, month_day
from store.season.windows import Window

BROKEN_AFTER_DAYS = 14
"""Days without a bear after which the pattern counts as broken (assumed)."""
COVER_AHEAD_DAYS = 14
"""How long before bears move a tank is to be covered (assumed)."""


@dataclass(frozen=True)
class BearSeen:
    """Visits on one day."""

    on: date
    visits: int


@dataclass(frozen=True)
class BearPattern:
    """Visits in a run, with no gap as long as `BROKEN_AFTER_DAYS`; the latest one."""

    first: date
    last: date
    visits: int

    @property
    def per_week(self) -> float:
        return 7.0 * self.visits / ((self.last - self.first).days + 1)

    @property
    def broken_from(self) -> date:
        """The day from which it counts as broken, if no bear comes before."""
        return self.last + timedelta(days=BROKEN_AFTER_DAYS)

    def is_broken(self, today: date) -> bool:
        return today >= self.broken_from


def bear_pattern(visits: Sequence[BearSeen]) -> BearPattern | None:
    """The latest run of visits, oldest first as given; None where no bear came."""
    pattern: BearPattern | None = None
    for seen in visits:
        if seen.visits == 0:
            continue
        if pattern is None or pattern.is_broken(seen.on):
            pattern = BearPattern(seen.on, seen.on, seen.visits)
        else:
            pattern = BearPattern(pattern.first, seen.on, pattern.visits + seen.visits)
    return pattern


def bear_season(tract: TractFacts) -> Span | None:
    """When bears move on a tract; None where either day is not known.

    Raises:
        BadValue: days that are none, or that cross New Year.
    """
    if tract.bear_season_first is None or tract.bear_season_last is None:
        return None
    name = f"The bear season of {tract.name}"
    try:
        first, last = month_day(tract.bear_season_first), month_day(tract.bear_season_last)
    except BadValue as error:
        raise BadValue(f"{name}: {error}") from error
    if last < first:
        raise BadValue(f"{name} ends before it begins; swap its days.")
    return Span(f"Bears move on {tract.name}", first, last)


@dataclass(frozen=True)
class Stretch:
    first: date
    last: date


def days_to_cover(season: Span, year: int) -> Stretch:
    """The days in which to cover a tank before bears move."""
    first = season.first.in_year(year)
    return Stretch(first - timedelta(days=COVER_AHEAD_DAYS), first)


def later_install(window: Window, season: Span | None, ready: Window) -> Window:
    """The install window, put off until bears have moved on where the two overlap.

    As long as before, but over before the tanks should be ready; as it was where
    bears move beyond that.
    """
    if season is None:
        return window
    year = window.first.year
    first, last = season.first.in_year(year), season.last.in_year(year)
    later = last + timedelta(days=1)
    if last < window.first or first > window.last or later >= ready.first:
        return window
    end = min(later + (window.last - window.first), ready.first - timedelta(days=1))
    return Window(window.kind, f"{window.name}, after the bears", later, end)
