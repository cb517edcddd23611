"""What of a logbook the checks of a write need to see: little of a long log."""

from __future__ import annotations

from collections.abc import Sequence

from store.logbook.checks import CHECKED_KINDS
from store.logbook.entries import held_entries
from store.logbook.opening import Logbook
from store.records import (
    Chore,
    Contamination,
    ContaminationAction,
    ContaminationSign,
    Draft,
    Entry,
    Fact,
    StationFacts,
    TractFacts,
    Withdrawal,
)
from store.vocabulary import ChoreKind

SERVICE = f"detail.chore IN ('{ChoreKind.INSTALL}', '{ChoreKind.RETIRE}')"
"""The chores that say from when to when a tank stood, which are few among many."""


def needed_after(logbook: Logbook, drafts: Sequence[Draft]) -> list[Entry]:
    """What the drafts may contradict: little of a long log, unless they withdraw something."""
    facts = [draft.fact for draft in drafts]
    if any(isinstance(fact, Withdrawal) for fact in facts):
        return held_entries(logbook, CHECKED_KINDS)
    kinds: list[type[Fact]] = [TractFacts, StationFacts]
    if any(isinstance(fact, Contamination) for fact in facts):
        kinds += [Contamination, ContaminationAction, ContaminationSign]
    elif any(isinstance(fact, ContaminationAction | ContaminationSign) for fact in facts):
        kinds.append(Contamination)
    return [*held_entries(logbook, kinds), *held_entries(logbook, (Chore,), SERVICE)]


def needed_before(drafts: Sequence[Draft]) -> tuple[type[Fact], ...]:
    """The kinds that can hold a contradiction which is none of the drafts' making."""
    if any(isinstance(draft.fact, Withdrawal) for draft in drafts):
        return CHECKED_KINDS
    return (TractFacts, StationFacts)
