"""What a look at a station brings and costs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class LookValue:
    """Days of heavy use that a look is expected to save, and those its visit costs."""

    saves_days: float
    costs_days: float

    @property
    def worth_it(self) -> bool:
        return self.saves_days > self.costs_days
