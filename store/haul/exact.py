"""The best day by dynamic programming over subsets of the stops.

After Held and Karp 1962, J. SIAM 10(1):196-210, with loads: of all days that served the
same stops and ended at the same one, those are kept that no other beats in minutes, loads
and water left aboard.
"""

from __future__ import annotations

from collections import defaultdict

from store.haul.partial import START, Partial, Ways, stops_of, unbeaten
from store.haul.worth import has_water_for, worth


def best_day(ways: Ways) -> Partial:
    """The best of all days that keep the limits; `START` where no stop can be served."""
    stops = range(ways.count)
    best, best_worth = START, worth(ways, (), START)
    days: dict[int, list[Partial]] = {0: [START]}
    for _ in stops:
        longer: dict[tuple[int, int], list[Partial]] = defaultdict(list)
        for served, ends in days.items():
            for stop in stops:
                if served >> stop & 1 or (not ways.problem.placed and served >> stop):
                    continue
                after = served | 1 << stop
                if has_water_for(ways, [one for one in stops if after >> one & 1]):
                    longer[after, stop] += [
                        day for end in ends for day in ways.further(end, stop) if ways.allows(day)
                    ]
        days = defaultdict(list)
        for (served, _), found in longer.items():
            kept = unbeaten(found)
            days[served] += kept
            for day in kept:
                its_worth = worth(ways, stops_of(day), day)
                if its_worth > best_worth:
                    best, best_worth = day, its_worth
    return best
