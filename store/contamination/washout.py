"""How the concentration in a contaminated tank falls, day by day.

Pure arithmetic on arrays of shape (days, members). Row 0 is the day the event was
found; a member is one weather year. This says nothing of safety.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from store.contamination.causes import CauseParameters
from store.contamination.events import EventAction, EventHistory
from store.contamination.mixing import HEEL_BAILED, HEEL_DRAINED, Array, mixed_share
from store.errors import BadValue
from store.records import Action

_WATER_WORK = frozenset({Action.BAILED, Action.DRAINED, Action.REFILLED})


@dataclass(frozen=True)
class TankWater:
    """The weather's part, from a water model that was told of the logged hand work.

    `dilution` (days, members) is the factor by which the concentration changes each
    day. With `hand_work_included` it holds what was logged as drained and filled, and
    only planned work is reckoned here; otherwise it is rain, runoff and overflow alone
    and the event's actions are reckoned on top. `volume_l` broadcasts to the same
    shape: the water at the start of each day, before that day's hand work. Raises
    BadValue when shapes or values are impossible.
    """

    dilution: Array
    volume_l: Array
    capacity_l: float
    hand_work_included: bool = False

    def __post_init__(self) -> None:
        if self.dilution.ndim != 2 or 0 in self.dilution.shape:
            raise BadValue(
                f"Dilution has shape {self.dilution.shape}; give at least one day and one member."
            )
        if not (np.isfinite(self.dilution).all() and (self.dilution >= 0.0).all()):
            raise BadValue("A dilution factor is negative or not a number; correct it.")
        try:
            volume_l = np.broadcast_to(self.volume_l, self.dilution.shape)
        except ValueError as error:
            raise BadValue(
                f"Volumes of shape {self.volume_l.shape} do not fit dilution of shape "
                f"{self.dilution.shape}; give one for each day and member."
            ) from error
        if not (np.isfinite(volume_l).all() and (volume_l >= 0.0).all()):
            raise BadValue("A volume is negative or not a number; correct it.")
        if not self.capacity_l > 0.0:
            raise BadValue(f"A tank cannot hold {self.capacity_l:g} L; give its capacity.")
        object.__setattr__(self, "volume_l", volume_l)


def concentration_shares(
    event: EventHistory,
    cause: CauseParameters,
    water: TankWater,
    planned: Sequence[EventAction] = (),
) -> Array:
    """Concentration at the end of each day as a share of the first, (days, members).

    Each day the hand work comes first, as logged and then as `planned`, and then the
    weather. Work dated before the event was found counts on that day; work beyond the
    horizon is left out. While its source lies in the water the share stays 1 (assumed).
    """
    event = _reckoned(event, water, planned)
    shares = np.empty_like(water.dilution)
    source_ends = _source_end(event, cause)
    share = np.ones(water.dilution.shape[1])
    by_day = _actions_by_day(event)
    for day, dilution in enumerate(water.dilution):
        share = share * _hand_work(by_day.get(day, ()), water.volume_l[day], water.capacity_l)
        share = np.ones_like(share) if day < source_ends else share * dilution
        shares[day] = share
    return shares


def _reckoned(
    event: EventHistory, water: TankWater, planned: Sequence[EventAction]
) -> EventHistory:
    """The event with the planned work, without what the dilution holds already."""
    if water.hand_work_included:
        left = tuple(taken for taken in event.actions if taken.action not in _WATER_WORK)
        event = replace(event, actions=left)
    return event.with_actions(*planned)


def _source_end(event: EventHistory, cause: CauseParameters) -> int:
    """Day index from which the source no longer holds the water at its strength."""
    if event.removed is None:
        return cause.source_days
    return min(cause.source_days, max((event.removed - event.found).days, 0))


def _actions_by_day(event: EventHistory) -> dict[int, list[EventAction]]:
    by_day: dict[int, list[EventAction]] = {}
    for taken in event.actions:
        by_day.setdefault(max((taken.on - event.found).days, 0), []).append(taken)
    return by_day


def _hand_work(actions: Sequence[EventAction], volume_l: Array, capacity_l: float) -> Array:
    """The factor by which one day's hand work changes the concentration, per member.

    Taking water out leaves the concentration as it is; water put in dilutes what was
    left. A refill without a volume goes to the rim. The walls and the bottom always
    keep as much as draining leaves.
    """
    least_l = HEEL_DRAINED * capacity_l
    held_l = np.maximum(volume_l, least_l)
    factor = np.ones_like(held_l)
    for taken in actions:
        match taken.action:
            case Action.BAILED if taken.volume_l is None:
                held_l = np.maximum(HEEL_BAILED * held_l, least_l)
            case Action.BAILED:
                held_l = np.maximum(held_l - taken.volume_l, least_l)
            case Action.DRAINED:
                held_l = np.full_like(held_l, least_l)
            case Action.REFILLED:
                room_l = np.maximum(capacity_l - held_l, 0.0)
                added_l = room_l if taken.volume_l is None else np.full_like(held_l, taken.volume_l)
                factor = factor * mixed_share(held_l, added_l)
                held_l = np.minimum(held_l + added_l, capacity_l)
    return factor
