"""What smell, colour and animals tell about an event: Bayes' rule on the members.

Smell and colour speak of the concentration against the member's own threshold of
use, animals of the habit. The tables are assumed; between their rows the likelihood
runs straight in the logarithm of the share. No sign rules a member out for good.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from store.contamination.draws import Draws
from store.contamination.events import SignSeen
from store.contamination.mixing import Array
from store.contamination.recovery_run import RecoveryRun
from store.vocabulary import Cause, Response, Strength

SHARES = (0.25, 0.5, 1.0, 2.0, 5.0, 20.0)
"""Concentration as a multiple of the threshold, the rows of the table of strengths."""
LIKELIHOOD: Mapping[Strength, tuple[float, ...]] = MappingProxyType(
    {
        Strength.NONE: (0.93, 0.85, 0.50, 0.20, 0.06, 0.02),
        Strength.FAINT: (0.06, 0.13, 0.42, 0.60, 0.44, 0.13),
        Strength.STRONG: (0.01, 0.02, 0.08, 0.20, 0.50, 0.85),
    }
)
"""How often a nose or an eye would judge so at each of `SHARES`."""
USED_LIKELIHOOD = (0.05, 0.90)
"""How often use is seen where the habit is gone, and where it is whole."""
SMELLS = frozenset(
    {Cause.DROWNED_ANIMAL, Cause.DEAD_FISH, Cause.ADDITIVE, Cause.SPILL, Cause.OTHER}
)
COLOURS = frozenset({Cause.DROWNED_ANIMAL, Cause.DEAD_FISH, Cause.DYE, Cause.SILT, Cause.OTHER})
"""Causes whose water may be coloured; of other causes a colour tells nothing."""


def even_weights(members: int) -> Array:
    return np.full(members, 1.0 / members)


def sign_weights(
    signs: Iterable[SignSeen], cause: Cause, expected: RecoveryRun, draws: Draws
) -> Array:
    """Weights of the members after all signs, (members,), with the sum 1.

    `expected` is the run with what was really done. A sign on a day outside the
    run is left out.
    """
    log_weight = np.zeros(draws.members)
    for sign in signs:
        day = (sign.on - expected.first_day).days
        if 0 <= day < len(expected.habit):
            share = expected.concentration[day] / draws.clear_share
            log_weight += _log_likelihood(sign, cause, share, expected.habit[day])
    weights = np.exp(log_weight - log_weight.max())
    return np.asarray(weights / weights.sum())


def effective_members(weights: Array) -> float:
    """How many even members the weights are worth, 1 to all (Kish 1965, Survey Sampling)."""
    return float(1.0 / np.square(weights).sum())


def weighted_quantile(values: Array, weights: Array, shares: Sequence[float]) -> Array:
    """The smallest values that so much of the weight does not exceed; inf stays inf."""
    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    places = np.searchsorted(reached, np.asarray(shares) - 1e-9)
    return np.asarray(values[order][np.minimum(places, len(values) - 1)])


def _log_likelihood(sign: SignSeen, cause: Cause, share: Array, habit: Array) -> Array:
    total = np.zeros_like(share)
    judged = ((sign.smell, SMELLS), (sign.colour, COLOURS))
    for strength, tells in judged:
        if strength is not None and cause in tells:
            at = np.log(np.maximum(share, SHARES[0]))
            total += np.log(np.interp(at, np.log(SHARES), LIKELIHOOD[strength]))
    if sign.response is not None:
        gone, whole = USED_LIKELIHOOD
        used = gone + (whole - gone) * habit
        total += np.log(used if sign.response is Response.USED else 1.0 - used)
    return total
