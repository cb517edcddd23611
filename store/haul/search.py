"""A good day for more stops than can be solved exactly: built stop by stop, then bettered."""

from __future__ import annotations

import random
from collections.abc import Iterator

from store.haul.partial import START, Partial, Ways, unbeaten
from store.haul.worth import Worth, has_water_for, worth

KICKS = 12
"""Times a good day is shaken and bettered anew."""

Order = tuple[int, ...]


def day_in_order(ways: Ways, order: Order) -> Partial | None:
    """The best day that serves stops in this order; None where the limits forbid it."""
    if not has_water_for(ways, order):
        return None
    days = [START]
    for stop in order:
        days = unbeaten(
            [day for one in days for day in ways.further(one, stop) if ways.allows(day)]
        )
    return min(days, key=ways.home, default=None)


def good_day(ways: Ways) -> Partial:
    """A day that no small change betters: moving, swapping, turning round, taking in stops.

    The same problem gives the same day.
    """
    rng = random.Random(0)
    best = _bettered(ways, _built(ways))
    for _ in range(KICKS if ways.problem.placed else 0):
        tried = _bettered(ways, _shaken(best[0], rng))
        if tried[2] > best[2]:
            best = tried
    return best[1]


_Found = tuple[Order, Partial, Worth]


def _judged(ways: Ways, order: Order) -> _Found | None:
    day = day_in_order(ways, order)
    return None if day is None else (order, day, worth(ways, order, day))


def _built(ways: Ways) -> Order:
    """Stops put in where they cost least, the one worth most at each time."""
    order: Order = ()
    stops = ways.problem.stops
    by_worth = sorted(
        range(ways.count), key=lambda one: (not stops[one].urgent, -_gain_per_minute(ways, one))
    )
    for stop in by_worth:
        found = [one for put in _put_in(ways, order, stop) if (one := _judged(ways, put))]
        if found:
            order = max(found, key=lambda one: one[2])[0]
    return order


def _gain_per_minute(ways: Ways, stop: int) -> float:
    return max(ways.problem.stops[stop].gain_days, 0.0) / max(ways.at_stop[stop], 1.0)


def _put_in(ways: Ways, order: Order, stop: int) -> Iterator[Order]:
    """An order with one more stop, at every position it may take."""
    if not ways.problem.placed:
        yield tuple(sorted((*order, stop)))
        return
    for at in range(len(order) + 1):
        yield (*order[:at], stop, *order[at:])


def _bettered(ways: Ways, order: Order) -> _Found:
    """Take each change that makes the day better, until none does."""
    best = _judged(ways, order) or ((), START, worth(ways, (), START))
    better: _Found | None = best
    while better is not None:
        best = better
        judged = (_judged(ways, changed) for changed in _changed(ways, best[0]))
        better = next((one for one in judged if one is not None and one[2] > best[2]), None)
    return best


def _changed(ways: Ways, order: Order) -> Iterator[Order]:
    left = [stop for stop in range(ways.count) if stop not in order]
    for stop in left:
        yield from _put_in(ways, order, stop)
        for at in range(len(order)):
            yield from _put_in(ways, order[:at] + order[at + 1 :], stop)
    if not ways.problem.placed:
        return
    for at, stop in enumerate(order):
        rest = order[:at] + order[at + 1 :]
        yield from (put for put in _put_in(ways, rest, stop) if put != order)
    for first in range(len(order)):
        for last in range(first + 1, len(order)):
            yield order[:first] + order[first : last + 1][::-1] + order[last + 1 :]
            swapped = list(order)
            swapped[first], swapped[last] = swapped[last], swapped[first]
            yield tuple(swapped)


def _shaken(order: Order, rng: random.Random) -> Order:
    """Cut in four, the middle two exchanged (double bridge, Martin, Otto and Felten 1991)."""
    if len(order) < 4:
        return order
    a, b, c = sorted(rng.sample(range(1, len(order)), 3))
    return order[:a] + order[b:c] + order[a:b] + order[c:]
