"""Contamination events put together from the entries that are about them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from store.contamination.events import Carcass, EventAction, EventHistory, SignSeen
from store.records import (
    BearVisit,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Entry,
)
from store.vocabulary import Cause


def events_of(log: Sequence[Entry]) -> tuple[EventHistory, ...]:
    """The events found in a log that runs oldest first, with their actions and signs.

    An action or a sign whose event is not in the log is left out.
    """
    found: dict[str, tuple[Entry, Contamination]] = {}
    actions: dict[str, list[EventAction]] = {}
    signs: dict[str, list[SignSeen]] = {}
    for entry in log:
        match entry.fact:
            case Contamination() as event:
                found[event.event_id] = (entry, event)
                first = EventAction(entry.day, event.action, event.volume_l)
                actions.setdefault(event.event_id, []).insert(0, first)
            case ContaminationAction() as later:
                taken = EventAction(entry.day, later.action, later.volume_l)
                actions.setdefault(later.event_id, []).append(taken)
            case ContaminationSign() as sign:
                seen = SignSeen(entry.day, sign.smell, sign.colour, sign.response)
                signs.setdefault(sign.event_id, []).append(seen)
    return tuple(
        _with_bears(
            log,
            EventHistory(
                event_id,
                entry.day,
                event.cause,
                tuple(actions[event_id]),
                tuple(signs.get(event_id, ())),
                Carcass(event.animal, event.animal_size, event.days_dead),
            ),
        )
        for event_id, (entry, event) in found.items()
    )


def _with_bears(log: Sequence[Entry], event: EventHistory) -> EventHistory:
    """Bear use with the last visit from the find until it was seen over."""
    if event.cause is not Cause.BEAR_USE:
        return event
    over = event.closed or date.max
    visits = (
        entry.day
        for entry in log
        if isinstance(entry.fact, BearVisit)
        and entry.fact.visits
        and event.found <= entry.day <= over
    )
    return replace(event, bears_last=max(visits, default=None))
