"""The plan of a day: stops, loads and refills in order, and why some stops are left out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from store.haul.exact import best_day
from store.haul.partial import Ways, stops_of
from store.haul.problem import NO_LIMITS, DayProblem
from store.haul.search import Orders, good_day
from store.haul.steps import Load, Step, Visit, steps_of
from store.haul.worth import water_l

EXACT_STOPS = 10
"""Up to so many stops the best day is found, in a second or so; above, a good one."""


@dataclass(frozen=True)
class LeftOut:
    """A stop that is not served, and what the day would take with it besides the others.

    `minutes` and `loads` are each the least; None where no source gives its water.
    """

    stop: int
    minutes: float | None
    loads: int | None
    water_l: float


@dataclass(frozen=True)
class DayPlan:
    """`minutes` end back at the start; `exact` where no day is better.

    Exact is among days that bring a need above one load in full loads and one part load.
    """

    steps: tuple[Step, ...]
    minutes: float
    left_out: tuple[LeftOut, ...]
    exact: bool

    @property
    def loads(self) -> tuple[Load, ...]:
        return tuple(step for step in self.steps if isinstance(step, Load))

    @property
    def order(self) -> tuple[int, ...]:
        """The stops in the order in which they are finished."""
        visits = (step for step in self.steps if isinstance(step, Visit))
        return tuple(visit.stop for visit in visits if visit.last)

    @property
    def water_l(self) -> float:
        return sum(load.water_l for load in self.loads)


def plan_day(problem: DayProblem) -> DayPlan:
    """The day that serves urgent stops, then gains most wet days, then takes least time.

    Water never weighs more than the payload leaves: a need above one load is brought in
    several.
    """
    ways = Ways(problem)
    exact = ways.count <= EXACT_STOPS
    day = best_day(ways) if exact else good_day(ways)
    served = stops_of(day)
    left_out = tuple(
        _left_out(problem, served, stop) for stop in range(ways.count) if stop not in served
    )
    return DayPlan(steps_of(ways, day), ways.home(day) if served else 0.0, left_out, exact)


def _left_out(problem: DayProblem, served: tuple[int, ...], stop: int) -> LeftOut:
    """What the day would take with one more stop, put in where it costs least."""
    ways = Ways(replace(problem, limits=NO_LIMITS))
    unlimited = Orders(ways)
    orders = [(*served[:at], stop, *served[at:]) for at in range(len(served) + 1)]
    if not problem.placed:
        orders = [tuple(sorted((*served, stop)))]
    days = [day for order in orders if (day := unlimited.day(order)) is not None]
    return LeftOut(
        stop,
        minutes=min(map(ways.home, days), default=None),
        loads=min((day.loads for day in days), default=None),
        water_l=water_l([problem.stops[one] for one in (*served, stop)]),
    )
