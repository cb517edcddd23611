"""When a tank stood under a cover, by its log."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from store.records import Chore, Contamination, ContaminationAction, Entry
from store.vocabulary import Action, ChoreKind


@dataclass(frozen=True)
class Cover:
    """From the day a cover was put on to the day it was taken off; None while it is on."""

    on: date
    off: date | None = None


def covers(log: Iterable[Entry]) -> tuple[Cover, ...]:
    """The covers of a station whose log runs oldest first."""
    found: list[Cover] = []
    for entry in log:
        covered = bool(found) and found[-1].off is None
        match entry.fact:
            case (
                Chore(chore=ChoreKind.COVER)
                | Contamination(action=Action.COVERED)
                | ContaminationAction(action=Action.COVERED)
            ) if not covered:
                found.append(Cover(entry.day))
            case Chore(chore=ChoreKind.UNCOVER) if covered:
                found[-1] = Cover(found[-1].on, entry.day)
    return tuple(found)
