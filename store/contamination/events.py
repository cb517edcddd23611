"""One contamination event with all that was done about it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from store.records import Action, Cause

CARCASS_CAUSES = frozenset({Cause.DROWNED_ANIMAL, Cause.DEAD_FISH})
"""Causes that go on fouling the water until somebody takes them out."""


@dataclass(frozen=True)
class EventAction:
    """Something done about an event; `volume_l` is the water taken out or put in."""

    on: date
    action: Action
    volume_l: float | None = None


@dataclass(frozen=True)
class EventHistory:
    """An event and its actions, oldest first, the one taken on finding it included."""

    event_id: str
    found: date
    cause: Cause
    actions: tuple[EventAction, ...]

    @property
    def closed(self) -> date | None:
        """The day somebody saw the water clear and used again, if anybody did."""
        seen = (taken.on for taken in self.actions if taken.action is Action.SEEN_CLEAR)
        return min(seen, default=None)

    @property
    def is_open(self) -> bool:
        return self.closed is None

    @property
    def removed(self) -> date | None:
        """The day the carcass was taken out, if anybody logged it."""
        days = (taken.on for taken in self.actions if taken.action is Action.REMOVED)
        return min(days, default=None)

    @property
    def may_hold_carcass(self) -> bool:
        """Whether a carcass was found and no entry says that it was removed."""
        return self.is_open and self.cause in CARCASS_CAUSES and self.removed is None

    def with_actions(self, *actions: EventAction) -> EventHistory:
        """The event with more work put in by date, after what was logged that day."""
        in_order = sorted((*self.actions, *actions), key=lambda taken: taken.on)
        return replace(self, actions=tuple(in_order))
