"""Which of two days is the better one."""

from __future__ import annotations

from collections.abc import Sequence

from store.haul.partial import SAME_L, Partial, Ways
from store.haul.problem import Stop

Worth = tuple[int, float, int, float, int]
"""Urgent stops, wet days gained, stops served; then fewer minutes and loads, negative."""


def worth(ways: Ways, served: Sequence[int], day: Partial) -> Worth:
    """How good a day is; more is better, the first difference counts."""
    stops = [ways.problem.stops[one] for one in served]
    urgent = sum(stop.urgent for stop in stops)
    gain = round(sum(max(stop.gain_days, 0.0) for stop in stops), 9)
    return urgent, gain, len(stops), -round(ways.home(day), 9), -day.loads


def water_l(stops: Sequence[Stop]) -> float:
    return sum(stop.need_l for stop in stops)


def has_water_for(ways: Ways, served: Sequence[int]) -> bool:
    """Whether the water of some stops keeps its limit."""
    most_l = ways.problem.limits.water_l
    stops = [ways.problem.stops[one] for one in served]
    return most_l is None or water_l(stops) <= most_l + SAME_L
