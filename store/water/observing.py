"""What a reading says about the level: how likely it is at every level.

A level measured with a tape has a normal error. A level judged by eye is one of
five marks; the mark says between which two edges the level seemed to lie, so 'full'
and 'dry' say only 'above' and 'below' an edge. Any reading may be a blunder (wrong
tank, wrong line, a slip of the pen), which could have been any level or mark.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import erf, pi, sqrt
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from store.errors import BadValue
from store.records import Reading, Sighting
from store.vocabulary import LevelMark, UseSeen
from store.water.geometry import depth_at_volume_mm
from store.water.parameters import TankSite
from store.weather.days import FloatArray

MEASURED_ERROR_MM = 20.0
"""Standard error of a tape read to the inch beside an uneven rim (assumed)."""
BLUNDER_SHARE = 0.05
"""Share of readings that are blunders (assumed)."""
MARKS = tuple(sorted(LevelMark, key=lambda mark: mark.share_of_depth))
MARK_EDGES = (0.04, 0.375, 0.625, 0.94)
MARK_EDGE_ERRORS = (0.02, 0.07, 0.07, 0.03)
"""Shares of the inside depth at which one mark gives way to the next, dry first, and
how unsure the eye is of each (assumed). Dry is the edge of a tank that is within reach to
its bottom; `observation_of` puts that of others where an animal's reach ends."""
HIGHEST_DRY_EDGE = 0.3
"""However deep the tank, a quarter of its water is a mark of its own."""


COUNT_SPREAD = 0.6
"""Standard deviation of the logarithm of a camera's count against the visits that the
demand of the day would make (assumed)."""
SIGN_SPREAD = 1.0
"""The same of sign on the ground (assumed)."""
SIGN_VISITS: Mapping[UseSeen, float] = MappingProxyType(
    {UseSeen.NONE: 0.2, UseSeen.LIGHT: 1.5, UseSeen.HEAVY: 6.0}
)
"""Visits a day that leave such sign (assumed)."""
LONGEST_COUNT_D = 21
"""Days that a sighting tells of at most: sign fades, cards fill (assumed)."""
FEWEST_VISITS = 0.2
"""Visits a day below which a count says no more than 'hardly any' (assumed)."""
WIDE_SPREAD = 3.0
"""Spread of a count that tells nothing: feed nearby, a camera that slept (assumed)."""


class ReadingKind(StrEnum):
    MEASURED = "measured"
    BY_EYE = "by eye"
    FULL = "full"
    DRY = "dry"


@dataclass(frozen=True)
class Observation:
    """A reading of a station at the end of a day; `day` and `station` are indices.

    A measured one has `depth_mm` of water and its standard error; one by eye has
    its `mark`, and `dry_edge`, the share of the depth below which this tank is called dry.
    It is read on coming, or `after_work`: after all that was done to the water that day.
    """

    day: int
    station: int
    depth_mm: float | None = None
    mark: LevelMark | None = None
    error_mm: float = MEASURED_ERROR_MM
    dry_edge: float = MARK_EDGES[0]
    after_work: bool = False

    def __post_init__(self) -> None:
        if (self.depth_mm is None) == (self.mark is None):
            raise BadValue("A reading is either measured or judged by eye; give one of the two.")
        if not self.error_mm > 0.0:
            raise BadValue("The error of a measured reading must be above zero.")

    @property
    def kind(self) -> ReadingKind:
        match self.mark:
            case None:
                return ReadingKind.MEASURED
            case LevelMark.FULL:
                return ReadingKind.FULL
            case LevelMark.DRY:
                return ReadingKind.DRY
            case _:
                return ReadingKind.BY_EYE


@dataclass(frozen=True)
class UseCount:
    """Animals a day at a station about a day; `spread` is the error of its logarithm."""

    day: int
    station: int
    per_day: float
    spread: float = COUNT_SPREAD


def use_counts_of(
    sightings: Sequence[tuple[Sighting, int]], first_day: int, station: int
) -> tuple[UseCount, ...]:
    """What sightings and their days say of the visits: by camera, or else by the sign.

    Each tells of the days since the one before, `LONGEST_COUNT_D` at most, and so of the
    day in their middle; none before `first_day`.
    """
    counts = []
    before = first_day
    for use, day in sightings:
        middle = day - min(day - before, LONGEST_COUNT_D) // 2
        if use.camera_per_day is not None:
            counts.append(UseCount(middle, station, use.camera_per_day))
        elif use.use is not None:
            counts.append(UseCount(middle, station, SIGN_VISITS[use.use], SIGN_SPREAD))
        before = day
    return tuple(counts)


