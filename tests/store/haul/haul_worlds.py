"""Invented days of hauling, and a search through all of them that shares no code."""

import itertools
import math
import random

from store.haul.distance import Place, way_minutes
from store.haul.problem import DayProblem, Limits, Stop, Vehicle, WaterSource


def random_day(rng: random.Random, stops: int, *, sources: int = 0, limits: bool = True):
    """A day of some stops about a made-up point; some want water, some do not."""

    def place() -> Place:
        return Place(40.0 + rng.uniform(-0.1, 0.1), -80.0 + rng.uniform(-0.1, 0.1))

    many = sources or rng.randint(1, 2)
    problem = DayProblem(
        vehicle=Vehicle(
            payload_kg=rng.uniform(250.0, 900.0),
            tank_l=rng.uniform(170.0, 800.0),
            pump_l_per_min=rng.uniform(20.0, 80.0),
            tank_kg=rng.uniform(10.0, 60.0),
        ),
        sources=tuple(WaterSource(f"S{n}", rng.uniform(10.0, 60.0), place()) for n in range(many)),
        stops=tuple(
            Stop(
                key=str(n),
                place=place(),
                need_l=rng.choice([0.0, rng.uniform(50.0, 500.0), rng.uniform(50.0, 250.0)]),
                minutes=rng.uniform(5.0, 60.0),
                gain_days=rng.choice([0.0, rng.uniform(0.1, 5.0)]),
                urgent=rng.random() < 0.15,
            )
            for n in range(stops)
        ),
        start=place(),
        drive_km_per_hour=25.0,
        detour=1.3,
    )
    if not limits:
        return problem
    return DayProblem(
        **{
            **vars(problem),
            "limits": Limits(
                minutes=rng.choice([None, rng.uniform(60.0, 400.0)]),
                loads=rng.choice([None, rng.randint(0, stops)]),
                water_l=rng.choice([None, rng.uniform(0.0, 1000.0)]),
            ),
        }
    )


def every_day(problem: DayProblem):
    """All days within the limits, as (urgent, gain, served, -minutes, -loads); slow and plain.

    Every subset in every order, with every choice of carrying on or of a source.
    """
    numbers = range(len(problem.stops))
    for count in range(len(problem.stops) + 1):
        for order in itertools.permutations(numbers, count):
            stops = [problem.stops[one] for one in order]
            for chosen in itertools.product([None, *problem.sources], repeat=count):
                day = _day(problem, stops, chosen)
                if day is not None:
                    yield day


def _day(problem, stops, chosen):
    def way(one, other):
        return way_minutes(one, other, problem.drive_km_per_hour, problem.detour)

    vehicle, limits = problem.vehicle, problem.limits
    most_l = min(vehicle.tank_l, (vehicle.payload_kg - vehicle.tank_kg) / 0.9991)
    here, aboard, source = problem.start, 0.0, None
    minutes, loads = 0.0, 0
    for stop, fresh in zip(stops, chosen, strict=True):
        if fresh is not None:
            minutes += way(here, fresh.place)
            here, source, aboard = fresh.place, fresh, most_l
            loads += 1
        minutes += way(here, stop.place)
        if stop.need_l > 0.0:
            whole = math.ceil(stop.need_l / most_l) - 1
            part = stop.need_l - whole * most_l
            if source is None or aboard < part:
                return None
            minutes += stop.need_l * (1.0 / source.l_per_min + 1.0 / vehicle.pump_l_per_min)
            minutes += whole * 2.0 * way(stop.place, source.place)
            loads += whole
            aboard -= part
        minutes += stop.minutes
        here = stop.place
    minutes += way(here, problem.start) if stops else 0.0
    water = sum(stop.need_l for stop in stops)
    if limits.minutes is not None and minutes > limits.minutes:
        return None
    if limits.loads is not None and loads > limits.loads:
        return None
    if limits.water_l is not None and water > limits.water_l:
        return None
    gain = sum(stop.gain_days for stop in stops)
    return sum(s.urgent for s in stops), round(gain, 9), len(stops), -minutes, -loads
