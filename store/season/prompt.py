"""A prompt, its kinds and states, and what the model must say before one is made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum


class PromptKind(StrEnum):
    RAMP = "ramp"
    CONTAMINATION = "contamination"
    FILL = "fill"
    RUN_DRY = "run dry"
    CHECK = "check"
    RAKE = "rake"
    INSTALL = "install"
    UNCOVER = "uncover"
    COVER = "cover"
    BEARS = "bears"


class PromptState(StrEnum):
    UPCOMING = "upcoming"
    DUE = "due"
    OVERDUE = "overdue"
    DONE = "done"
    SKIPPED = "skipped"


OPEN_STATES = frozenset({PromptState.UPCOMING, PromptState.DUE, PromptState.OVERDUE})

_KIND_RANK = {kind: rank for rank, kind in enumerate(PromptKind)}
_STATE_RANK = {
    PromptState.OVERDUE: 1,
    PromptState.DUE: 2,
    PromptState.UPCOMING: 3,
    PromptState.DONE: 4,
    PromptState.SKIPPED: 5,
}


@dataclass(frozen=True)
class PromptInputs:
    """What the caller's model says of a station; None where it cannot say.

    Shares are of the tank's volume, 0 to 1. `clear_on` holds the expected date
    of recovery by event id.
    """

    level_share: float | None = None
    """Today; judges the need of a fill where the top-up date cannot be modeled."""
    top_up_share: float | None = None
    """On the top-up date of the next fill window, or today inside it."""
    fill_volume_l: float | None = None
    """Litres that would fill the tank on that date."""
    dry_from: date | None = None
    dry_in_heavy_use: bool = False
    clear_on: Mapping[str, date | None] = field(default_factory=dict)


@dataclass(frozen=True)
class Prompt:
    """One thing a station is due, with the dates of its window, both included.

    `last` is None for a standing prompt, due until it is dealt with. `endangers`
    marks what can kill an animal or foul the water today: it outranks every date.
    """

    station_id: str
    kind: PromptKind
    state: PromptState
    first: date
    last: date | None
    text: str
    done_on: date | None = None
    volume_l: float | None = None
    event_id: str | None = None
    endangers: bool = False

    @property
    def priority(self) -> int:
        """Lower is more urgent: danger, then overdue, due, upcoming; then by kind."""
        rank = 0 if self.endangers else _STATE_RANK[self.state]
        return rank * 10 + _KIND_RANK[self.kind]


def plain_date(day: date) -> str:
    """A day as prompts write it: 5 April 2026."""
    return f"{day.day} {day:%B} {day.year}"