def count_likelihood(count: UseCount, wanted_l: FloatArray, visit_l: FloatArray) -> FloatArray:
    """Likelihood of a count where animals want so much and take so much a visit, any shape."""
    visits = np.maximum(wanted_l / visit_l, FEWEST_VISITS)
    apart = np.log(max(count.per_day, FEWEST_VISITS) / visits)
    honest = np.exp(-0.5 * (apart / count.spread) ** 2) / count.spread
    anything = np.exp(-0.5 * (apart / WIDE_SPREAD) ** 2) / WIDE_SPREAD
    return np.asarray((1.0 - BLUNDER_SHARE) * honest + BLUNDER_SHARE * anything)


def observation_of(reading: Reading, tank_site: TankSite, day: int, station: int) -> Observation:
    """The observation a logged reading makes; dry is what is dry to an animal."""
    tank = tank_site.tank
    if reading.mark is None:
        depth_mm = tank.depth_mm - (reading.below_rim_mm or 0.0)
        return Observation(day, station, depth_mm=depth_mm, after_work=reading.after_work)
    dry = float(depth_at_volume_mm(tank, np.array(tank_site.dry_l))) / tank.depth_mm
    edge = min(max(dry, MARK_EDGES[0]), HIGHEST_DRY_EDGE)
    return Observation(
        day, station, mark=reading.mark, dry_edge=edge, after_work=reading.after_work
    )


def honest_likelihood(
    observation: Observation, depth_mm: ArrayLike, tank_depth_mm: float
) -> FloatArray:
    """Likelihood of an honest reading at water depths in mm, any shape.

    Measured: a density per mm. By eye: a probability; over the five marks it is 1.
    """
    depth = np.asarray(depth_mm, dtype=np.float64)
    if observation.depth_mm is not None:
        apart = (depth - observation.depth_mm) / observation.error_mm
        return np.exp(-0.5 * apart**2) / (sqrt(2.0 * pi) * observation.error_mm)
    place = MARKS.index(observation.mark)
    share = depth / tank_depth_mm
    edges = (observation.dry_edge, *MARK_EDGES[1:])
    above = _seems_above(share, edges, place - 1) if place > 0 else np.ones(share.shape)
    higher = _seems_above(share, edges, place) if place < len(MARK_EDGES) else np.zeros(share.shape)
    return np.maximum(above - higher, 0.0)


def blunder_likelihood(observation: Observation, tank_depth_mm: float) -> float:
    """Likelihood of the reading as a blunder: any level, or any mark, alike."""
    return 1.0 / tank_depth_mm if observation.mark is None else 1.0 / len(MARKS)


def likelihood(observation: Observation, depth_mm: ArrayLike, tank_depth_mm: float) -> FloatArray:
    """Likelihood of a reading that may be a blunder, at depths in mm of any shape."""
    honest = honest_likelihood(observation, depth_mm, tank_depth_mm)
    blunder = blunder_likelihood(observation, tank_depth_mm)
    return (1.0 - BLUNDER_SHARE) * honest + BLUNDER_SHARE * blunder


def predictive_probability(
    observation: Observation, depth_mm: FloatArray, tank_depth_mm: float
) -> float:
    """How usual an honest reading is among members of shape (members,), 0 to 1.

    Measured: the chance of one at least as far out on either side. By eye: the
    chance of that very mark.
    """
    if observation.depth_mm is None:
        return float(honest_likelihood(observation, depth_mm, tank_depth_mm).mean())
    below = _normal_below((observation.depth_mm - depth_mm) / observation.error_mm).mean()
    return float(min(1.0, 2.0 * min(below, 1.0 - below)))


def _seems_above(share: FloatArray, edges: Sequence[float], edge: int) -> FloatArray:
    """Logistic with the standard deviation of the edge's error."""
    scale = MARK_EDGE_ERRORS[edge] * sqrt(3.0) / pi
    return 0.5 * (1.0 + np.tanh((share - edges[edge]) / (2.0 * scale)))


_erf = np.vectorize(erf, otypes=[np.float64])


def _normal_below(value: FloatArray) -> FloatArray:
    return np.asarray(0.5 * (1.0 + _erf(value / sqrt(2.0))))
