"""How bailing is planned as it was typed, and the events worked out under that plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from store.contamination.choices import Plan
from store.model.recovery import EventRecovery
from store.typed import number_from
from store.units import Units
from store.views.planned_recovery import USUAL_PERCENT, bailing_plan
from tui.base.typed_field import typed_volume_l


@dataclass
class TypedPlan:
    """`plan` is None while nothing was typed; `found` holds events by id."""

    plan: Plan | None = None
    found: dict[str, EventRecovery] = field(default_factory=dict)
    percent: float | None = None

    @property
    def shown_percent(self) -> float:
        return USUAL_PERCENT if self.plan is None else 100.0 * self.plan.bail_share

    def waits_for(self, event_id: str) -> bool:
        """Whether an event is still to be worked out."""
        return self.plan is not None and event_id not in self.found

    def take_percent(self, text: str, today: date) -> None:
        """Take the percentage of a plan; the usual one where nothing is typed.

        Raises:
            BadValue: it is no number, or cannot be bailed.
        """
        percent = number_from(text) if text else None
        bailing_plan(today, percent)
        self.percent = percent

    def take_load(self, text: str, today: date, units: Units) -> None:
        """Take the load, which completes the plan; the usual one where nothing is typed.

        Raises:
            BadValue: it is no number, or cannot be carried.
        """
        self.plan = bailing_plan(today, self.percent, typed_volume_l(text, units))
        self.found.clear()
