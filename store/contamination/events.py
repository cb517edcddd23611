"""One contamination event with all that was done about it and seen of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from store.vocabulary import Action, AnimalClass, AnimalSize, Cause, Response, Strength

CARCASS_CAUSES = frozenset({Cause.DROWNED_ANIMAL, Cause.DEAD_FISH})
"""Causes that go on fouling the water until somebody takes them out."""


@dataclass(frozen=True)
class EventAction:
    """Something done about an event; `volume_l` is the water taken out or put in."""

    on: date
    action: Action
    volume_l: float | None = None


@dataclass(frozen=True)
class SignSeen:
    """What the water or the animals showed on a day; None where nobody judged it."""

    on: date
    smell: Strength | None = None
    colour: Strength | None = None
    response: Response | None = None


@dataclass(frozen=True)
class Carcass:
    """What is known of the animal; `days_dead` counts up to the day of the find.

    The class is kept for the record alone: no difference between classes is published.
    """

    animal: AnimalClass | None = None
    size: AnimalSize | None = None
    days_dead: float | None = None


UNKNOWN_CARCASS = Carcass()


@dataclass(frozen=True)
class EventHistory:
    """An event with its actions and signs, oldest first, those of the find included.

    `bears_last` is the last day bears were seen at the station since, for bear use.
    """

    event_id: str
    found: date
    cause: Cause
    actions: tuple[EventAction, ...]
    signs: tuple[SignSeen, ...] = ()
    carcass: Carcass = UNKNOWN_CARCASS
    bears_last: date | None = None

    @property
    def closed(self) -> date | None:
        """The day somebody saw the water clear and used again, if anybody did."""
        return self._first(Action.SEEN_CLEAR)

    @property
    def is_open(self) -> bool:
        return self.closed is None

    @property
    def removed(self) -> date | None:
        """The day the carcass was taken out, if anybody logged it."""
        return self._first(Action.REMOVED)

    @property
    def water_changed(self) -> date | None:
        """The day it was refilled after being bailed or drained, if the log says so."""
        out = [one.on for one in self.actions if one.action in (Action.BAILED, Action.DRAINED)]
        if not out:
            return None
        full = (one.on for one in self.actions if one.action is Action.REFILLED)
        return min((on for on in full if on >= min(out)), default=None)

    @property
    def may_hold_carcass(self) -> bool:
        """Whether a carcass was found and no entry says that it was removed."""
        return self.is_open and self.cause in CARCASS_CAUSES and self.removed is None

    def with_actions(self, *actions: EventAction) -> EventHistory:
        """The event with more work put in by date, after what was logged that day."""
        in_order = sorted((*self.actions, *actions), key=lambda taken: taken.on)
        return replace(self, actions=tuple(in_order))

    def _first(self, action: Action) -> date | None:
        return min((taken.on for taken in self.actions if taken.action is action), default=None)
