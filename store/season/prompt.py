"""A prompt, its kinds and states, and what the model must say before one is made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from types import MappingProxyType

from store.vocabulary import Access


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


WORK: Mapping[PromptKind, str] = MappingProxyType(
    {
        PromptKind.RAMP: "See to the escape ramp",
        PromptKind.CONTAMINATION: "See to the fouled water",
        PromptKind.FILL: "Fill the tank",
        PromptKind.RUN_DRY: "Know that it runs dry",
        PromptKind.CHECK: "Look whether the tank is ready",
        PromptKind.RAKE: "Rake the apron",
        PromptKind.INSTALL: "Install the tank",
        PromptKind.UNCOVER: "Take the cover off",
        PromptKind.COVER: "Cover the tank",
        PromptKind.BEARS: "See to the bears",
    }
)
"""What each kind asks for, in a few words."""


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


UNDECIDED = (0.1, 0.9)
"""Chances of a dry tank between which a look may change what is done (assumed)."""


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
    dry_chance: float | None = None
    """That the tank is dry on some day of the heavy-use weeks."""
    clear_on: Mapping[str, date | None] = field(default_factory=dict)

    @property
    def dry_in_heavy_use(self) -> bool:
        """Whether it is rather dry than not."""
        return self.dry_chance is not None and self.dry_chance > 0.5

    def look_tells(self, access: Access) -> bool:
        """Whether a look before the heavy-use weeks can change what is done.

        Where no vehicle gets nobody brings water; where the model is as good as sure the
        answer is known (one in ten either way, assumed).
        """
        if self.dry_chance is None:
            return True
        low, high = UNDECIDED
        return access is not Access.FOOT and low <= self.dry_chance <= high


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
