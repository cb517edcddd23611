"""When a contaminated tank comes back, for every choice, before and after the signs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.contamination.choices import Option, Plan, Way, options
from store.contamination.costs import Cost
from store.contamination.draws import Draws, draw
from store.contamination.estimates import Choice, RecoveryForecast, WeightedRun, choice
from store.contamination.events import EventHistory
from store.contamination.habit import BoolArray, habit
from store.contamination.parameters import Priors
from store.contamination.recovery_run import WATER_BACK_SHARE, RecoveryRun, recovery_run, together
from store.contamination.signs import even_weights, sign_weights
from store.contamination.tank_weather import TankWeather
from store.errors import BadValue
from store.records import StationFacts
from store.vocabulary import Access

FEWEST_MEMBERS = 200
"""Members of the cause; courses of weather are used in turn to make as many."""
NEW_PLACE = 2.0
"""The habit takes so many times as long at a new place as at a known one (assumed)."""


@dataclass(frozen=True)
class Waters:
    """The water from the find on: as it is, filled to the rim on the day of the plan,
    and emptied on it. A way whose water is not given is left out.

    Run the days from the find on with `DRINKING_WHILE_FOULED`: animals keep off.
    """

    as_is: TankWeather
    full: TankWeather | None = None
    empty: TankWeather | None = None


def event_forecast(
    event: EventHistory,
    priors: Priors,
    station: StationFacts,
    waters: Waters,
    plan: Plan,
    *,
    over: str,
    before: date | None = None,
    closed: BoolArray | None = None,
) -> RecoveryForecast:
    """Every choice for an open event.

    `over` names the members of the weather, as "12 weather years"; `before` is the day
    by which the tank is wanted; `closed` (days,) marks days under a cover as things
    stand.

    Raises:
        BadValue: the plan's day is outside the days of the weather, or the waters
            differ in days or members.
    """
    _refuse_mismatch(event, waters, plan)
    times = -(-FEWEST_MEMBERS // waters.as_is.members)
    waters = _repeated(waters, times)
    draws = draw(event.event_id, priors, waters.as_is.members)
    expected = recovery_run(event, draws, waters.as_is, closed=closed)
    weights = sign_weights(event.signs, event.cause, expected, draws)
    found = []
    held_l = float(np.median(waters.as_is.volume_l[(plan.on - event.found).days]))
    capacity_l = waters.as_is.capacity_l
    for option in options(event, priors, station.access, capacity_l, plan, held_l):
        one = _option_run(event, draws, waters, station.access, option, expected, closed)
        if one is not None:
            told = choice(option.way, one, weights, option.cost, before)
            found.append(told.not_before(plan.on) if option.cost.visits else told)
    even = even_weights(draws.members)
    return RecoveryForecast(
        choices=tuple(found),
        before_signs=choice(Way.WAIT, expected, even, Cost(), before),
        basis=f"the rain that runs over the rim, over {over}"
        if draws.dissolved
        else f"habit after water is back, over {over}",
        expected=WeightedRun(expected, weights),
    )


def station_outlook(
    events: Sequence[RecoveryForecast], before: date | None = None
) -> Choice | None:
    """Waiting until every event of a station is over; None where one is by rule of thumb.

    The events must come from the same courses of weather up to the same day. Their
    weights are multiplied, member by member.

    Raises:
        BadValue: no event, or events with different members.
    """
    if not events or len({len(one.expected.weights) for one in events if one.expected}) > 1:
        raise BadValue("The events of a station need the same members; give one or more of them.")
    known = [one.expected for one in events if one.expected is not None]
    if len(known) < len(events):
        return None
    weights = np.prod([one.weights for one in known], axis=0)
    both = together([one.run for one in known])
    return choice(Way.WAIT, both, weights / weights.sum(), Cost(), before)


def _option_run(
    event: EventHistory,
    draws: Draws,
    waters: Waters,
    access: Access,
    option: Option,
    expected: RecoveryRun,
    closed: BoolArray | None,
) -> RecoveryRun | None:
    match option.way:
        case Way.WAIT:
            return expected
        case Way.REMOVE:
            return recovery_run(event, draws, waters.as_is, option.work, closed)
        case Way.REFILL:
            water = waters.full
        case Way.DRAIN | Way.MOVE:
            water = waters.empty if access is Access.FOOT else waters.full
    if water is None:
        return None
    if option.way is Way.MOVE:
        return _new_place(event, draws, water, option)
    return recovery_run(event, draws, water, option.work, _covered(event, option, water, closed))


def _covered(
    event: EventHistory, option: Option, water: TankWeather, closed: BoolArray | None
) -> BoolArray:
    """Days under a cover: as it was up to the work, then as the plan has it."""
    first = (option.work[0].on - event.found).days
    day = np.arange(water.days)
    before = np.zeros(water.days, dtype=bool) if closed is None else closed & (day < first)
    return np.asarray(before | ((day >= first) & (day < first + option.covered_days)))


def _new_place(
    event: EventHistory, draws: Draws, water: TankWeather, option: Option
) -> RecoveryRun:
    """Clean water at a spot no animal knows yet, from the day of the plan."""
    first = ((option.covered_from or event.found) - event.found).days
    day = np.arange(water.days)[:, np.newaxis]
    filled = np.maximum.accumulate(
        (day > first) & (water.volume_l >= WATER_BACK_SHARE * water.capacity_l), axis=0
    )
    nothing = np.zeros(filled.shape)
    unknown = np.zeros_like(draws.habit_left)
    rebuild = NEW_PLACE * draws.habit_days
    return RecoveryRun(
        event.found,
        nothing,
        nothing,
        ~filled,
        habit(~filled, rebuild, unknown),
        unknown,
        rebuild,
    )


def _repeated(waters: Waters, times: int) -> Waters:
    def repeated(water: TankWeather | None) -> TankWeather | None:
        return None if water is None else water.repeated(times)

    return Waters(waters.as_is.repeated(times), repeated(waters.full), repeated(waters.empty))


def _refuse_mismatch(event: EventHistory, waters: Waters, plan: Plan) -> None:
    others: Sequence[TankWeather | None] = (waters.full, waters.empty)
    shape = waters.as_is.unspilled.shape
    if any(water is not None and water.unspilled.shape != shape for water in others):
        raise BadValue("The waters of an event differ in days or members; give them alike.")
    if not 0 <= (plan.on - event.found).days < shape[0]:
        raise BadValue(
            f"Work on {plan.on} is outside the {shape[0]} days of weather from {event.found}; "
            "choose a day within them."
        )
