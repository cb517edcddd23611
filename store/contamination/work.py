"""What hand work does to the water and to what clings to the tank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

import numpy as np

from store.contamination.events import EventAction
from store.contamination.mixing import HEEL_BAILED, HEEL_DRAINED, Array, mixed_share
from store.vocabulary import Action

RESIDUE_AFTER_DRAINING = 0.3
"""Share of what clings that draining and rinsing leaves (assumed)."""


@dataclass(frozen=True)
class PlannedBailing:
    """Bailing still to be done: so much of the water comes out, 0 to 1."""

    on: date
    share: float
    action: ClassVar[Action] = Action.BAILED


Work = EventAction | PlannedBailing


def by_day(work: Sequence[Work], found: date) -> Mapping[int, list[Work]]:
    """Work by days since the find; what is dated before it counts on it."""
    days: dict[int, list[Work]] = {}
    for done in work:
        days.setdefault(max((done.on - found).days, 0), []).append(done)
    return days


def worked(work: Sequence[Work], volume_l: Array, capacity_l: float) -> tuple[Array, float]:
    """The factors by which one day's work changes the concentration and the residue.

    Taking water out leaves the concentration as it is; water put in dilutes what was
    left. A refill without a volume goes to the rim. However well a tank is emptied,
    as much water stays as draining leaves.
    """
    least_l = HEEL_DRAINED * capacity_l
    held_l = np.maximum(volume_l, least_l)
    factor, residue = np.ones_like(held_l), 1.0
    for done in work:
        match done:
            case PlannedBailing(share=share):
                held_l = np.maximum((1.0 - share) * held_l, least_l)
            case EventAction(action=Action.BAILED, volume_l=None):
                held_l = np.maximum(HEEL_BAILED * held_l, least_l)
            case EventAction(action=Action.BAILED, volume_l=float() | int() as taken_l):
                held_l = np.maximum(held_l - taken_l, least_l)
            case EventAction(action=Action.DRAINED):
                held_l = np.full_like(held_l, least_l)
                residue *= RESIDUE_AFTER_DRAINING
            case EventAction(action=Action.REFILLED, volume_l=brought_l):
                room_l = np.maximum(capacity_l - held_l, 0.0)
                added_l = room_l if brought_l is None else np.full_like(held_l, brought_l)
                factor = factor * mixed_share(held_l, added_l)
                held_l = np.minimum(held_l + added_l, capacity_l)
    return factor, residue
