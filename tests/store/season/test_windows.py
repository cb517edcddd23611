"""The windows of the year (common practice, no source)."""

from datetime import date, timedelta

import pytest

from store.errors import BadValue
from store.season.month_day import MonthDay, Span
from store.season.tract_season import span_of
from store.season.windows import DEFAULT_SEASON, Season, Window, windows_between
from store.vocabulary import WindowKind


def window_on(day: date, season: Season = DEFAULT_SEASON) -> Window | None:
    """The window a day lies in, the one begun last where two overlap."""
    open_windows = windows_between(day, day, season)
    return open_windows[-1] if open_windows else None


def test_the_windows_of_a_year_in_order():
    windows = windows_between(date(2026, 3, 16), date(2026, 12, 31))
    assert [(w.kind, w.first, w.last) for w in windows] == [
        (WindowKind.RAKE, date(2026, 4, 1), date(2026, 4, 30)),
        (WindowKind.INSTALL, date(2026, 5, 1), date(2026, 5, 20)),
        (WindowKind.READY, date(2026, 9, 15), date(2026, 9, 25)),
        (WindowKind.FILL, date(2026, 10, 8), date(2026, 10, 18)),
        (WindowKind.QUIET, date(2026, 10, 19), date(2026, 11, 17)),
        (WindowKind.HEAVY_USE, date(2026, 10, 20), date(2026, 11, 10)),
        (WindowKind.WINTER, date(2026, 12, 1), date(2027, 3, 15)),
    ]


@pytest.mark.parametrize(
    ("day", "kind"),
    [
        ("2026-03-31", None),
        ("2026-04-01", WindowKind.RAKE),
        ("2026-04-30", WindowKind.RAKE),
        ("2026-05-01", WindowKind.INSTALL),
        ("2026-05-20", WindowKind.INSTALL),
        ("2026-05-21", None),
        ("2026-09-25", WindowKind.READY),
        ("2026-10-18", WindowKind.FILL),
        ("2026-10-19", WindowKind.QUIET),
        ("2026-10-20", WindowKind.HEAVY_USE),
        ("2026-11-10", WindowKind.HEAVY_USE),
        ("2026-11-11", WindowKind.QUIET),
        ("2026-11-18", None),
        ("2026-12-01", WindowKind.WINTER),
    ],
)
def test_window_on(day, kind):
    window = window_on(date.fromisoformat(day))
    assert (window.kind if window else None) == kind


@pytest.mark.parametrize(
    ("first", "last", "kinds"),
    [
        ("2026-04-30", "2026-05-01", ["rake", "install"]),
        ("2026-05-21", "2026-09-14", []),
        ("2025-11-10", "2026-04-01", ["quiet weeks", "heavy use", "winter", "rake"]),
    ],
)
def test_windows_between(first, last, kinds):
    found = windows_between(date.fromisoformat(first), date.fromisoformat(last))
    assert [window.kind for window in found] == kinds


def test_a_logbook_can_shift_its_windows_and_leap_days_fit_every_year():
    season = Season(rake=Span("Early raking", MonthDay(2, 20), MonthDay(2, 29)))
    assert season.window(WindowKind.RAKE, 2028).last == date(2028, 2, 29)
    assert season.window(WindowKind.RAKE, 2026).last == date(2026, 2, 28)
    assert date(2028, 2, 29) in season.window(WindowKind.RAKE, 2028)
    assert window_on(date(2028, 2, 29), season).name == "Early raking"
    assert window_on(date(2028, 2, 29)).kind is WindowKind.WINTER


@pytest.mark.parametrize(
    "make",
    [
        lambda: MonthDay(2, 30),
        lambda: MonthDay(13, 1),
        lambda: span_of(WindowKind.RAKE, MonthDay(5, 2), MonthDay(5, 1)),
        lambda: Season(fill_below_share=1.2),
        lambda: Season(ramp_days=0),
        lambda: Season(upcoming_days=-1),
        lambda: windows_between(date(2026, 2, 1), date(2026, 1, 31)),
    ],
)
def test_impossible_seasons_are_refused(make):
    with pytest.raises(BadValue):
        make()


@pytest.mark.parametrize("after", range(32))
def test_every_day_from_15_october_looks_ahead(after):
    """Neither the weeks to serve nor the day a tank is wanted back is ever past."""
    today = date(2026, 10, 15) + timedelta(days=after)
    weeks = DEFAULT_SEASON.heavy_use_ahead(today)
    wanted_by, top_up = DEFAULT_SEASON.wanted_by(today), DEFAULT_SEASON.top_up_day(today)
    year = 2026 if today < date(2026, 11, 10) else 2027
    assert weeks.last == date(year, 11, 10)
    assert weeks.first == max(date(year, 10, 20), today + timedelta(days=1))
    begun = date(2026, 10, 20) <= today < date(2026, 11, 10)
    assert wanted_by == (weeks.last if begun else weeks.first)
    assert top_up == max(date(year, 10, 8), today + timedelta(days=1))
    assert today < wanted_by <= weeks.last
