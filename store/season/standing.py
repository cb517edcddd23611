"""What stands until somebody deals with it: ramps, fouling, bears, a tank running dry."""

from __future__ import annotations

from datetime import date, timedelta

from store.contamination.events import EventHistory
from store.contamination.remedies import NO_BAILING
from store.season.bears import bear_pattern
from store.season.history import StationHistory
from store.season.prompt import Prompt, PromptInputs, PromptState, plain_date
from store.season.windows import Season
from store.vocabulary import Access, PromptKind, WindowKind


def standing_prompts(
    history: StationHistory, outlook: PromptInputs, season: Season, today: date
) -> tuple[Prompt, ...]:
    """The standing prompts of an installed station; none before its install."""
    if history.installed is None:
        return ()
    events = (
        _contamination(history, event, outlook, season, today) for event in history.open_events
    )
    others = (
        _ramp(history, history.installed, season, today),
        _run_dry(history, outlook, season, today),
        _bears(history, today),
    )
    return tuple(prompt for prompt in (*others, *events) if prompt is not None)


def _ramp(history: StationHistory, installed: date, season: Season, today: date) -> Prompt | None:
    """A ramp never confirmed, seen missing, or last confirmed too long ago."""
    seen = history.last_ramp_check
    endangers = False
    if seen is None:
        first = installed
        text = "Check that the escape ramp is in place and reaches the bottom; no check is logged."
    elif not seen.in_place:
        first, endangers = seen.on, True
        text = f"Put the escape ramp back; it was seen missing on {plain_date(seen.on)}."
    else:
        first = seen.on + timedelta(days=season.ramp_days + 1)
        text = f"Check the escape ramp; it was last seen in place on {plain_date(seen.on)}."
    if today < first:
        return None
    return Prompt(
        history.facts.station_id,
        PromptKind.RAMP,
        PromptState.DUE,
        first,
        None,
        text,
        endangers=endangers,
    )


def _run_dry(
    history: StationHistory, outlook: PromptInputs, season: Season, today: date
) -> Prompt | None:
    """Notice for a tank nobody can fill; shown as early as the model says so.

    On the day of a reading it speaks of the days to come alone, unless dry was read.
    """
    heavy_use = season.window(WindowKind.HEAVY_USE, season.year_of(today))
    if history.facts.access is not Access.FOOT or today > heavy_use.last:
        return None
    dry_now = outlook.dry_from is not None and outlook.dry_from <= today
    if not (dry_now if today == heavy_use.last else outlook.dry_in_heavy_use):
        return None
    first = min(outlook.dry_from or heavy_use.first, heavy_use.last)
    if outlook.read_share is not None and not dry_now and first <= today:
        return None
    if outlook.dry_from is None:
        text = "Will run dry within the heavy-use weeks by the model, and cannot be filled."
    elif dry_now:
        how = "by the model" if outlook.read_share is None else "by today's reading"
        text = f"Dry {how}, and cannot be filled."
    else:
        text = f"Will run dry from {plain_date(first)} by the model, and cannot be filled."
    return Prompt(
        history.facts.station_id,
        PromptKind.RUN_DRY,
        PromptState.DUE if today >= first else PromptState.UPCOMING,
        first,
        heavy_use.last,
        text,
    )


def _bears(history: StationHistory, today: date) -> Prompt | None:
    """Bears that keep coming to an open tank, until their pattern is broken."""
    pattern = bear_pattern(history.bear_visits)
    covered = history.covered_since is not None
    if pattern is None or covered or pattern.is_broken(today):
        return None
    times = "once" if pattern.visits == 1 else f"{pattern.visits} times"
    return Prompt(
        history.facts.station_id,
        PromptKind.BEARS,
        PromptState.DUE,
        pattern.first,
        None,
        f"Bears came {times}, last on {plain_date(pattern.last)}; drain or cover it until none "
        f"has come up to {plain_date(pattern.broken_from)}.",
    )


def _contamination(
    history: StationHistory,
    event: EventHistory,
    outlook: PromptInputs,
    season: Season,
    today: date,
) -> Prompt:
    """One prompt for an open event: the most pressing thing to be said of it."""
    clear = outlook.clear_on.get(event.event_id)
    wanted_by = season.wanted_by(today)
    before_use = season.look_counts_from(season.year_of(wanted_by)) <= today
    state, first, endangers = PromptState.DUE, event.found, False
    if event.may_hold_carcass:
        endangers = True
        text = f"Fouled by a {event.cause}; no entry says that the carcass was removed."
    elif clear is not None and clear <= today:
        first = clear
        text = f"Look whether it is clear; recovery was expected by {plain_date(clear)}."
    elif before_use and (clear is None or clear > wanted_by):
        no_help = history.facts.access is Access.FOOT or event.cause in NO_BAILING
        refilled, help_said = event.water_changed, "plan without it."
        if refilled is not None:
            help_said = f"bailed and refilled on {plain_date(refilled)}: wait, or plan without it."
        elif not no_help:
            help_said = "bail and refill it, or plan without it."
        over = " are over" if wanted_by == season.heavy_use_ahead(today).last else ""
        text = (
            f"Fouled by {event.cause}, and not expected to recover before the heavy-use "
            f"weeks{over}; {help_said}"
        )
    elif clear is None:
        text = f"Fouled by {event.cause}, with no date of recovery to give; look when there."
    else:
        state, first = PromptState.UPCOMING, clear
        text = f"Fouled by {event.cause}; recovery is expected by {plain_date(clear)}."
    return Prompt(
        history.facts.station_id,
        PromptKind.CONTAMINATION,
        state,
        first,
        None,
        text,
        event_id=event.event_id,
        endangers=endangers,
    )
