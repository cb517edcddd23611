"""Members drawn from the parameters of a cause, the same for one event on every run."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b

import numpy as np

from store.contamination.mixing import Array
from store.contamination.parameters import LIMITS, Priors
from store.water.priors import normal_scores


@dataclass(frozen=True, eq=False)
class Draws:
    """One value for each member, every array of shape (members,); see `LIMITS`."""

    strength: Array
    clear_share: Array
    mixed_share: Array
    residue_share: Array
    residue_days: Array
    source_days: Array
    decay_per_day: Array
    habit_left: Array
    habit_days: Array

    @property
    def members(self) -> int:
        return len(self.strength)

    @property
    def dissolved(self) -> bool:
        """Whether there is anything to wash out; otherwise the habit alone is broken."""
        return bool(self.strength.any())


def draw(event_id: str, priors: Priors, members: int) -> Draws:
    """Members of one event, each parameter through every quantile in an order of its own."""
    scores = normal_scores(members)
    rng = np.random.default_rng(_seed(event_id))
    values = {}
    for name in Draws.__dataclass_fields__:
        prior, limits = priors[name], LIMITS[name]
        drawn = prior.median * np.exp(prior.spread * rng.permutation(scores))
        values[name] = np.clip(drawn, limits.low, limits.high)
    return Draws(**values)


def _seed(event_id: str) -> int:
    return int.from_bytes(blake2b(event_id.encode(), digest_size=8).digest(), "big")
