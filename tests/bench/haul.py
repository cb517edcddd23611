"""Planned days of work against a published solver. Run: python -m tests.bench.haul

Needs pyvrp (`pip install "brimbook[bench]"`; Wouda, Lan and Kool 2024, INFORMS J. Comput.
36(4):943-955), which knows reloads and prizes. Invented days with one source at the start,
no need above one load, all of it in seconds. 'Unlimited' serves every stop, and minutes are
compared; 'half the hours' has half of those minutes, and wet days are compared. The last
line is 200 days of up to 8 stops against every order and choice of loads there is.
"""

from __future__ import annotations

import itertools
import random
import statistics
import time
from dataclasses import replace

import numpy as np
import pyvrp
from pyvrp.stop import MaxRuntime

from store.haul.partial import Ways
from store.haul.problem import DayProblem, Limits
from store.haul.solve import DayPlan, plan_day
from tests.bench.places import table
from tests.store.haul.haul_worlds import random_day

SIZES = (12, 15, 20)
DAYS = 5
SOLVER_SECONDS = 4.0
SECONDS = 60.0
PRIZE_A_DAY = 10**6
"""So much more than a second of way that wet days count first, as here."""
SMALL_DAYS, SMALL_STOPS = 200, 8


def one_source_day(rng: random.Random, stops: int) -> DayProblem:
    """A random day with one source at the start and no need above one load."""
    problem = random_day(rng, stops, sources=1, limits=False)
    most_l = problem.vehicle.load_l
    return replace(
        problem,
        start=problem.sources[0].place,
        stops=tuple(
            replace(stop, need_l=min(stop.need_l, most_l), urgent=False) for stop in problem.stops
        ),
    )


def solver_day(problem: DayProblem) -> tuple[float, float]:
    """Minutes and wet days of the day that pyvrp finds."""
    ways, model = Ways(problem), pyvrp.Model()
    rate = problem.sources[0].l_per_min
    most = problem.limits.minutes
    places = [model.add_location(0, 0) for _ in range(ways.count + 1)]
    depot = model.add_depot(places[-1])
    for number, stop in enumerate(problem.stops):
        model.add_client(
            places[number],
            delivery=round(stop.need_l * 1000.0),
            service_duration=round((ways.at_stop[number] + stop.need_l / rate) * SECONDS),
            prize=0 if most is None else round(stop.gain_days * PRIZE_A_DAY) + PRIZE_A_DAY // 1000,
            required=most is None,
        )
    model.add_vehicle_type(
        capacity=round(ways.load_l * 1000.0) + len(problem.stops),
        start_depot=depot,
        end_depot=depot,
        reload_depots=[depot],
        shift_duration=2**40 if most is None else round(most * SECONDS),
    )
    for one, other in itertools.permutations(range(ways.count + 1), 2):
        seconds = round(ways.drive[one][other] * SECONDS)
        model.add_edge(places[one], places[other], distance=seconds, duration=seconds)
    best = model.solve(MaxRuntime(SOLVER_SECONDS), seed=1, display=False).best
    if not best.is_feasible():
        raise RuntimeError("pyvrp found no day that keeps the limits; give it more seconds.")
    served = [
        visit.idx for route in best.routes() for visit in route.schedule() if visit.is_client()
    ]
    gain = sum(problem.stops[one].gain_days for one in served)
    return best.duration() / SECONDS, gain


def timed(problem: DayProblem) -> tuple[DayPlan, float]:
    start = time.thread_time()
    plan = plan_day(problem)
    return plan, time.thread_time() - start


def gain_of(problem: DayProblem, plan: DayPlan) -> float:
    return sum(problem.stops[one].gain_days for one in plan.order)


def size_rows(stops: int) -> list[list[str]]:
    rng = random.Random(stops)
    longer, took, less, took_less = [], [], [], []
    for _ in range(DAYS):
        problem = one_source_day(rng, stops)
        plan, seconds = timed(problem)
        minutes, _ = solver_day(problem)
        longer.append(100.0 * (plan.minutes / minutes - 1.0))
        took.append(seconds)
        half = replace(problem, limits=Limits(minutes=minutes / 2.0))
        plan, seconds = timed(half)
        _, gain = solver_day(half)
        less.append(100.0 * (1.0 - gain_of(half, plan) / gain))
        took_less.append(seconds)
    return [
        [f"{stops} stops, {what}, {unit}", f"{statistics.mean(off):.2f}", f"{max(off):.2f}",
         f"{statistics.mean(spent):.1f}"]
        for what, unit, off, spent in (
            ("unlimited", "minutes longer", longer, took),
            ("half the hours", "wet days fewer", less, took_less),
        )
    ]  # fmt: skip


def every_order_minutes(problem: DayProblem) -> float:
    """Minutes of the best day that serves all: each order with each choice of reloads."""
    ways, count = Ways(problem), len(problem.stops)
    part_l, drive, source = map(np.array, (ways.part_l, ways.drive, ways.to_source))
    orders = np.array(list(itertools.permutations(range(count))))
    best = np.full(len(orders), np.inf)
    for reloads in itertools.product((True, False), repeat=count):
        minutes, room_l = np.zeros(len(orders)), np.zeros(len(orders))
        here = np.full(len(orders), count)
        for at, reload in enumerate(reloads):
            stop = orders[:, at]
            way = source[here, 0] + source[stop, 0] if reload else drive[here, stop]
            room_l = (ways.load_l if reload else room_l) - part_l[stop]
            minutes = np.where(room_l < -1e-6, np.inf, minutes + way)
            here = stop
        best = np.minimum(best, minutes + drive[here, count])
    poured = sum(stop.need_l for stop in problem.stops) / problem.sources[0].l_per_min
    fixed = sum(ways.at_stop) + poured
    return float(best.min() + fixed)


def small_row() -> list[str]:
    rng = random.Random(8)
    longer, took = [], []
    for number in range(SMALL_DAYS):
        problem = one_source_day(rng, 1 + number % SMALL_STOPS)
        plan, seconds = timed(problem)
        longer.append(100.0 * (plan.minutes / every_order_minutes(problem) - 1.0))
        took.append(seconds)
    what = f"{SMALL_DAYS} days of 1 to {SMALL_STOPS} stops, against all orders, minutes longer"
    return [what, f"{statistics.mean(longer):.2f}", f"{max(longer):.2f}",
            f"{statistics.mean(took):.2f}"]  # fmt: skip


def main() -> None:
    rows = [row for stops in SIZES for row in size_rows(stops)]
    head = ("planned day", "percent, mean", "percent, worst", "seconds here")
    print(table(head, [*rows, small_row()]))


if __name__ == "__main__":
    main()
