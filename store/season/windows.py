"""The windows of a tank keeper's year, and the numbers its rules turn on.

Every date and number here is common practice, no source, or assumed as said; all of them
live in `Season`. `tract_season.py` says which season a tract goes by.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from store.errors import BadValue
from store.season.month_day import COMMON_YEAR, NEW_YEAR, MonthDay, Span
from store.vocabulary import WindowKind


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
    """The windows and limits the stations of one tract are kept by.

    A season year is named by the calendar year it ends in and starts on `starts`: on
    1 January in the north; in the south in July, so that raking comes before heavy use.

    Raises:
        BadValue: they contradict each other.
    """

    rake: Span = Span("April raking", MonthDay(4, 1), MonthDay(4, 30))
    install: Span = Span("May installs, soil still moist", MonthDay(5, 1), MonthDay(5, 20))
    ready: Span = Span("Ready by late September", MonthDay(9, 15), MonthDay(9, 25))
    fill: Span = Span("Mid-October fill", MonthDay(10, 8), MonthDay(10, 18))
    quiet: Span = Span("Quiet weeks, no visits", MonthDay(10, 19), MonthDay(11, 17))
    heavy_use: Span = Span("Heavy-use weeks", MonthDay(10, 20), MonthDay(11, 10))
    winter: Span = Span("Winter: cover, drain or leave", MonthDay(12, 1), MonthDay(3, 15))
    starts: MonthDay = NEW_YEAR

    rake_lead_days: int = 31
    """A rake this long before its window up to the end of heavy use is the year's rake."""
    rake_grace_days: int = 61
    """A missing rake is overdue this long after its window, then skipped."""
    look_lead_days: int = 45
    """A look this long before the tanks should be ready shows that one is."""
    fill_lead_days: int = 7
    """A fill this long before its window up to the end of heavy use is the year's fill."""
    fill_below_share: float = 0.75
    """A modeled level under this share of the tank on the top-up date asks for a fill."""
    dry_chance_most: float = 0.5
    """So does a higher chance that the tank is dry in the heavy-use weeks (assumed)."""
    visit_days: float = 10.0
    """Days of use that a visit costs; one to two weeks until the habit is back."""
    ramp_days: int = 120
    """Days that a confirmed escape ramp stays confirmed (assumed)."""
    upcoming_days: int = 30
    """How far ahead a window shows among the open prompts (assumed)."""

    def __post_init__(self) -> None:
        for name, share in (
            ("fill below", self.fill_below_share),
            ("dry chance", self.dry_chance_most),
        ):
            if not 0.0 <= share <= 1.0:
                raise BadValue(f"The season's {name} is a share from 0 to 1, not {share:g}.")
        if self.ramp_days < 1 or self.upcoming_days < 0 or self.visit_days < 0.0:
            raise BadValue(
                "The season's ramp_days must be 1 or more, upcoming_days and visit_days 0 or "
                f"more; they are {self.ramp_days}, {self.upcoming_days} and {self.visit_days:g}."
            )
        _check_order(self)

    def span(self, kind: WindowKind) -> Span:
        span = getattr(self, kind.name.lower())
        assert isinstance(span, Span)
        return span

    def window(self, kind: WindowKind, year: int) -> Window:
        """The window of that kind in that season year."""
        span = self.span(kind)
        first = span.first.in_season(year, self.starts)
        return Window(kind, span.name, first, span.last_after(first))

    def year_of(self, day: date) -> int:
        """The season year a day lies in."""
        begun = self.starts > NEW_YEAR and day >= self.starts.in_year(day.year)
        return day.year + 1 if begun else day.year

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
        first = self.window(WindowKind.HEAVY_USE, self.year_of(weeks.last)).first
        return first if first > today else weeks.last

    def top_up_day(self, today: date) -> date:
        """The first day still to come on which a fill serves the heavy-use weeks ahead."""
        window = self.window(WindowKind.FILL, self.year_of(self.heavy_use_ahead(today).last))
        return max(window.first, today + timedelta(days=1))

    def rake_counts_from(self, year: int) -> date:
        return self.window(WindowKind.RAKE, year).first - timedelta(days=self.rake_lead_days)

    def rake_skipped_after(self, year: int) -> date:
        return self.window(WindowKind.RAKE, year).last + timedelta(days=self.rake_grace_days)

    def look_counts_from(self, year: int) -> date:
        return self.window(WindowKind.READY, year).first - timedelta(days=self.look_lead_days)

    def fill_counts_from(self, year: int) -> date:
        return self.window(WindowKind.FILL, year).first - timedelta(days=self.fill_lead_days)


_IN_ORDER = (
    WindowKind.RAKE,
    WindowKind.INSTALL,
    WindowKind.READY,
    WindowKind.FILL,
    WindowKind.HEAVY_USE,
)
"""Each begins after the one before in any season year."""


def _day(day: date) -> str:
    return f"{day.day} {day:%B}"


def _check_order(season: Season) -> None:
    """Raise BadValue where windows overlap that cannot, or are out of their order."""
    year = COMMON_YEAR
    for before, after in pairwise(season.window(kind, year) for kind in _IN_ORDER):
        if after.first <= before.first:
            raise BadValue(
                f"{after.name} would begin {_day(after.first)}, no later than {before.name} on "
                f"{_day(before.first)}; move one of them."
            )
    use, winter = season.window(WindowKind.HEAVY_USE, year), season.winter
    fill, ready = season.window(WindowKind.FILL, year), season.window(WindowKind.READY, year)
    if ready.last >= use.first or fill.first > use.last:
        raise BadValue(
            f"{ready.name} and {fill.name} serve the heavy-use weeks from {_day(use.first)} to "
            f"{_day(use.last)}; they must not come after them."
        )
    for one in (year - 1, year):
        cold = season.window(WindowKind.WINTER, one)
        if cold.first <= use.last and cold.last >= use.first:
            raise BadValue(
                f"Winter from {winter.first.words} to {winter.last.words} would overlap the "
                "heavy-use weeks; move one of them."
            )
    if season.window(WindowKind.QUIET, year).last < use.first:
        raise BadValue("The quiet weeks would be over before heavy use begins; move one of them.")


DEFAULT_SEASON = Season()
NO_WORK = frozenset({WindowKind.QUIET, WindowKind.WINTER})
"""Windows that ask for nothing to be done in them."""


def windows_between(first: date, last: date, season: Season = DEFAULT_SEASON) -> tuple[Window, ...]:
    """Every window that touches the days from `first` to `last`, earliest first.

    Raises:
        BadValue: `last` is before `first`.
    """
    if last < first:
        raise BadValue(f"{last} is before {first}; give the earlier day first.")
    windows = (
        season.window(kind, year)
        for year in range(first.year - 1, last.year + 2)
        for kind in WindowKind
    )
    touching = (window for window in windows if window.first <= last and window.last >= first)
    return tuple(sorted(touching, key=lambda window: (window.first, window.last)))


def next_window(season: Season, kind: WindowKind, today: date) -> Window:
    """The window of that kind that today lies in, or the next one to come."""
    year = season.year_of(today)
    years = (season.window(kind, one) for one in (year - 1, year, year + 1, year + 2))
    return next(window for window in years if window.last >= today)
