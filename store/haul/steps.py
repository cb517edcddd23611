"""A day as what is done one after the other: water taken on, and stops served."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from store.haul.partial import NO_SOURCE, SAME_L, Partial, Ways


@dataclass(frozen=True)
class Load:
    """Water taken on at a source for some stops; `weight_kg` is with the tank."""

    source: int
    water_l: float
    weight_kg: float
    stops: tuple[int, ...]
    done_minute: float


@dataclass(frozen=True)
class Visit:
    """A stop as it is left; its other work is done on the `last` visit."""

    stop: int
    poured_l: float
    last: bool
    done_minute: float


Step = Load | Visit


def steps_of(ways: Ways, day: Partial) -> tuple[Step, ...]:
    """The steps of a day, from the start to the last stop."""
    steps: list[Step] = []
    for source, stops in _trips(day):
        steps += _trip(ways, source, stops, steps[-1] if steps else None)
    return tuple(steps)


def _trips(day: Partial) -> list[tuple[int, list[int]]]:
    """The stops of each load with its source, in order; before the first load, NO_SOURCE."""
    chain: list[Partial] = []
    while day.before is not None:
        chain.append(day)
        day = day.before
    trips: list[tuple[int, list[int]]] = []
    for one in reversed(chain):
        if one.reloaded or not trips:
            trips.append((one.source if one.reloaded else NO_SOURCE, []))
        trips[-1][1].append(one.stop)
    return trips


def _trip(ways: Ways, source: int, stops: list[int], after: Step | None) -> Iterator[Step]:
    """Full loads back and forth first, then the load that the stops share."""
    minute = 0.0 if after is None else after.done_minute
    here = -1 if after is None else after.stop if isinstance(after, Visit) else after.stops[-1]

    def take_on(water_l: float, whose: tuple[int, ...]) -> Load:
        nonlocal minute
        minute += ways.to_source[here][source] + water_l / sources[source].l_per_min
        return Load(source, water_l, vehicle.weight_kg(water_l), whose, minute)

    def visit(stop: int, from_source: bool, poured_l: float, last: bool) -> Visit:
        nonlocal minute, here
        minute += ways.to_source[stop][source] if from_source else ways.drive[here][stop]
        minute += poured_l / vehicle.pump_l_per_min + (planned[stop].minutes if last else 0.0)
        here = stop
        return Visit(stop, poured_l, last, minute)

    sources, vehicle, planned = ways.problem.sources, ways.problem.vehicle, ways.problem.stops
    for stop in stops:
        for _ in range(ways.full_loads[stop]):
            yield take_on(ways.load_l, (stop,))
            yield visit(stop, True, ways.load_l, False)
    watered = tuple(stop for stop in stops if ways.part_l[stop] > SAME_L)
    if watered:
        yield take_on(sum(ways.part_l[stop] for stop in watered), watered)
    for stop in stops:
        poured_l = ways.part_l[stop] if stop in watered else 0.0
        yield visit(stop, stop == stops[0] and bool(watered), poured_l, True)
