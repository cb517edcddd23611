"""The work that comes round every year: install, rake, cover, check, fill, uncover.

Each rule takes a station's history and a year and gives the task of that year
with its state, or None where the station has no such task. Common practice, no
source, except where `Season` says assumed.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from store.season.bears import Stretch, days_to_cover, later_install
from store.season.history import StationHistory
from store.season.prompt import WORK, Prompt, PromptInputs, PromptState, days_of, plain_date
from store.season.windows import Season, Window
from store.vocabulary import Access, Cause, PromptKind, WindowKind

LEAST_WON_DAYS = 1.0
"""Days of use that a fill must win above what its visit costs, to be called worth it (assumed)."""


def year_tasks(
    history: StationHistory, outlook: PromptInputs, season: Season, year: int, today: date
) -> tuple[Prompt, ...]:
    """The tasks of one year, in the order of the year."""
    tasks = (
        _rake(history, season, year, today),
        _install(history, season, year, today),
        _cover(history, season, year, today),
        _check(history, outlook, season, year, today),
        _uncover(history, season, year, today),
        _fill(history, outlook, season, year, today),
    )
    return tuple(task for task in tasks if task is not None)


def _install(history: StationHistory, season: Season, year: int, today: date) -> Prompt | None:
    """Asked for from the first May window that ends after the station is known.

    Where bears move in May the window comes after them. A missed window stays overdue
    until the next one is upcoming, then is skipped.
    """
    window = _install_window(history, season, year)
    known = history.known_since or today
    if history.installed is not None:
        installed = season.year_of(history.installed)
        if not history.install_logged or year > installed:
            return None
        if year == installed:
            done_on = history.installed
            return _task(history, PromptKind.INSTALL, window, PromptState.DONE, done_on=done_on)
    if window.last < known:
        return None
    following = _install_window(history, season, year + 1).first
    overdue_until = following - timedelta(days=season.upcoming_days + 1)
    state = _state(window, overdue_until, today, done_on=None)
    put_off = window != season.window(WindowKind.INSTALL, year)
    why = "put off until bears have moved on" if put_off else ""
    return _task(history, PromptKind.INSTALL, window, state, why)


def _install_window(history: StationHistory, season: Season, year: int) -> Window:
    window = season.window(WindowKind.INSTALL, year)
    return later_install(window, history.bear_season, season.window(WindowKind.READY, year))


def _cover(history: StationHistory, season: Season, year: int, today: date) -> Prompt | None:
    """Before bears move in spring, where the tract says when; of this year alone.

    Under the cover of the winter it is done already.
    """
    bears = history.bear_season
    if bears is None or history.installed is None or year != season.year_of(today):
        return None
    days, end = days_to_cover(bears, today.year), bears.last.in_year(today.year)
    if history.installed > days.last or today > end:
        return None
    if history.covered_since is not None:
        done_on = history.covered_since
        return _task(history, PromptKind.COVER, days, PromptState.DONE, done_on=done_on)
    state = _state(days, end, today, done_on=None)
    return _task(history, PromptKind.COVER, days, state, "bears begin to move")


def _rake(history: StationHistory, season: Season, year: int, today: date) -> Prompt | None:
    """Every April after the year of the install, whose apron is fresh, if there is one."""
    if history.installed is None or year <= season.year_of(history.installed):
        return None
    if history.facts.apron_area_m2 == 0.0:
        return None
    window = season.window(WindowKind.RAKE, year)
    done_on = _first_between(
        history.rakes, season.rake_counts_from(year), _season_end(season, year)
    )
    state = _state(window, season.rake_skipped_after(year), today, done_on)
    return _task(history, PromptKind.RAKE, window, state, done_on=done_on)


def _check(
    history: StationHistory, outlook: PromptInputs, season: Season, year: int, today: date
) -> Prompt | None:
    """A look since 1 August shows a tank ready; asked for by late September.

    This year only where what is seen can change what is done: every walk-in costs use.
    """
    window = season.window(WindowKind.READY, year)
    if history.installed is None or history.installed > window.last:
        return None
    end = _season_end(season, year)
    done_on = _first_between(history.looks, season.look_counts_from(year), end)
    if done_on is None and year == season.year_of(today) and not outlook.look_tells:
        return None
    return _task(
        history, PromptKind.CHECK, window, _state(window, end, today, done_on), done_on=done_on
    )


def _fill(
    history: StationHistory, outlook: PromptInputs, season: Season, year: int, today: date
) -> Prompt | None:
    """Only where a vehicle reaches, and only when the modeled level is low or unknown.

    No water is brought to a covered tank or into a spill.

    A fill done is a task of any year, unless the level has fallen again and the water will
    not last through the heavy-use weeks: then it asks for another. A fill not done is a
    task of the present year up to the end of heavy use alone: whether an earlier year needed
    one is not known.
    """
    window = season.window(WindowKind.FILL, year)
    if history.facts.access is Access.FOOT:
        return None
    if history.installed is None or history.installed > window.last:
        return None
    end, counts_from = _season_end(season, year), season.fill_counts_from(year)
    done_on = max(_between((fill.on for fill in history.fills), counts_from, end), default=None)
    share = outlook.share_at_top_up
    enough = share is not None and share >= season.fill_below_share
    over = year != season.year_of(today) or today > end
    if done_on is not None and (over or enough or not outlook.asks_for_water(season)):
        return _task(history, PromptKind.FILL, window, PromptState.DONE, done_on=done_on)
    if over or (enough and not outlook.asks_for_water(season)):
        return None
    spilled = any(event.cause is Cause.SPILL for event in history.open_events)
    if spilled or history.covered_since is not None:
        return None
    why = _why_fill(outlook, season, share)
    if done_on is not None:
        why = f"filled on {plain_date(done_on)}, {why}"
    state = _state(window, end, today, done_on=None)
    return _task(history, PromptKind.FILL, window, state, why, volume_l=outlook.fill_volume_l)


def _why_fill(outlook: PromptInputs, season: Season, share: float | None) -> str:
    if share is None:
        return f"level not known; look, and fill if below {season.fill_below_share:.0%}"
    why = f"{'read' if outlook.is_read_alone else 'modeled'} at {share:.0%}"
    if outlook.dry_chance is not None and outlook.asks_for_water(season):
        why += f", {outlook.dry_chance:.0%} likely to stand dry in the heavy-use weeks"
    if outlook.fill_gain_days is not None:
        wins = outlook.fill_gain_days - outlook.fill_costs_days
        verdict = "worth the visit" if wins >= LEAST_WON_DAYS else "hardly worth the visit"
        why += (
            f"; a fill brings about {days_of(outlook.fill_gain_days)} with water, deer keep off "
            f"for about {days_of(outlook.fill_costs_days)} after the visit: {verdict}"
        )
    return why


def _uncover(history: StationHistory, season: Season, year: int, today: date) -> Prompt | None:
    """A covered tank is opened when the tanks should be ready.

    In bear country it waits for the fill window, so that it stands open for less
    time (assumed). Nothing is asked while a contamination event is open, nor of
    other years, whose covers are not known.
    """
    kind = WindowKind.FILL if history.facts.bear_country else WindowKind.READY
    window = season.window(kind, year)
    end = _season_end(season, year)
    if history.covered_since is None:
        done_on = _first_between(history.uncoverings, season.look_counts_from(year), end)
        if done_on is None:
            return None
        return _task(history, PromptKind.UNCOVER, window, PromptState.DONE, done_on=done_on)
    if year != season.year_of(today) or today > end or history.open_events:
        return None
    return _task(history, PromptKind.UNCOVER, window, _state(window, end, today, done_on=None))


def _season_end(season: Season, year: int) -> date:
    return season.window(WindowKind.HEAVY_USE, year).last


def _between(days: Iterable[date], first: date, last: date) -> list[date]:
    return [day for day in days if first <= day <= last]


def _first_between(days: Iterable[date], first: date, last: date) -> date | None:
    return min(_between(days, first, last), default=None)


def _state(
    window: Window | Stretch, overdue_until: date, today: date, done_on: date | None
) -> PromptState:
    if done_on is not None:
        return PromptState.DONE
    if today < window.first:
        return PromptState.UPCOMING
    if today <= window.last:
        return PromptState.DUE
    return PromptState.OVERDUE if today <= overdue_until else PromptState.SKIPPED


def _task(
    history: StationHistory,
    kind: PromptKind,
    window: Window | Stretch,
    state: PromptState,
    why: str = "",
    *,
    done_on: date | None = None,
    volume_l: float | None = None,
) -> Prompt:
    work, last = WORK[kind], plain_date(window.last)
    match state:
        case PromptState.UPCOMING:
            text = f"{work} between {plain_date(window.first)} and {last}"
        case PromptState.DUE:
            text = f"{work} by {last}"
        case PromptState.OVERDUE:
            text = f"{work}; it was due by {last}"
        case PromptState.SKIPPED:
            text = f"{work}: not done in {window.last.year}"
        case PromptState.DONE:
            text = f"{work}: done" + (f" on {plain_date(done_on)}" if done_on else "")
    return Prompt(
        station_id=history.facts.station_id,
        kind=kind,
        state=state,
        first=window.first,
        last=window.last,
        text=f"{text} ({why})." if why else f"{text}.",
        done_on=done_on,
        volume_l=volume_l,
    )
