"""Seasons by latitude and by what a tract's keeper set."""

from datetime import date, timedelta

import pytest

from store.errors import BadValue
from store.records import SeasonLimit, SeasonWindow, TractFacts
from store.season.month_day import MonthDay
from store.season.tract_season import default_season, limit_of, span_of, tract_season
from store.season.windows import DEFAULT_SEASON, Season, windows_between
from store.vocabulary import LimitKind, WindowKind

TRACT = TractFacts("t1", "Far hill")
NORTH, SOUTH = 43.0, -41.5


def days(season: Season, kind: WindowKind, year: int) -> tuple[date, date]:
    window = season.window(kind, year)
    return window.first, window.last


def changed(*facts: SeasonWindow | SeasonLimit, latitude_deg: float | None = NORTH) -> Season:
    return tract_season(TRACT, facts, latitude_deg)


def window(kind: WindowKind, first: str, last: str, tract_id: str = "t1") -> SeasonWindow:
    return SeasonWindow(tract_id, kind, first, last)


@pytest.mark.parametrize("latitude_deg", [None, 39.0, 42.0, 45.0])
def test_the_usual_latitudes_have_the_usual_season(latitude_deg):
    assert default_season(latitude_deg) == DEFAULT_SEASON


def test_spring_comes_four_days_later_a_degree_in_whole_weeks():
    """Hopkins 1920, Mon. Wea. Rev. 48(6):355; four degrees beyond the usual: 16 days."""
    north, south = default_season(49.0), default_season(35.0)
    assert days(north, WindowKind.RAKE, 2026) == (date(2026, 4, 15), date(2026, 5, 14))
    assert days(south, WindowKind.RAKE, 2026) == (date(2026, 3, 18), date(2026, 4, 16))
    assert north.rake.name == "April raking"
    assert south.rake.name == "March raking"
    for kind in (WindowKind.READY, WindowKind.FILL, WindowKind.HEAVY_USE):
        assert north.span(kind) == south.span(kind) == DEFAULT_SEASON.span(kind)


def test_a_southern_season_runs_across_new_year():
    season = default_season(SOUTH)
    assert days(season, WindowKind.RAKE, 2026) == (date(2025, 10, 1), date(2025, 10, 30))
    assert days(season, WindowKind.INSTALL, 2026) == (date(2025, 11, 1), date(2025, 11, 20))
    assert days(season, WindowKind.FILL, 2026) == (date(2026, 4, 8), date(2026, 4, 18))
    assert days(season, WindowKind.HEAVY_USE, 2026) == (date(2026, 4, 20), date(2026, 5, 10))
    assert days(season, WindowKind.WINTER, 2026) == (date(2026, 6, 1), date(2026, 9, 15))
    assert season.fill.name == "Mid-April fill"
    assert [season.year_of(day) for day in (date(2025, 6, 30), date(2025, 7, 1))] == [2025, 2026]


@pytest.mark.parametrize("latitude_deg", [60.0, 41.0, 28.0, -28.0, -45.0])
def test_the_weeks_ahead_are_never_past(latitude_deg):
    season = default_season(latitude_deg)
    for after in range(800):
        today = date(2026, 1, 1) + timedelta(days=after)
        weeks, top_up = season.heavy_use_ahead(today), season.top_up_day(today)
        assert today < weeks.first <= weeks.last < today + timedelta(days=400)
        assert today < season.wanted_by(today) <= weeks.last
        assert today < top_up <= weeks.last


def test_a_keeper_moves_windows_of_one_tract():
    moved = changed(
        window(WindowKind.RAKE, "03-10", "03-31"),
        window(WindowKind.RAKE, "03-20", "04-10"),
        window(WindowKind.FILL, "10-01", "10-09"),
        window(WindowKind.INSTALL, "06-01", "06-20", tract_id="another"),
    )
    assert days(moved, WindowKind.RAKE, 2026) == (date(2026, 3, 20), date(2026, 4, 10))
    assert moved.rake.name == "March raking"
    assert moved.fill.name == "Early-October fill"
    assert moved.install == DEFAULT_SEASON.install


def test_a_leap_day_is_the_28th_of_other_years():
    early = changed(window(WindowKind.RAKE, "02-29", "03-20"))
    assert days(early, WindowKind.RAKE, 2028)[0] == date(2028, 2, 29)
    assert days(early, WindowKind.RAKE, 2027)[0] == date(2027, 2, 28)


def test_limits_are_set_in_the_unit_people_say():
    season = changed(
        SeasonLimit("t1", LimitKind.FILL_BELOW, 60.0),
        SeasonLimit("t1", LimitKind.DRY_CHANCE, 25.0),
        SeasonLimit("t1", LimitKind.VISIT_DAYS, 14.0),
        SeasonLimit("t1", LimitKind.RAMP_DAYS, 90.0),
    )
    assert (season.fill_below_share, season.dry_chance_most) == pytest.approx((0.6, 0.25))
    assert [limit_of(season, limit) for limit in LimitKind] == pytest.approx([60, 25, 14, 90])


@pytest.mark.parametrize(
    ("facts", "sentence"),
    [
        ([window(WindowKind.RAKE, "04-30", "04-01")], r"would last 337 days.*swap its days"),
        ([window(WindowKind.RAKE, "4/30", "05-01")], r"'4/30' is no day of the year"),
        ([window(WindowKind.RAKE, "02-30", "03-02")], r"is in no calendar"),
        ([window(WindowKind.FILL, "11-15", "11-20")], r"must not come after them|no later than"),
        ([window(WindowKind.INSTALL, "03-01", "03-20")], r"no later than April raking"),
        ([window(WindowKind.WINTER, "11-01", "03-01")], r"would overlap the heavy-use weeks"),
        ([window(WindowKind.QUIET, "09-01", "10-01")], r"over before heavy use begins"),
        ([SeasonLimit("t1", LimitKind.FILL_BELOW, 120.0)], r"share from 0 to 1"),
        ([SeasonLimit("t1", LimitKind.RAMP_DAYS, 0.0)], r"ramp_days must be 1 or more"),
    ],
)
def test_seasons_that_contradict_themselves_are_refused(facts, sentence):
    with pytest.raises(BadValue, match=sentence):
        changed(*facts)


def test_every_window_of_two_southern_years_stands_in_order():
    found = windows_between(date(2025, 7, 1), date(2027, 6, 30), default_season(SOUTH))
    kinds = [one.kind for one in found if one.first >= date(2025, 7, 1)]
    assert len(kinds) == 2 * len(WindowKind)
    assert kinds[0] is WindowKind.RAKE
    assert span_of(WindowKind.WINTER, MonthDay(12, 1), MonthDay(2, 1)).last == MonthDay(2, 1)
