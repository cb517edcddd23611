"""What is entered about a contamination event, before it is saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from store.contamination.events import CARCASS_CAUSES, EventHistory
from store.errors import BadValue
from store.records import Action, Cause, Contamination, ContaminationAction, Draft, RampCheck
from store.season.prompt import plain_date

IN_ORDER = (
    Action.LEFT,
    Action.REMOVED,
    Action.BAILED,
    Action.DRAINED,
    Action.REFILLED,
    Action.COVERED,
    Action.SEEN_CLEAR,
)
"""The order in which the work of one day is done, whatever the order of the keys."""
ALONE = frozenset({Action.LEFT, Action.SEEN_CLEAR})
"""Actions that exclude every other."""
_NEXT_RAMP: Mapping[bool | None, bool | None] = {None: True, True: False, False: None}


@dataclass(frozen=True)
class EventSheet:
    """A new event, or with `event` work done about one that is open.

    `event_id` is the id of that event, or the one that a new event will get.
    """

    station_id: str
    day: date
    event_id: str
    event: EventHistory | None = None
    new_cause: Cause | None = None
    actions: frozenset[Action] = frozenset()
    refill_l: float | None = None
    ramp: bool | None = None
    note: str = ""

    @property
    def cause(self) -> Cause | None:
        return self.new_cause if self.event is None else self.event.cause

    @property
    def is_empty(self) -> bool:
        chosen = self.event is None and self.new_cause is not None
        return not (chosen or self.actions or self.note) and self.ramp is None

    @property
    def water(self) -> EventSheet:
        """The part that the recovery depends on."""
        return replace(self, ramp=None, note="")

    @property
    def asks_for_ramp(self) -> bool:
        return self.cause in CARCASS_CAUSES

    @property
    def offered(self) -> frozenset[Action]:
        """Leaving it is an answer to finding it; seeing it clear comes later."""
        return frozenset(Action) - {Action.SEEN_CLEAR if self.event is None else Action.LEFT}

    def turned(self, action: Action) -> EventSheet:
        """Taken if it was not, taken back if it was."""
        if action in self.actions:
            return replace(self, actions=self.actions - {action})
        others = frozenset[Action]() if action in ALONE else self.actions - ALONE
        return replace(self, actions=others | {action})

    def refilled(self, refill_l: float | None) -> EventSheet:
        """Refilled with so many litres; None is to the rim."""
        without = replace(self, actions=self.actions - {Action.REFILLED})
        return replace(without.turned(Action.REFILLED), refill_l=refill_l)

    def ramp_turned(self) -> EventSheet:
        return replace(self, ramp=_NEXT_RAMP[self.ramp])

    def shifted(self, days: int) -> EventSheet:
        return replace(self, day=self.day + timedelta(days=days))

    def about(self, event: EventHistory | None, event_id: str) -> EventSheet:
        """The same for another event, or a new one, without work it cannot have."""
        moved = replace(self, event=event, event_id=event_id)
        return replace(moved, actions=moved.actions & moved.offered)

    @property
    def in_order(self) -> list[Action]:
        return [action for action in IN_ORDER if action in self.actions]

    def water_drafts(self) -> list[Draft]:
        """The event and what was done, as entries; empty while there is nothing to say.

        Of a new event the first action stands in the event itself; an event with none
        was left as it is.
        """
        later = self.in_order
        drafts = []
        note = self.note
        if self.event is None:
            if self.new_cause is None:
                return []
            first, *later = later or [Action.LEFT]
            what = Contamination(
                self.event_id, self.station_id, self.new_cause, first, self._volume_l(first), note
            )
            drafts.append(Draft(self.day, what))
            note = ""
        for action in later:
            volume_l = self._volume_l(action)
            done = ContaminationAction(self.event_id, self.station_id, action, volume_l, note)
            drafts.append(Draft(self.day, done))
            note = ""
        return drafts

    def _volume_l(self, action: Action) -> float | None:
        return self.refill_l if action is Action.REFILLED else None

    def drafts(self) -> list[Draft]:
        """What to write, in one transaction.

        Raises:
            BadValue: what fouled the tank, or what was done, is not said yet.
        """
        drafts = self.water_drafts()
        if not drafts:
            raise BadValue(
                "Press 1 to 6 first: what fouled the tank?"
                if self.event is None
                else "Press what was done about the event first, or Tab for a new event."
            )
        if self.ramp is not None:
            drafts.append(Draft(self.day, RampCheck(self.station_id, self.ramp)))
        return drafts

    def title(self, station: str) -> str:
        done = ", ".join(self.in_order)
        cause = "event" if self.cause is None else self.cause.value
        if self.event is None:
            return f"{station}: {cause}, found {plain_date(self.day)}" + (done and f"; {done}")
        return f"{station}: {done} on {plain_date(self.day)} ({cause})"
