"""What is entered about a contamination event, before it is saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from typing import Any

from store.contamination.events import CARCASS_CAUSES, EventHistory
from store.errors import BadValue
from store.records import (
    BearVisit,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Photo,
    RampCheck,
)
from store.season.prompt import plain_date
from store.vocabulary import Action, AnimalClass, AnimalSize, Cause, Response, Strength
from tui.event.keys import CAUSE_KEYS, key

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
TURNS: Mapping[str, tuple[StrEnum | None, ...]] = {
    "animal": (None, *AnimalClass),
    "size": (None, AnimalSize.MEDIUM, AnimalSize.LARGE, AnimalSize.SMALL),
    "smell": (None, *Strength),
    "colour": (None, *Strength),
    "response": (None, Response.USED, Response.AVOIDED),
}
"""What one key goes through, the most usual answer first; None is not judged."""
_NEXT_RAMP: Mapping[bool | None, bool | None] = {None: True, True: False, False: None}


@dataclass(frozen=True)
class EventDraft:
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
    bailed_l: float | None = None
    """None is the usual, nine tenths."""
    bailed_percent: float | None = None
    ramp: bool | None = None
    note: str = ""
    animal: AnimalClass | None = None
    size: AnimalSize | None = None
    days_dead: float | None = None
    smell: Strength | None = None
    colour: Strength | None = None
    response: Response | None = None
    bears: int = 0
    photo_path: str = ""
    photo_sha256: str = ""

    @property
    def cause(self) -> Cause | None:
        return self.new_cause if self.event is None else self.event.cause

    @property
    def is_empty(self) -> bool:
        chosen = self.event is None and self.new_cause is not None
        told = chosen or self.actions or self.note or self.signs or self.bears
        told = told or self.photo_path
        return not told and self.ramp is None

    @property
    def water(self) -> EventDraft:
        """The part that the recovery depends on."""
        return replace(self, ramp=None, note="", photo_path="", photo_sha256="")

    @property
    def is_carcass(self) -> bool:
        return self.cause in CARCASS_CAUSES

    @property
    def signs(self) -> bool:
        """Whether anything was judged of the water of an open event."""
        return any(sign is not None for sign in (self.smell, self.colour, self.response))

    @property
    def work_entered(self) -> bool:
        """Whether the water was changed by what is entered."""
        return bool(self.actions & {Action.BAILED, Action.DRAINED, Action.REFILLED})

    @property
    def offered(self) -> frozenset[Action]:
        """The actions that can be chosen: only a new event is left, only an open one seen clear."""
        return frozenset(Action) - {Action.SEEN_CLEAR if self.event is None else Action.LEFT}

    def turned(self, action: Action) -> EventDraft:
        """With the action, or without it where it was chosen before."""
        if action in self.actions:
            left = replace(self, actions=self.actions - {action})
            if action is Action.BAILED:
                return replace(left, bailed_percent=None, bailed_l=None)
            return left
        others = frozenset[Action]() if action in ALONE else self.actions - ALONE
        return replace(self, actions=others | {action})

    def answered(self, question: str) -> EventDraft:
        """With the next answer to a question of `TURNS`."""
        answers = TURNS[question]
        at = (answers.index(getattr(self, question)) + 1) % len(answers)
        answer: dict[str, Any] = {question: answers[at]}
        return replace(self, **answer)

    def bailed(self, percent: float, bailed_l: float) -> EventDraft:
        """With so many percent of the water bailed, which are so many litres."""
        without = replace(self, actions=self.actions - {Action.BAILED})
        return replace(without.turned(Action.BAILED), bailed_percent=percent, bailed_l=bailed_l)

    def refilled(self, refill_l: float | None) -> EventDraft:
        """With a refill of so many litres; None is to the rim."""
        without = replace(self, actions=self.actions - {Action.REFILLED})
        return replace(without.turned(Action.REFILLED), refill_l=refill_l)

    def ramp_turned(self) -> EventDraft:
        return replace(self, ramp=_NEXT_RAMP[self.ramp])

    def shifted(self, days: int) -> EventDraft:
        return replace(self, day=self.day + timedelta(days=days))

    def about(self, event: EventHistory | None, event_id: str) -> EventDraft:
        """The same for another event, or a new one, without what it cannot have."""
        moved = replace(self, event=event, event_id=event_id)
        if event is None:
            moved = replace(moved, smell=None, colour=None, response=None)
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
                return self._bear_drafts()
            first, *later = later or [Action.LEFT]
            drafts.append(Draft(self.day, self._found(self.new_cause, first)))
            note = ""
        for action in later:
            volume_l = self._volume_l(action)
            done = ContaminationAction(self.event_id, self.station_id, action, volume_l, note)
            drafts.append(Draft(self.day, done))
            note = ""
        if self.event is not None and self.signs:
            sign = ContaminationSign(
                self.event_id, self.station_id, self.smell, self.colour, self.response
            )
            drafts.append(Draft(self.day, sign))
        return [*drafts, *self._bear_drafts()]

    def _found(self, cause: Cause, first: Action) -> Contamination:
        found = Contamination(
            self.event_id, self.station_id, cause, first, self._volume_l(first), self.note
        )
        if not self.is_carcass:
            return found
        return replace(found, animal=self.animal, animal_size=self.size, days_dead=self.days_dead)

    def _bear_drafts(self) -> list[Draft]:
        return [Draft(self.day, BearVisit(self.station_id, self.bears))] if self.bears else []

    def _volume_l(self, action: Action) -> float | None:
        if action is Action.BAILED:
            return self.bailed_l
        return self.refill_l if action is Action.REFILLED else None

    def drafts(self) -> list[Draft]:
        """What to write, in one transaction.

        Raises:
            BadValue: what fouled the tank, or what was done, is not said yet.
        """
        drafts = self.water_drafts()
        if not drafts and not (self.event is not None and self.photo_path):
            raise BadValue(
                f"Press {CAUSE_KEYS} first: what fouled the tank?"
                if self.event is None
                else f"Press what was done or seen first, or {key('other_event')} for a new event."
            )
        if self.new_cause is None and self.event is None and self.note:
            raise BadValue(f"Bear visits keep no note; press {CAUSE_KEYS}, or take the note away.")
        if self.ramp is not None:
            drafts.append(Draft(self.day, RampCheck(self.station_id, self.ramp)))
        if self.photo_path:
            event_id = None if self.cause is None else self.event_id
            photo = Photo(self.station_id, self.photo_path, self.photo_sha256, event_id)
            drafts.append(Draft(self.day, photo))
        return drafts

    def title(self, station: str) -> str:
        said = [*(action.value for action in self.in_order)]
        said += ["looked at the water"] if self.signs else []
        said += ["photo"] if self.photo_path else []
        said += [f"bear visits: {self.bears}"] if self.bears else []
        done = ", ".join(said)
        if self.event is None:
            if self.new_cause is None and self.bears:
                return f"{station}: {done} on {plain_date(self.day)}"
            cause = "event" if self.new_cause is None else self.new_cause.value
            return f"{station}: {cause}, found {plain_date(self.day)}" + (done and f"; {done}")
        return f"{station}: {done} on {plain_date(self.day)} ({self.event.cause.value})"
