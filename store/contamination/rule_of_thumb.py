"""The ways out of a contamination where no weather is known."""

from __future__ import annotations

from datetime import date, timedelta

from store.contamination.choices import DRYING_DAYS, Plan, Way, options
from store.contamination.estimates import RULE_OF_THUMB, Choice, DateQuantiles, RecoveryForecast
from store.contamination.events import EventHistory
from store.contamination.parameters import Priors
from store.records import StationFacts
from store.vocabulary import Access, Action

_OPEN = DateQuantiles(None, None, None)


def forecast_without_weather(
    event: EventHistory,
    priors: Priors,
    station: StationFacts,
    capacity_l: float,
    plan: Plan,
    *,
    why: str = "no weather",
) -> RecoveryForecast:
    """Every choice by rule of thumb: the date of use is open to the late side.

    `why` says what keeps it from being reckoned.

    Waiting counts from the day the source was taken out, or from the find; once the
    tank was emptied and refilled, from that refill. Moving is left out.
    """
    wait, refilled = (
        timedelta(days=round(priors[name].median)) for name in ("wait_days", "refilled_days")
    )
    emptied = _refilled_after_emptying(event)
    waiting = (event.removed or event.found) + wait if emptied is None else emptied + refilled
    used = {
        Way.WAIT: waiting,
        Way.REMOVE: plan.on + wait,
        Way.REFILL: plan.on + refilled,
        Way.DRAIN: plan.on + timedelta(days=DRYING_DAYS) + refilled,
    }
    by_thumb = tuple(
        Choice(option.way, _OPEN, DateQuantiles(day, day, None), None, option.cost)
        for option in options(event, priors, station.access, capacity_l, plan)
        if (day := used.get(option.way)) is not None
        and not (option.way is Way.DRAIN and station.access is Access.FOOT)
    )
    return RecoveryForecast(by_thumb, by_thumb[0], f"{RULE_OF_THUMB}, {why}")


def _refilled_after_emptying(event: EventHistory) -> date | None:
    emptied, refilled = False, None
    for taken in event.actions:
        if taken.action in (Action.BAILED, Action.DRAINED):
            emptied = True
        elif taken.action is Action.REFILLED and emptied:
            refilled = taken.on
    return refilled
