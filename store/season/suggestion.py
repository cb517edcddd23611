"""What to do with a station in the years to come, from what its years and variants say.

The limits are assumed; all of them stand here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from store.vocabulary import Access


class Advice(StrEnum):
    LEAVE = "leave alone"
    ENLARGE = "enlarge"
    DEEPEN = "deepen"
    RESCULPT = "re-sculpt the apron"
    MOVE = "move"
    GIVE_UP = "give up"
    KEEP_FILLING = "keep filling"


HOLDS_ENOUGH = 0.8
"""A station that holds through heavy use in so many years needs nothing."""
WORTH_THE_WORK = 0.15
"""A change must raise that chance by so much."""
LITTLE = 0.3
"""A station nothing raises above this is in the wrong place."""
FOULED_SHARE = 0.5
"""So is one that is fouled on so much of its heavy-use weeks, over the seasons on file."""
FEW_FILLS = 1.5
"""So many fills a year are no trouble where a vehicle gets."""


@dataclass(frozen=True)
class Suggestion:
    advice: Advice
    why: str

    @property
    def text(self) -> str:
        return f"{self.advice.capitalize()}: {self.why}"


def suggestion(
    access: Access,
    hold_chance: float,
    fills_a_year: float,
    with_change: Mapping[Advice, float],
    *,
    fouled_share: float,
    used: bool | None,
) -> Suggestion:
    """What to do, with the numbers behind it.

    `with_change` is the chance to hold through heavy use after each change that can be made;
    `fouled_share` the part of past heavy-use weeks that it stood fouled; `used` whether
    anybody saw use there, None where nobody looked.
    """
    holds = f"it holds water through heavy use in {hold_chance:.0%} of the weather years"
    if fouled_share >= FOULED_SHARE:
        why = f"it stood fouled on {fouled_share:.0%} of the heavy-use days on file"
        return Suggestion(Advice.MOVE, why)
    if hold_chance >= HOLDS_ENOUGH:
        if used is False:
            return Suggestion(Advice.MOVE, f"{holds}, but no use was ever seen there")
        return Suggestion(Advice.LEAVE, holds)
    best = max(with_change, key=lambda change: with_change[change], default=None)
    if best is not None and with_change[best] - hold_chance >= WORTH_THE_WORK:
        return Suggestion(best, f"{holds}; then it would in {with_change[best]:.0%}")
    if access is not Access.FOOT and fills_a_year <= FEW_FILLS:
        why = f"{holds}, and takes {fills_a_year:.1f} fills a year to do so in all of them"
        return Suggestion(Advice.KEEP_FILLING, why)
    if hold_chance < LITTLE:
        advice = Advice.GIVE_UP if used is False else Advice.MOVE
        return Suggestion(advice, f"{holds}, and no change of tank or apron raises that much")
    return Suggestion(Advice.LEAVE, f"{holds}; no change raises that much")
