"""A prompt, its kinds and states, and what the model must say before one is made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from types import MappingProxyType

from store.season.look import LookValue
from store.season.windows import Season
from store.vocabulary import PromptKind

WORK: Mapping[PromptKind, str] = MappingProxyType(
    {
        PromptKind.RAMP: "See to the escape ramp",
        PromptKind.CONTAMINATION: "See to the fouled water",
        PromptKind.FILL: "Fill the tank",
        PromptKind.RUN_DRY: "Dry ahead; no fill gets there",
        PromptKind.CHECK: "Look whether the tank is ready",
        PromptKind.RAKE: "Rake the apron",
        PromptKind.INSTALL: "Install the tank",
        PromptKind.UNCOVER: "Take the cover off",
        PromptKind.COVER: "Cover the tank",
        PromptKind.BEARS: "See to the bears",
    }
)
"""What each kind asks for, in a few words."""


IF_SKIPPED: Mapping[PromptKind, str] = MappingProxyType(
    {
        PromptKind.RAMP: "An animal that falls in cannot get out, drowns and fouls the water.",
        PromptKind.CONTAMINATION: "Animals keep off it, and it fouls for longer.",
        PromptKind.FILL: "It stands dry on some of the days it is wanted most.",
        PromptKind.RUN_DRY: "Animals that find it dry get used to going elsewhere.",
        PromptKind.CHECK: "A dry or broken tank is found out too late to mend it.",
        PromptKind.RAKE: "Leaves and weeds hold rain back from the tank and rot in it.",
        PromptKind.INSTALL: "Dry ground is hard to dig, and the tank misses the spring rains.",
        PromptKind.UNCOVER: "Animals cannot drink from it.",
        PromptKind.COVER: "Bears take to it, and foul or break it.",
        PromptKind.BEARS: "They keep coming, and deer keep off.",
    }
)


class PromptState(StrEnum):
    UPCOMING = "upcoming"
    DUE = "due"
    OVERDUE = "overdue"
    PUT_OFF = "put off"
    DECLINED = "declined"
    DONE = "done"
    SKIPPED = "skipped"


SET_ASIDE_STATES = frozenset({PromptState.PUT_OFF, PromptState.DECLINED})
OPEN_STATES = frozenset({PromptState.UPCOMING, PromptState.DUE, PromptState.OVERDUE})

_BY_URGENCY = (
    PromptKind.CONTAMINATION,
    PromptKind.FILL,
    PromptKind.RUN_DRY,
    PromptKind.CHECK,
    PromptKind.RAKE,
    PromptKind.INSTALL,
    PromptKind.UNCOVER,
    PromptKind.COVER,
    PromptKind.BEARS,
    PromptKind.RAMP,
)
"""A ramp seen missing endangers and comes first; one to look at waits for a visit."""
_KIND_RANK = {kind: rank for rank, kind in enumerate(_BY_URGENCY)}
_STATE_RANK = {
    PromptState.OVERDUE: 1,
    PromptState.DUE: 2,
    PromptState.UPCOMING: 3,
    PromptState.PUT_OFF: 4,
    PromptState.DECLINED: 5,
    PromptState.DONE: 6,
    PromptState.SKIPPED: 7,
}


@dataclass(frozen=True)
class PromptInputs:
    """What the caller's model says of a station; None where it cannot say.

    Shares are of the tank's volume, 0 to 1. `clear_on` holds the expected date
    of recovery by event id.
    """

    read_share: float | None = None
    """What somebody read today; None where nobody did, or readings contradict each other."""
    level_share: float | None = None
    """Today; judges the need of a fill where the top-up date cannot be modeled."""
    top_up_share: float | None = None
    """On the top-up date of the next fill window, or today inside it."""
    fill_volume_l: float | None = None
    """Litres that would fill the tank on that date."""
    dry_from: date | None = None
    dry_chance: float | None = None
    """That the tank is dry on some day of the heavy-use weeks."""
    look: LookValue | None = None
    """Of a look today, where a fill could be decided after it; None where the level was read."""
    fill_gain_days: float | None = None
    """Wet days of the heavy-use weeks that a fill to the rim is expected to bring."""
    fill_costs_days: float = 0.0
    """Days of heavy use that the visit for it costs."""
    clear_on: Mapping[str, date | None] = field(default_factory=dict)

    @property
    def share_at_top_up(self) -> float | None:
        """What a fill is decided on: modeled, or else as read today."""
        said = (self.top_up_share, self.level_share, self.read_share)
        return next((share for share in said if share is not None), None)

    @property
    def is_read_alone(self) -> bool:
        """Whether no model stands behind the level, but today's reading."""
        return self.top_up_share is None and self.level_share is None

    @property
    def dry_in_heavy_use(self) -> bool:
        """Whether it is rather dry than not."""
        return self.dry_chance is not None and self.dry_chance > 0.5

    @property
    def look_tells(self) -> bool:
        """Whether a look is worth its visit; so it is where the model cannot tell."""
        return self.dry_chance is None or (self.look is not None and self.look.worth_it)

    def asks_for_water(self, season: Season) -> bool:
        """Whether the tank is likelier to be dry in heavy use than its keeper accepts."""
        return self.dry_chance is not None and self.dry_chance > season.dry_chance_most


@dataclass(frozen=True)
class Prompt:
    """One thing a station is due, with the dates of its window, both included.

    `last` is None for a standing prompt, due until it is dealt with. `endangers`
    marks what can kill an animal or foul the water today: it outranks every date.
    `put_off_to` is the day it comes back.
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
    put_off_to: date | None = None

    @property
    def if_skipped(self) -> str:
        """What happens if it is not done (common practice, no source)."""
        return IF_SKIPPED[self.kind]

    @property
    def priority(self) -> int:
        """Lower is more urgent: danger, then overdue, due, upcoming; then by kind."""
        rank = 0 if self.endangers else _STATE_RANK[self.state]
        return rank * 10 + _KIND_RANK[self.kind]


def plain_date(day: date) -> str:
    """A day as prompts write it: 5 April 2026."""
    return f"{day.day} {day:%B} {day.year}"


def days_of(days: float) -> str:
    """A number of days in words: 1 day, 3 days."""
    whole = round(days)
    return "1 day" if whole == 1 else f"{whole} days"
