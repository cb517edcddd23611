"""What can be done about a contaminated tank, side by side.

Dates are of the water being clear by dilution and of the habit of use being back.
They say nothing of safety.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from store.contamination.costs import (
    MOVE_HOURS,
    REMOVE_HOURS,
    RINSE_AND_COVER_HOURS,
    UNCOVER_HOURS,
    Cost,
    cost,
)
from store.contamination.events import EventAction, EventHistory
from store.contamination.mixing import rounds_to_share
from store.contamination.parameters import Priors
from store.contamination.remedies import CAN_TAKE_OUT, NO_BAILING, NO_DRAINING
from store.contamination.work import PlannedBailing, Work
from store.errors import BadValue
from store.vocabulary import Access, Action

DRYING_DAYS = 14
"""How long a drained tank stays covered to dry (assumed)."""


class Way(StrEnum):
    WAIT = "wait"
    REMOVE = "take it out and wait"
    REFILL = "bail and refill"
    DRAIN = "drain and cover"
    MOVE = "move the tank"


@dataclass(frozen=True)
class Plan:
    """When the work would be done and how; `bail_share` is of the water, each round.

    `load_l` is what the keeper's own tank carries; None takes the usual for the access.
    """

    on: date
    bail_share: float = 0.9
    rounds: int | None = None
    """None: the fewest that clear the usual case."""
    load_l: float | None = None

    def __post_init__(self) -> None:
        if not 0.0 < self.bail_share < 1.0:
            raise BadValue(
                f"Bailing {self.bail_share:.0%} of the water cannot be; give a share between "
                "0 and 1."
            )
        if self.rounds is not None and self.rounds < 1:
            raise BadValue(f"Bailing {self.rounds} times is no bailing; give 1 or more.")
        if self.load_l is not None and not self.load_l > 0.0:
            raise BadValue(f"A load of {self.load_l:g} L is none; give more than 0.")


@dataclass(frozen=True)
class Option:
    """A way out: the work it takes, what it costs, and how long the tank is covered."""

    way: Way
    work: tuple[Work, ...]
    cost: Cost
    covered_from: date | None = None
    covered_days: int = 0


def options(
    event: EventHistory,
    priors: Priors,
    access: Access,
    capacity_l: float,
    plan: Plan,
    held_l: float | None = None,
) -> tuple[Option, ...]:
    """The ways open at a station; one on foot is offered no refill.

    `held_l` is the water in the tank on the day of the plan; a full tank if not given.
    Taking the source out is part of every way but waiting, where it is still in.
    """
    source_in = event.cause in CAN_TAKE_OUT and event.removed is None
    takes_out = (EventAction(plan.on, Action.REMOVED),) if source_in else ()
    hours = REMOVE_HOURS if source_in else 0.0
    found = [Option(Way.WAIT, (), Cost())]
    if source_in:
        found.append(Option(Way.REMOVE, takes_out, cost(access, visits=1, work_hours=hours)))
    if access is not Access.FOOT and event.cause not in NO_BAILING:
        found.append(_refill(priors, access, capacity_l, plan, takes_out, hours, held_l=held_l))
    if event.cause not in NO_DRAINING:
        found.append(_drain(access, capacity_l, plan, takes_out, hours))
    found.append(_move(access, capacity_l, plan))
    return tuple(found)


def rounds_of(priors: Priors, plan: Plan) -> int:
    """Rounds of bailing: those planned, or the fewest that clear the usual case."""
    if plan.rounds is not None:
        return plan.rounds
    strength, share = priors["strength"].median, priors["clear_share"].median
    if strength <= share:
        return 1
    return max(1, rounds_to_share(1.0 - plan.bail_share, share / strength))


def _refill(
    priors: Priors,
    access: Access,
    capacity_l: float,
    plan: Plan,
    takes_out: Sequence[Work],
    hours: float,
    *,
    held_l: float | None,
) -> Option:
    rounds = rounds_of(priors, plan)
    one_round: tuple[Work, ...] = (
        PlannedBailing(plan.on, plan.bail_share),
        EventAction(plan.on, Action.REFILLED),
    )
    held_l = capacity_l if held_l is None else held_l
    again_l = (rounds - 1) * plan.bail_share * capacity_l
    price = cost(
        access,
        visits=1,
        work_hours=hours,
        bailed_l=plan.bail_share * held_l + again_l,
        water_l=capacity_l - (1.0 - plan.bail_share) * held_l + again_l,
        load_l=plan.load_l,
    )
    price = replace(price, rounds=rounds)
    return Option(Way.REFILL, (*takes_out, *one_round * rounds), price)


def _drain(
    access: Access, capacity_l: float, plan: Plan, takes_out: Sequence[Work], hours: float
) -> Option:
    """Any refill is reckoned on the day of the draining, though it comes with the opening."""
    drains = (EventAction(plan.on, Action.DRAINED), EventAction(plan.on, Action.COVERED))
    refills = () if access is Access.FOOT else (EventAction(plan.on, Action.REFILLED),)
    price = cost(
        access,
        visits=2,
        work_hours=hours + RINSE_AND_COVER_HOURS + UNCOVER_HOURS,
        bailed_l=capacity_l,
        water_l=capacity_l if refills else 0.0,
        load_l=plan.load_l,
    )
    work = (*takes_out, *drains, *refills)
    return Option(Way.DRAIN, work, price, plan.on, DRYING_DAYS)


def _move(access: Access, capacity_l: float, plan: Plan) -> Option:
    """The tank at another spot; the fouled water and the old habit stay behind."""
    water_l = 0.0 if access is Access.FOOT else capacity_l
    price = cost(access, visits=2, work_hours=MOVE_HOURS, water_l=water_l, load_l=plan.load_l)
    return Option(Way.MOVE, (), price, plan.on)
