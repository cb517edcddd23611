"""The parameters of a cause as documented and as this logbook's keeper set them."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from store.contamination.draws import Draws
from store.contamination.parameters import CAUSE_PRIORS, LIMITS, Limits, parameters_with
from store.model.snapshot import Snapshot
from store.records import CauseSetting, Draft, Withdrawal
from store.vocabulary import Cause

QUANTILE = 1.2816
"""Standard deviations from the median to the 90 percent quantile of a normal."""


@dataclass(frozen=True)
class ParameterLine:
    """One parameter: what holds, what is documented, and the entry that changed it.

    `spread` is the standard deviation of the logarithm, kept whatever is set.
    """

    name: str
    limits: Limits
    value: float
    spread: float
    documented: float
    evidence: str
    entry_id: str | None

    @property
    def without_weather(self) -> bool:
        """Whether it counts only by rule of thumb."""
        return self.name not in Draws.__dataclass_fields__

    @property
    def likely(self) -> tuple[float, float] | None:
        """Where 80 percent of the members lie; None of one number, without a spread."""
        if self.without_weather or not self.spread or not self.value:
            return None
        ends = (self.value * exp(side * QUANTILE * self.spread) for side in (-1.0, 1.0))
        low, high = (min(max(end, self.limits.low), self.limits.high) for end in ends)
        return low, high

    @property
    def is_changed(self) -> bool:
        return self.entry_id is not None


def parameter_lines(snapshot: Snapshot, cause: Cause) -> tuple[ParameterLine, ...]:
    """Every parameter of a cause, in the order of `LIMITS`; evidence as documented."""
    entries = _entries(snapshot, cause)
    return tuple(
        ParameterLine(
            name=name,
            limits=limits,
            value=snapshot.cause_priors[cause][name].median,
            spread=CAUSE_PRIORS[cause][name].spread,
            documented=CAUSE_PRIORS[cause][name].median,
            evidence=CAUSE_PRIORS[cause][name].evidence,
            entry_id=entries.get(name),
        )
        for name, limits in LIMITS.items()
    )


def setting_drafts(
    snapshot: Snapshot, cause: Cause, name: str, value: float | None
) -> tuple[Draft, ...]:
    """What sets a parameter, or with None goes back to what is documented.

    Empty where nothing would change.

    Raises:
        BadValue: no such parameter, or a value outside its limits.
    """
    entry_id = _entries(snapshot, cause).get(name)
    if value is None:
        back = Withdrawal("back to the documented value")
        return (Draft(snapshot.today, back, revises=entry_id),) if entry_id else ()
    setting = CauseSetting(cause, name, value)
    parameters_with([setting])
    if value == snapshot.cause_priors[cause][name].median:
        return ()
    return (Draft(snapshot.today, setting, revises=entry_id),)


def _entries(snapshot: Snapshot, cause: Cause) -> dict[str, str]:
    """By parameter, the entry that holds."""
    return {
        entry.fact.parameter: entry.entry_id
        for entry in snapshot.cause_settings
        if isinstance(entry.fact, CauseSetting) and entry.fact.cause is cause
    }
