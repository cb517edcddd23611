"""Which causes of contamination can be taken out, bailed or drained away."""

from store.vocabulary import Cause

CAN_TAKE_OUT = frozenset({Cause.DROWNED_ANIMAL, Cause.DEAD_FISH, Cause.SILT})
NO_BAILING = frozenset({Cause.BEAR_USE, Cause.DISTURBANCE, Cause.SPILL})
"""Bailing helps none of these, or, of a spill, is for licensed practice."""
NO_DRAINING = frozenset({Cause.DRY_SPELL, Cause.DISTURBANCE, Cause.SPILL})
