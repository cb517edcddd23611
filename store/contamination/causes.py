"""What each cause of contamination does to a tank, and on what evidence.

No published recovery time of a small tank was found for any cause: the waits are
common practice or assumed, and `evidence` says so for each parameter.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType

from store.contamination.mixing import HEEL_BAILED, rounds_to_share, volumes_to_share
from store.records import Cause

_THREE_VOLUMES = (
    "assumed: no share at which animals come back is published. Three tank volumes pumped "
    "through leave 5 percent and are accepted as an exchange (published: IMO Ballast Water "
    "Management Convention, Regulation D-1)"
)
_PRACTICE = "common practice, no source"
_SLOW_DECAY = (
    "assumed; a carcass decays with accumulated warmth, under water slower than on land "
    "(published: J. Forensic Sci. 2011, 56:229-232), but no days are published for a tank"
)
_NO_SOURCE_LEFT = "assumed: what was put in is dissolved at once and nothing goes on releasing it"
_HABIT = "common practice, no source: one to two weeks after water is back"
_LIKE_CARCASS = "assumed to be like a drowned animal"


@dataclass(frozen=True)
class CauseParameters:
    """How one cause fouls a tank, by what it clears, and the waits without weather.

    `dissolved` water washes out by overflow; otherwise the habit alone is broken.
    `clear_share` is the remaining share at which animals come back. A source left
    in the tank holds the water at its first strength for `source_days`. The habit
    takes `habit_low_days` to `habit_high_days` to return once the water is clear.
    The fallback waits are for rain alone and for a tank bailed and refilled.
    `evidence` names what each parameter rests on.
    """

    dissolved: bool
    clear_share: float
    source_days: int
    habit_low_days: int
    habit_days: int
    habit_high_days: int
    fallback_wait_days: int
    fallback_refilled_days: int
    evidence: Mapping[str, str]

    @property
    def clear_volumes(self) -> float:
        """Tank volumes that must overflow to reach `clear_share`, well mixed."""
        return volumes_to_share(self.clear_share)

    @property
    def clear_rounds(self) -> int:
        """Rounds of bailing a full tank and refilling it that reach `clear_share`."""
        return rounds_to_share(HEEL_BAILED, self.clear_share)


def _parameters(
    *,
    dissolved: bool = True,
    source_days: int = 0,
    wait_days: int = 183,
    refilled_days: int = 21,
    source: str = _NO_SOURCE_LEFT,
    wait: str = _LIKE_CARCASS,
    dissolved_evidence: str = "assumed: spread evenly through the water",
) -> CauseParameters:
    evidence = {
        "dissolved": dissolved_evidence,
        "clear_share": _THREE_VOLUMES if dissolved else "assumed: nothing to wash out",
        "source_days": source,
        "habit_low_days": _HABIT,
        "habit_days": _HABIT,
        "habit_high_days": _HABIT,
        "fallback_wait_days": wait,
        "fallback_refilled_days": wait,
    }
    return CauseParameters(
        dissolved=dissolved,
        clear_share=0.05 if dissolved else 1.0,
        source_days=source_days,
        habit_low_days=7,
        habit_days=10,
        habit_high_days=14,
        fallback_wait_days=wait_days,
        fallback_refilled_days=refilled_days,
        evidence=MappingProxyType(evidence),
    )


def _habit_only(dissolved_evidence: str) -> CauseParameters:
    return _parameters(
        dissolved=False,
        wait_days=14,
        refilled_days=14,
        source="assumed: nothing is left in the tank",
        wait=_HABIT,
        dissolved_evidence=dissolved_evidence,
    )


CAUSE_PARAMETERS: Mapping[Cause, CauseParameters] = MappingProxyType(
    {
        Cause.DROWNED_ANIMAL: _parameters(
            source_days=60,
            source=_SLOW_DECAY,
            wait=f"{_PRACTICE}: six months or more by rain alone, weeks when bailed and refilled",
        ),
        Cause.DEAD_FISH: _parameters(source_days=30, source=_SLOW_DECAY),
        Cause.ADDITIVE: _parameters(),
        Cause.DYE: _parameters(),
        Cause.BEAR_USE: _habit_only("assumed: bears break the habit of deer, not the water"),
        Cause.OTHER: _parameters(),
        Cause.SPILL: _parameters(
            wait_days=365,
            refilled_days=90,
            wait="assumed; not to be waited out: call the agency, keep animals off",
        ),
        Cause.SILT: _habit_only("assumed: silt and leaves settle; rake them out"),
        Cause.DRY_SPELL: _habit_only("assumed: there is no water to foul"),
        Cause.DISTURBANCE: _habit_only("assumed: animals stay away, the water is as it was"),
    }
)

PARAMETER_NAMES = tuple(field.name for field in fields(CauseParameters) if field.name != "evidence")
"""The parameters a screen can show beside their evidence."""
