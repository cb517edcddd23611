"""A day followed stop by stop: what each further stop adds in minutes, loads and room.

Water for a stop is one part load, carried together with that of other stops, and as many
full loads before it as its need takes: those are brought back and forth from the source
at which the part load is taken on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from store.haul.distance import way_minutes
from store.haul.problem import DayProblem

NO_SOURCE = -1
SAME_L = 1e-6
"""Litres within which a load is full; only rounding is smaller."""


class Partial(NamedTuple):
    """A day as far as its last stop. `stop` is -1 at the start; `reloaded` on the way to it."""

    minutes: float
    loads: int
    room_l: float
    source: int
    stop: int
    reloaded: bool
    before: Partial | None


START = Partial(0.0, 0, 0.0, NO_SOURCE, -1, False, None)
"""`room_l` is the water still aboard: none when the day begins."""


class Ways:
    """The minutes and litres of a problem, worked out once."""

    def __init__(self, problem: DayProblem) -> None:
        self.problem = problem
        stops, sources = problem.stops, problem.sources
        self.count = len(stops)
        self.load_l = problem.vehicle.load_l
        self.full_loads = [
            max(math.ceil(stop.need_l / self.load_l - SAME_L) - 1, 0) for stop in stops
        ]
        self.part_l = [
            stop.need_l - full * self.load_l
            for stop, full in zip(stops, self.full_loads, strict=True)
        ]
        self.at_stop = [
            stop.minutes + stop.need_l / problem.vehicle.pump_l_per_min for stop in stops
        ]
        speed, detour = problem.drive_km_per_hour, problem.detour
        ends = (
            [*(stop.place for stop in stops), problem.start]
            if problem.placed
            else [None] * (self.count + 1)
        )
        self.drive = [[way_minutes(a, b, speed, detour) for b in ends] for a in ends]
        """Between stops, the start last, so that -1 finds it."""
        self.to_source = [[way_minutes(a, s.place, speed, detour) for s in sources] for a in ends]

    def home(self, day: Partial) -> float:
        """Minutes of a day that ends after its last stop."""
        return day.minutes + self.drive[day.stop][-1]

    def further(self, day: Partial, stop: int) -> Iterator[Partial]:
        """The day with one more stop: with what is aboard, or after a way to each source.

        A load may be taken on before a stop that needs none, for those after it.
        """
        at_stop = day.minutes + self.at_stop[stop]
        part_l, full = self.part_l[stop], self.full_loads[stop]
        if part_l <= SAME_L or (day.source != NO_SOURCE and day.room_l >= part_l - SAME_L):
            minutes = at_stop + self.drive[day.stop][stop] + self._taking_on(day.source, stop)
            left_l = day.room_l - part_l
            yield Partial(minutes, day.loads + full, left_l, day.source, stop, False, day)
        for source in range(len(self.problem.sources)):
            way = self.to_source[day.stop][source] + self.to_source[stop][source]
            minutes = at_stop + way + self._taking_on(source, stop)
            left_l = self.load_l - part_l
            yield Partial(minutes, day.loads + full + 1, left_l, source, stop, True, day)

    def _taking_on(self, source: int, stop: int) -> float:
        """Minutes to fill what a stop takes, with the ways of its full loads."""
        if self.part_l[stop] <= SAME_L:
            return 0.0
        back_and_forth = 2.0 * self.full_loads[stop] * self.to_source[stop][source]
        rate = self.problem.sources[source].l_per_min
        return back_and_forth + self.problem.stops[stop].need_l / rate

    def allows(self, day: Partial) -> bool:
        """Whether a day keeps the limits on hours and loads."""
        limits = self.problem.limits
        return (limits.minutes is None or self.home(day) <= limits.minutes + SAME_L) and (
            limits.loads is None or day.loads <= limits.loads
        )


def unbeaten(days: list[Partial]) -> list[Partial]:
    """Days at the same stop without those that another is at least as good as."""
    kept: list[Partial] = []
    for day in sorted(days, key=lambda day: (day.minutes, day.loads, -day.room_l)):
        if not any(
            one.source == day.source and one.loads <= day.loads and one.room_l >= day.room_l
            for one in kept
        ):
            kept.append(day)
    return kept


def stops_of(day: Partial) -> tuple[int, ...]:
    """The stops of a day in order."""
    order: list[int] = []
    while day.before is not None:
        order.append(day.stop)
        day = day.before
    return tuple(reversed(order))
