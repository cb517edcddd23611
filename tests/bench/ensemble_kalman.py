"""The second method: a stochastic ensemble Kalman filter on the same model.

Source: Evensen (2003), Ocean Dynamics 53:343-367 (value from memory). State: depth,
logarithms of the parameters, demand anomaly. A mark counts as a level in the middle
of its edges; 'full' and 'dry' teach nothing when the members agree with them. A
reading more than three standard deviations out has its error widened to fit.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from store.vocabulary import LevelMark
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.geometry import Tank, depth_at_volume_mm, volume_at_depth_l
from store.water.model_errors import ErrorState
from store.water.observing import MARK_EDGES, MARKS, Observation
from store.water.parameters import Parameters
from store.weather.days import FloatArray
from tests.bench.twin_world import TAUGHT_DAYS, World

WIDEN_ABOVE = 3.0


def kalman_follow(world: World, prior: Parameters) -> FilterRun:
    """The members of `world` on the last taught day, followed by this method."""
    stops = sorted({seen.day for seen in world.observations})
    by_day: dict[int, list[Observation]] = {}
    for seen in world.observations:
        by_day.setdefault(seen.day, []).append(seen)
    rng = np.random.default_rng(77)
    followed, start, volume = None, 0, world.start_l
    for stop in stops:
        part = follow(
            world.ids,
            world.tank_sites,
            world.forcing.between(start, stop + 1),
            prior if followed is None else followed.parameters,
            volume,
            changes=[
                replace(change, day=change.day - start)
                for change in world.changes
                if start <= change.day <= stop
            ],
            errors=None if followed is None else followed.errors,
        )
        followed = _taught(world, part, by_day[stop], rng)
        start, volume = stop + 1, followed.volume_l
    assert followed is not None
    assert start == TAUGHT_DAYS
    return followed


def _taught(
    world: World, part: FilterRun, readings: list[Observation], rng: np.random.Generator
) -> FilterRun:
    volume, demand = part.volume_l.copy(), part.errors.demand.copy()
    values = np.array(list(vars(part.parameters).values()))
    for seen in readings:
        row, tank = seen.station, world.tank_sites[seen.station].tank
        depth = depth_at_volume_mm(tank, volume[row])
        level, error = _level_of(seen, tank, depth)
        state = np.vstack([depth, np.log(values[:, row]), demand[row]])
        state = _kalman(state, level, error, rng)
        volume[row] = volume_at_depth_l(tank, state[0])
        values[:, row], demand[row] = np.exp(state[1:-1]), state[-1]
    return replace(
        part,
        volume_l=volume,
        parameters=Parameters(*values),
        errors=ErrorState(part.errors.storm, demand, part.errors.wet),
    )


def _level_of(seen: Observation, tank: Tank, depth: FloatArray) -> tuple[FloatArray, float]:
    """The level a reading stands for in mm, shape (members,) or (), and its error."""
    if seen.depth_mm is not None:
        return np.asarray(seen.depth_mm), seen.error_mm
    assert seen.mark is not None
    if seen.mark is LevelMark.FULL:
        return np.maximum(depth, MARK_EDGES[-1] * tank.depth_mm), 0.03 * tank.depth_mm
    if seen.mark is LevelMark.DRY:
        return np.minimum(depth, MARK_EDGES[0] * tank.depth_mm), 0.03 * tank.depth_mm
    edges = (0.0, *MARK_EDGES, 1.0)
    place = MARKS.index(seen.mark)
    return np.asarray((edges[place] + edges[place + 1]) / 2.0 * tank.depth_mm), (
        0.09 * tank.depth_mm
    )


def _kalman(
    state: FloatArray, level: FloatArray, error: float, rng: np.random.Generator
) -> FloatArray:
    depth = state[0]
    variance = depth.var(ddof=1)
    gap = float(np.abs(np.mean(level) - depth.mean()))
    if gap > WIDEN_ABOVE * np.sqrt(variance + error**2):
        error = gap / WIDEN_ABOVE
    covariance = ((state - state.mean(axis=1, keepdims=True)) @ (depth - depth.mean())) / (
        len(depth) - 1
    )
    seen = level + error * rng.standard_normal(len(depth))
    gain = covariance / (variance + error**2)
    return np.asarray(state + gain[:, np.newaxis] * (seen - depth))
