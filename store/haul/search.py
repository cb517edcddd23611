"""A good day for more stops than can be solved exactly: built stop by stop, then bettered."""

from __future__ import annotations

import random
from collections.abc import Iterator

from store.haul.partial import START, Partial, Ways, unbeaten
from store.haul.worth import Worth, has_water_for, worth

KICKS = 20
"""Times a good day is shaken and bettered anew."""
DROPPED = 3
"""Stops that a shaken day of limited hours, loads or water loses."""
MOST_KEPT = 100_000
"""Orders remembered at once."""

Order = tuple[int, ...]


class Orders:
    """Days by the order of their stops; what orders begin with alike is followed once."""

    def __init__(self, ways: Ways) -> None:
        self.ways = ways
        self._ends: dict[Order, list[Partial]] = {(): [START]}

    def day(self, order: Order) -> Partial | None:
        """The best day that serves stops in this order; None where the limits forbid it."""
        if not has_water_for(self.ways, order):
            return None
        return min(self._after(order), key=self.ways.home, default=None)

    def _after(self, order: Order) -> list[Partial]:
        if order not in self._ends:
            if len(self._ends) > MOST_KEPT:
                self._ends = {(): [START]}
            ways = self.ways
            self._ends[order] = unbeaten(
                [
                    day
                    for one in self._after(order[:-1])
                    for day in ways.further(one, order[-1])
                    if ways.allows(day)
                ]
            )
        return self._ends[order]


def good_day(ways: Ways) -> Partial:
    """A day that no small change betters: moving, swapping, turning round, taking in stops.

    The same problem gives the same day.
    """
    rng, orders = random.Random(0), Orders(ways)
    best = _bettered(orders, _built(orders))
    for _ in range(KICKS):
        tried = _bettered(orders, _shaken(orders, best[0], rng))
        if tried[2] > best[2]:
            best = tried
    return best[1]


_Found = tuple[Order, Partial, Worth]


def _judged(orders: Orders, order: Order) -> _Found | None:
    day = orders.day(order)
    return None if day is None else (order, day, worth(orders.ways, order, day))


def _built(orders: Orders, order: Order = ()) -> Order:
    """Stops put in where they cost least, the one worth most at each time."""
    ways = orders.ways
    stops = ways.problem.stops
    by_worth = sorted(
        (one for one in range(ways.count) if one not in order),
        key=lambda one: (not stops[one].urgent, -_gain_per_minute(ways, one)),
    )
    for stop in by_worth:
        found = [one for put in _put_in(ways, order, stop) if (one := _judged(orders, put))]
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


def _bettered(orders: Orders, order: Order) -> _Found:
    """Take each change that makes the day better, until none does."""
    ways = orders.ways
    best = _judged(orders, order) or ((), START, worth(ways, (), START))
    better: _Found | None = best
    while better is not None:
        best = better
        judged = (_judged(orders, changed) for changed in _changed(ways, best[0]))
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


def _shaken(orders: Orders, order: Order, rng: random.Random) -> Order:
    """Cut in four and the middle two exchanged; where stops are left out, some for others.

    The exchange is the double bridge of Martin, Otto and Felten 1991, Complex Systems
    5:299-326.
    """
    if len(order) < orders.ways.count:
        dropped = rng.sample(order, min(DROPPED, len(order)))
        kept = tuple(stop for stop in order if stop not in dropped)
        left = [stop for stop in range(orders.ways.count) if stop not in order]
        first = rng.choice(left)
        tried = (*_put_in(orders.ways, kept, first), kept)
        return _built(orders, next(one for one in tried if orders.day(one) is not None))
    if len(order) < 4 or not orders.ways.problem.placed:
        return order
    a, b, c = sorted(rng.sample(range(1, len(order)), 3))
    return order[:a] + order[b:c] + order[a:b] + order[c:]
