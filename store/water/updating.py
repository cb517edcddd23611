"""What readings of one station on one day do to its members.

A particle filter (Gordon, Salmond and Smith 1993, IEE Proc. F 140:107-113) with the
kernel shrinkage of Liu and West (2001, in Sequential Monte Carlo Methods in
Practice) for the parameters. Members stand for one of two beliefs: the water was as
the member has it, or something nobody logged changed it since, to any level alike.
So a first odd reading is doubted and a second one that agrees with it is believed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from store.water.geometry import Tank, depth_at_volume_mm, volume_at_depth_l
from store.water.observing import (
    BLUNDER_SHARE,
    Observation,
    UseCount,
    blunder_likelihood,
    count_likelihood,
    honest_likelihood,
    likelihood,
    predictive_probability,
)
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray

UNLOGGED_SHARE = 0.01
"""Share of readings before which something nobody logged changed the water (assumed)."""
FIRST_UNLOGGED_SHARES = (0.3, 0.1)
"""The same before the first readings of a tank, when its start and the facts typed in are
all that is known of it, and again after a doubted one: the log may lack what it saw (assumed)."""
SHRINK = 0.98
"""How much of its own parameters a member keeps at a reading (Liu and West's a)."""
JITTER = float(np.sqrt(1.0 - SHRINK**2))
LEVELS = 401
"""Evenly spaced levels from empty to full that stand for 'any level'."""
DOUBTED_ABOVE = 0.5
CONTRADICTING_ERRORS = 4.0


@dataclass(frozen=True, eq=False)
class Beliefs:
    """Members of one station: volumes (members,), parameters (parameters, members)."""

    volume_l: FloatArray
    parameters: FloatArray


@dataclass(frozen=True, eq=False)
class ReadingCheck:
    """A reading against what was expected, and what it taught.

    Quantiles are 10, 50 and 90 percent: `expected_depth_mm`, `volume_before_l` and
    `volume_after_l` have shape (3,), `parameters_before` and `parameters_after`
    (parameters, 3). `probability` says how usual an honest reading like this one was,
    `blunder` how probable it is after all that it is a blunder, `unlogged` that
    something nobody logged happened before it. `contradicted` marks readings of one
    day that cannot both be right.
    """

    observation: Observation
    expected_depth_mm: FloatArray
    volume_before_l: FloatArray
    volume_after_l: FloatArray
    parameters_before: FloatArray
    parameters_after: FloatArray
    probability: float
    blunder: float
    unlogged: float
    contradicted: bool
    early: bool = False
    """One of the first of its tank, which say where it stands."""

    def moved(self, days: int, station: int) -> ReadingCheck:
        """The same check in a run that begins so many days earlier, with stations of its own."""
        day = self.observation.day + days
        return replace(self, observation=replace(self.observation, day=day, station=station))

    @property
    def doubted(self) -> bool:
        """Whether the model finds the reading hardly possible, or it is contradicted."""
        odd = self.blunder + (0.0 if self.early else self.unlogged)
        return self.contradicted or odd > DOUBTED_ABOVE


@dataclass(frozen=True, eq=False)
class Updated:
    """`source` names the member each new one came from, shape (members,)."""

    beliefs: Beliefs
    source: NDArray[np.intp]
    checks: tuple[ReadingCheck, ...]


def update(
    beliefs: Beliefs,
    tank: Tank,
    readings: Sequence[Observation],
    rng: np.random.Generator,
    evenings_before: int = len(FIRST_UNLOGGED_SHARES),
) -> Updated:
    """Members after all readings of one station on one day; their order is no matter.

    `evenings_before` is on how many days the tank was read before, as `read_on` counts them.
    """
    early = evenings_before < len(FIRST_UNLOGGED_SHARES)
    share = FIRST_UNLOGGED_SHARES[evenings_before] if early else UNLOGGED_SHARE
    members = len(beliefs.volume_l)
    depth = depth_at_volume_mm(tank, beliefs.volume_l)
    levels = np.linspace(0.0, tank.depth_mm, LEVELS)
    each = [likelihood(reading, depth, tank.depth_mm) for reading in readings]
    each_level = [likelihood(reading, levels, tank.depth_mm) for reading in readings]
    stayed = (1.0 - share) * np.prod(each, axis=0)
    level_weight = share / LEVELS * np.prod(each_level, axis=0)
    moved = float(level_weight.sum())
    weight = stayed + moved

    source = members_by_weight(weight, rng)
    volume = beliefs.volume_l[source]
    has_moved = rng.random(members) * weight[source] < moved
    where = rng.random(members) * moved
    level = np.interp(where, np.cumsum(level_weight), levels)
    volume = np.where(has_moved, volume_at_depth_l(tank, level), volume)
    after = Beliefs(volume, _smoothed(beliefs.parameters, source, rng))

    total = float(weight.sum())
    unlogged = members * moved / total
    before = member_quantiles(np.vstack([depth, beliefs.volume_l, beliefs.parameters])).T
    later = member_quantiles(np.vstack([volume, after.parameters])).T
    contradicted = _contradicted(readings, tank.depth_mm)
    checks = []
    for place, reading in enumerate(readings):
        slip = BLUNDER_SHARE * blunder_likelihood(reading, tank.depth_mm)
        blunder = slip * float((stayed / each[place]).sum())
        blunder += slip * members * float((level_weight / each_level[place]).sum())
        checks.append(
            ReadingCheck(
                observation=reading,
                expected_depth_mm=before[0],
                volume_before_l=before[1],
                volume_after_l=later[0],
                parameters_before=before[2:],
                parameters_after=later[1:],
                probability=predictive_probability(reading, depth, tank.depth_mm),
                blunder=blunder / total,
                unlogged=unlogged,
                contradicted=contradicted[place],
                early=early,
            )
        )
    return Updated(after, source, tuple(checks))


def read_on(evenings_before: int, checks: Sequence[ReadingCheck]) -> int:
    """On how many evenings a tank was read and believed, one more evening's checks included.

    A doubted reading begins the count anew, so that the next ones say where the water stands:
    one odd reading is doubted, a second is believed against the model.
    """
    return 0 if any(check.doubted for check in checks) else evenings_before + 1


def update_by_counts(
    beliefs: Beliefs,
    counts: Sequence[UseCount],
    wanted_l: FloatArray,
    visit_l: FloatArray,
    rng: np.random.Generator,
) -> tuple[Beliefs, NDArray[np.intp]]:
    """Members after a day's counts of animals, and the member each came from.

    `wanted_l` and `visit_l` are the members' own, of shape (members,).
    """
    weight = np.prod([count_likelihood(count, wanted_l, visit_l) for count in counts], axis=0)
    source = members_by_weight(weight, rng)
    parameters = _smoothed(beliefs.parameters, source, rng)
    return Beliefs(beliefs.volume_l[source], parameters), source


def members_by_weight(weight: FloatArray, rng: np.random.Generator) -> NDArray[np.intp]:
    """Members chosen in proportion to their weight with one random number, shape (members,)."""
    count = len(weight)
    edges = np.cumsum(weight)
    points = (np.arange(count) + rng.random()) / count * edges[-1]
    chosen: NDArray[np.intp] = np.searchsorted(edges, points, side="right")
    return np.minimum(chosen, count - 1)


def _smoothed(
    parameters: FloatArray, source: NDArray[np.intp], rng: np.random.Generator
) -> FloatArray:
    """Chosen parameters drawn a little to their mean and scattered again.

    The scatter is the deviation of another chosen member, so the mean and every
    covariance of the logarithms stay what the readings made them.
    """
    chosen = np.log(parameters[:, source])
    mean = chosen.mean(axis=1, keepdims=True)
    apart = chosen - mean
    scatter = apart[:, rng.permutation(len(source))]
    return np.asarray(np.exp(mean + SHRINK * apart + JITTER * scatter))


def _contradicted(readings: Sequence[Observation], tank_depth_mm: float) -> list[bool]:
    """Whether another reading of the day is hardly possible if this one is right."""
    return [
        any(_exclude(one, other, tank_depth_mm) for other in readings if other is not one)
        for one in readings
    ]


def _exclude(one: Observation, other: Observation, tank_depth_mm: float) -> bool:
    if one.depth_mm is not None and other.depth_mm is not None:
        error = float(np.hypot(one.error_mm, other.error_mm))
        return abs(one.depth_mm - other.depth_mm) > CONTRADICTING_ERRORS * error
    levels = np.linspace(0.0, tank_depth_mm, LEVELS)
    both = _scaled(one, levels, tank_depth_mm) * _scaled(other, levels, tank_depth_mm)
    return bool(both.max() < float(np.exp(-(CONTRADICTING_ERRORS**2) / 4.0)))


def _scaled(reading: Observation, levels: FloatArray, tank_depth_mm: float) -> FloatArray:
    honest = honest_likelihood(reading, levels, tank_depth_mm)
    return np.asarray(honest / honest.max())
