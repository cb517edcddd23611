"""When a contaminated tank may be used again: dilution, then the habit returning.

Days count from the day the event was found. This says nothing of safety.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.contamination.causes import CauseParameters
from store.contamination.estimates import CAVEAT as CAVEAT
from store.contamination.estimates import RULE_OF_THUMB as RULE_OF_THUMB
from store.contamination.estimates import DateRange as DateRange
from store.contamination.events import EventAction, EventHistory
from store.contamination.mixing import Array
from store.contamination.washout import TankWater, concentration_shares
from store.errors import BadValue
from store.records import Action

WATER_BACK_SHARE = 0.25
"""Share of the tank that counts as water being back, for a broken habit (assumed)."""


@dataclass(frozen=True)
class Recovery:
    """When animals may be back, waiting for rain and after bailing and refilling."""

    waiting: DateRange
    refilled: DateRange
    basis: str
    caveat: str = CAVEAT


def clear_days(
    event: EventHistory,
    cause: CauseParameters,
    water: TankWater,
    planned: Sequence[EventAction] = (),
) -> Array:
    """Days from the find to the water being clear, one per member; inf if not in it.

    Dissolved causes are clear from the day after which the share stays at or below
    `clear_share`; a broken habit from the day the tank again holds water, by rain or as planned.
    """
    if cause.dissolved:
        fouled = concentration_shares(event, cause, water, planned) > cause.clear_share
        days_from_end = np.argmax(fouled[::-1], axis=0)
        clear = np.where(fouled.any(axis=0), len(fouled) - days_from_end, 0)
        return np.where(clear < len(fouled), clear, np.inf)
    back = water.volume_l >= WATER_BACK_SHARE * water.capacity_l
    by_rain = np.where(back.any(axis=0), np.argmax(back, axis=0), np.inf)
    by_hand = (taken.on for taken in planned if taken.action is Action.REFILLED)
    refilled = min(((on - event.found).days for on in by_hand), default=np.inf)
    return np.minimum(by_rain, refilled)


def recovery(
    event: EventHistory,
    cause: CauseParameters,
    water: TankWater,
    *,
    bail_on: date,
    over: str,
    rounds: int = 1,
    refilled_water: TankWater | None = None,
) -> Recovery:
    """The dates of use again from weather years, as things stand and if bailed out.

    The second takes out any carcass on `bail_on`, bails the tank and refills it to
    the rim, `rounds` times. `refilled_water` is the model run with a full tank from
    that day; without it the waiting tank's dilution stands in, which is slower. `over`
    names the members, as "12 weather years", for the basis.
    Raises BadValue when `bail_on` is outside the days given or `rounds` below 1.
    """
    days = len(water.dilution)
    if not 0 <= (bail_on - event.found).days < days:
        raise BadValue(
            f"Bailing on {bail_on} is outside the {days} days of weather from {event.found}; "
            "choose a day within them."
        )
    if rounds < 1:
        raise BadValue(f"Bailing {rounds} times is no bailing; give 1 or more.")
    planned = bailing(bail_on, rounds)
    refilled = clear_days(event, cause, refilled_water or water, planned)
    washout = f"washout by modeled overflow over {over}"
    return Recovery(
        waiting=_dates(event.found, cause, clear_days(event, cause, water)),
        refilled=_dates(event.found, cause, refilled),
        basis=washout if cause.dissolved else f"habit after water is back, over {over}",
    )


def recovery_without_weather(
    event: EventHistory, cause: CauseParameters, *, bail_on: date
) -> Recovery:
    """The dates of use again by rule of thumb; late dates are open (None).

    Waiting counts from the removal of the carcass, or from the find; once the tank
    was emptied and refilled, from that refill.
    """
    emptied = _refilled_after_emptying(event)
    if emptied is not None:
        waiting = emptied + timedelta(days=cause.fallback_refilled_days)
    else:
        waiting = (event.removed or event.found) + timedelta(days=cause.fallback_wait_days)
    refilled = bail_on + timedelta(days=cause.fallback_refilled_days)
    return Recovery(
        waiting=DateRange(waiting, waiting, None),
        refilled=DateRange(refilled, refilled, None),
        basis=RULE_OF_THUMB,
    )


def bailing(bail_on: date, rounds: int = 1) -> tuple[EventAction, ...]:
    """Work to plan: any carcass out, then bailed and refilled to the rim, `rounds` times."""
    one_round = (EventAction(bail_on, Action.BAILED), EventAction(bail_on, Action.REFILLED))
    return (EventAction(bail_on, Action.REMOVED), *one_round * rounds)


def _refilled_after_emptying(event: EventHistory) -> date | None:
    emptied, refilled = False, None
    for taken in event.actions:
        if taken.action in (Action.BAILED, Action.DRAINED):
            emptied = True
        elif taken.action is Action.REFILLED and emptied:
            refilled = taken.on
    return refilled


def _dates(found: date, cause: CauseParameters, clear: Array) -> DateRange:
    def at(quantile: float, habit_days: int) -> date | None:
        days = float(np.quantile(clear, quantile, method="inverted_cdf"))
        return found + timedelta(days=int(days) + habit_days) if np.isfinite(days) else None

    return DateRange(
        low=at(0.10, cause.habit_low_days),
        median=at(0.50, cause.habit_days),
        high=at(0.90, cause.habit_high_days),
    )
