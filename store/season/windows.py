"""The windows of a tank keeper's year, and the numbers its rules turn on.

Every date and number here is common practice, no source, or assumed as said;
all of them live in `Season`, so that a logbook can shift them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from store.errors import BadValue


class WindowKind(StrEnum):
    RAKE = "rake"
    INSTALL = "install"
    READY = "ready"
    FILL = "fill"
    HEAVY_USE = "heavy use"


@dataclass(frozen=True, order=True)
class MonthDay:
    """A day of any year; 29 February falls on the 28th of a common year.

    Raises:
        BadValue: a day that no year has.
    """

    month: int
    day: int

    def __post_init__(self) -> None:
        try:
            date(2024, self.month, self.day)
        except ValueError as error:
            raise BadValue(
                f"Month {self.month}, day {self.day} is in no calendar; give a day that exists."
            ) from error

    def __str__(self) -> str:
        """As the logbook keeps it: 04-15."""
        return f"{self.month:02}-{self.day:02}"

    def in_year(self, year: int) -> date:
        try:
            return date(year, self.month, self.day)
        except ValueError:
            return date(year, self.month, self.day - 1)


@dataclass(frozen=True)
class Span:
    """A named stretch of any year, both ends included; it may not cross New Year."""

    name: str
    first: MonthDay
    last: MonthDay

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise BadValue(f"The window '{self.name}' ends before it begins; swap its days.")


@dataclass(frozen=True)
class Window:
    """A window of one year, both ends included."""

    kind: WindowKind
    name: str
    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last


@dataclass(frozen=True)
class Season:
    """The windows and limits one logbook works by.

    Raises:
        BadValue: they contradict each other.
    """

    rake: Span = Span("April raking", MonthDay(4, 1), MonthDay(4, 30))
    install: Span = Span("May installs, soil still moist", MonthDay(5, 1), MonthDay(5, 20))
    ready: Span = Span("Ready by late September", MonthDay(9, 15), MonthDay(9, 25))
    fill: Span = Span("Mid-October fill", MonthDay(10, 8), MonthDay(10, 20))
    heavy_use: Span = Span("Heavy-use weeks", MonthDay(10, 20), MonthDay(11, 10))

    rake_counts_from: MonthDay = MonthDay(3, 1)
    """A rake from this day to the end of heavy use is the year's rake."""
    rake_skipped_after: MonthDay = MonthDay(6, 30)
    """A missing rake is overdue to this day, then skipped."""
    look_counts_from: MonthDay = MonthDay(8, 1)
    """A look from this day on shows that the tank is ready."""
    fill_counts_from: MonthDay = MonthDay(10, 1)
    """A fill from this day to the end of heavy use is the year's fill."""
    fill_below_share: float = 0.75
    """A modeled level under this share of the tank on the top-up date asks for a fill."""
    ramp_days: int = 120
    """Days that a confirmed escape ramp stays confirmed (assumed)."""
    upcoming_days: int = 30
    """How far ahead a window shows among the open prompts (assumed)."""

    def __post_init__(self) -> None:
        if not 0.0 <= self.fill_below_share <= 1.0:
            raise BadValue(
                f"A fill below {self.fill_below_share:g} of the tank cannot be; "
                "give a share from 0 to 1."
            )
        if self.ramp_days < 1 or self.upcoming_days < 0:
            raise BadValue(
                "The season's ramp_days must be 1 or more and upcoming_days 0 or more; "
                f"they are {self.ramp_days} and {self.upcoming_days}."
            )

    def window(self, kind: WindowKind, year: int) -> Window:
        """The window of that kind in that year."""
        span = self._span(kind)
        return Window(kind, span.name, span.first.in_year(year), span.last.in_year(year))

    def heavy_use_ahead(self, today: date) -> Window:
        """The heavy-use weeks still to be served: what is left of them from tomorrow on.

        On their last day they are next year's.
        """
        tomorrow = today + timedelta(days=1)
        weeks = next_window(self, WindowKind.HEAVY_USE, tomorrow)
        return replace(weeks, first=max(weeks.first, tomorrow))

    def wanted_by(self, today: date) -> date:
        """The day a tank out of use is wanted back: the first of the heavy-use weeks.

        Once they have begun it is their last.
        """
        weeks = self.heavy_use_ahead(today)
        first = self.window(WindowKind.HEAVY_USE, weeks.last.year).first
        return first if first > today else weeks.last

    def top_up_day(self, today: date) -> date:
        """The first day still to come on which a fill serves the heavy-use weeks ahead."""
        window = self.window(WindowKind.FILL, self.heavy_use_ahead(today).last.year)
        return max(window.first, today + timedelta(days=1))

    def _span(self, kind: WindowKind) -> Span:
        match kind:
            case WindowKind.RAKE:
                return self.rake
            case WindowKind.INSTALL:
                return self.install
            case WindowKind.READY:
                return self.ready
            case WindowKind.FILL:
                return self.fill
            case WindowKind.HEAVY_USE:
                return self.heavy_use


DEFAULT_SEASON = Season()


def windows_between(first: date, last: date, season: Season = DEFAULT_SEASON) -> tuple[Window, ...]:
    """Every window that touches the days from `first` to `last`, earliest first.

    Raises:
        BadValue: `last` is before `first`.
    """
    if last < first:
        raise BadValue(f"{last} is before {first}; give the earlier day first.")
    windows = (
        season.window(kind, year)
        for year in range(first.year, last.year + 1)
        for kind in WindowKind
    )
    touching = (window for window in windows if window.first <= last and window.last >= first)
    return tuple(sorted(touching, key=lambda window: (window.first, window.last)))


def next_window(season: Season, kind: WindowKind, today: date) -> Window:
    """The window of that kind that today lies in, or the next one to come."""
    ahead = windows_between(today, today + timedelta(days=400), season)
    return next(window for window in ahead if window.kind is kind)
