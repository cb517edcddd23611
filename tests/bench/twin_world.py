"""Invented stations whose hidden water is known, on real weather.

The truth strays from the model in another way than the method assumes: gamma errors
that a storm's days share in part, and demand that jumps from week to week; the eye that
judges levels has other edges than the method's. Hidden parameters come from their
priors, since no band could be right on average over anything else (Talts et al.
2018, arXiv:1804.06788, value from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from store.records import StationFacts
from store.records import TankMeasures as Measures
from store.units import MM_PER_INCH, m2_from_ft2
from store.vocabulary import ApronSurface, DrinkingSeason, ExpectedUse, Exposure, LevelMark, Shape
from store.water.balance import Change, ChangeKind, run_balance
from store.water.forcing import ARRAYS, Forcing, daily_forcing
from store.water.geometry import depth_at_volume_mm
from store.water.model_errors import wet_days
from store.water.observing import Observation
from store.water.parameters import Parameters, TankSite, tank_site_of
from store.water.priors import StationPriors, station_priors
from store.weather.days import FloatArray

DATA = Path(__file__).parents[1] / "data"
TAUGHT_DAYS = 200
AHEAD_DAYS = 90
DAYS = TAUGHT_DAYS + AHEAD_DAYS
TANKS = (
    Measures(Shape.RECTANGULAR, 762.0, length_mm=1219.0, width_mm=914.0,
             bottom_length_mm=610.0, bottom_width_mm=201.0),
    Measures(Shape.ROUND, 762.0, diameter_mm=950.0),
    Measures(Shape.RECTANGULAR, 762.0, length_mm=1219.0, width_mm=660.0),
    Measures(Shape.HALF_DRUM, 290.0, length_mm=880.0, diameter_mm=580.0),
)  # fmt: skip
TANK_SHARES = (0.4, 0.3, 0.2, 0.1)


@dataclass(frozen=True)
class Place:
    """A record with the years used and the aprons people dig there, in ft2."""

    record: Forcing
    years: range
    aprons_ft2: tuple[float, float]
    liners: float
    """Share of stations with a liner, on which nearly all rain runs off."""


@dataclass(frozen=True)
class Noise:
    """Sizes of what the truth does beyond the model; all are coefficients of variation."""

    storm: float = 0.45
    storm_day: float = 0.25
    demand: float = 0.55
    jump_chance: float = 0.7
    blunders: float = 0.05


@dataclass(frozen=True, eq=False)
class World:
    """Twins side by side; `truth_l` has shape (days, twins), readings end `TAUGHT_DAYS`."""

    stations: tuple[StationFacts, ...]
    tank_sites: tuple[TankSite, ...]
    forcing: Forcing
    priors: StationPriors
    start_l: FloatArray
    changes: tuple[Change, ...]
    observations: tuple[Observation, ...]
    blundered: frozenset[int]
    hidden: Parameters
    truth_l: FloatArray

    @property
    def ids(self) -> list[str]:
        return [station.station_id for station in self.stations]


def record_forcing(
    name: str,
    latitude_deg: float,
    elevation_m: float,
    drinking: DrinkingSeason = DrinkingSeason.GREEN_SUMMER,
) -> Forcing:
    """Forcing of a whole record of tests/data."""
    path = DATA / name
    first = date.fromisoformat(path.read_text(encoding="utf-8").splitlines()[1].split(",")[0])
    low, high, rain = np.loadtxt(path, delimiter=",", skiprows=1, usecols=(1, 2, 3)).T
    return daily_forcing(
        first,
        rain,
        low,
        high,
        latitude_deg=latitude_deg,
        elevation_m=elevation_m,
        drinking=drinking,
    )


def make_world(seed: int, twins: int, place: Place, noise: Noise) -> World:
    """Twins that begin between March and July of the years of a place."""
    rng = np.random.default_rng(seed)
    record = place.record
    march = [(date(year, 3, 1) - record.first_day).days for year in place.years]
    starts = [int(rng.choice(march) + rng.integers(0, 130)) for _ in range(twins)]
    forcing = Forcing(
        record.first_day,
        **{
            name: np.concatenate(
                [getattr(record, name)[start : start + DAYS] for start in starts], axis=1
            )
            for name in ARRAYS
        },
    )
    stations = tuple(_station(rng, place, f"twin {seed} {twin}") for twin in range(twins))
    tank_sites = tuple(tank_site_of(station) for station in stations)
    priors = station_priors(stations)
    hidden = _hidden(rng, priors)
    capacity = np.array([[tank_site.tank.capacity_l] for tank_site in tank_sites])
    start_l = capacity * rng.choice([0.0, 0.5, 1.0], size=(twins, 1))
    changes = tuple(
        Change(int(rng.integers(40, TAUGHT_DAYS - 20)), twin, ChangeKind.ADD, 150.0)
        for twin in range(0, twins, 3)
    )
    truth = run_balance(
        tank_sites,
        forcing,
        hidden,
        start_l,
        changes=changes,
        rain_error=_storms(rng, forcing, noise),
        demand_error=_weeks(rng, twins, noise),
    ).volume_l[:, :, 0]
    observations: list[Observation] = []
    blundered: set[int] = set()
    filled = {(change.day, change.station) for change in changes}
    for twin, tank_site in enumerate(tank_sites):
        day = TAUGHT_DAYS - 1
        while day > 5:
            if (day, twin) not in filled:
                seen, slip = _reading(rng, tank_site, day, twin, float(truth[day, twin]), noise)
                if slip:
                    blundered.add(len(observations))
                observations.append(seen)
            day -= int(rng.integers(10, 41))
    return World(
        stations, tank_sites, forcing, priors, start_l, changes, tuple(observations),
        frozenset(blundered), hidden, truth,
    )  # fmt: skip


def _station(rng: np.random.Generator, place: Place, name: str) -> StationFacts:
    lined = rng.random() < place.liners
    surface = ApronSurface.LINER if lined else list(ApronSurface)[int(rng.integers(4))]
    return StationFacts(
        station_id=name,
        tract_id="t",
        name=name,
        tank=TANKS[int(rng.choice(len(TANKS), p=TANK_SHARES))],
        apron_area_m2=m2_from_ft2(float(rng.uniform(*place.aprons_ft2))),
        apron_surface=surface,
        exposure=list(Exposure)[int(rng.integers(3))],
        expected_use=list(ExpectedUse)[int(rng.integers(3))],
    )


def _hidden(rng: np.random.Generator, priors: StationPriors) -> Parameters:
    """Parameters drawn from their priors, but for the leak: one tank in six has one."""
    place = rng.standard_normal(priors.log_median.shape)
    values = np.exp(priors.log_median + place * priors.log_spread)
    leaks = rng.random(len(values)) < 1.0 / 6.0
    values[:, 3] = np.where(leaks, rng.uniform(0.2, 1.5, size=len(values)), 0.03)
    return Parameters(*values.T[:, :, np.newaxis])


def _gamma(rng: np.random.Generator, variation: float, size: tuple[int, ...]) -> FloatArray:
    """Gamma numbers with a mean of one."""
    shape = 1.0 / variation**2
    return rng.gamma(shape, 1.0 / shape, size=size)


def _storms(rng: np.random.Generator, forcing: Forcing, noise: Noise) -> FloatArray:
    """One error a storm times one a day, shape (days, twins, 1)."""
    wet = wet_days(forcing)
    by_storm = _gamma(rng, noise.storm, wet.shape)
    for day in range(1, len(wet)):
        by_storm[day] = np.where(wet[day] & wet[day - 1], by_storm[day - 1], by_storm[day])
    return by_storm * _gamma(rng, noise.storm_day, wet.shape)


def _weeks(rng: np.random.Generator, twins: int, noise: Noise) -> FloatArray:
    """Demand that jumps in most weeks and holds between, shape (days, twins, 1)."""
    weeks = -(-DAYS // 7)
    level = _gamma(rng, noise.demand, (weeks, twins, 1))
    jumps = rng.random(level.shape) < noise.jump_chance
    for week in range(1, weeks):
        level[week] = np.where(jumps[week], level[week], level[week - 1])
    return np.repeat(level, 7, axis=0)[:DAYS]


def _reading(
    rng: np.random.Generator, tank_site: TankSite, day: int, twin: int, truth_l: float, noise: Noise
) -> tuple[Observation, bool]:
    """An honest reading or, rarely, a blunder; three in five with a tape."""
    tank = tank_site.tank
    depth = float(depth_at_volume_mm(tank, truth_l))
    slip = bool(rng.random() < noise.blunders)
    if slip:
        depth = float(rng.uniform(0.0, tank.depth_mm))
    if rng.random() < 0.6:
        seen = depth + float(rng.normal(0.0, 15.0))
        inches = round((tank.depth_mm - seen) / MM_PER_INCH)
        below = min(max(inches * MM_PER_INCH, 0.0), tank.depth_mm)
        return Observation(day, twin, depth_mm=tank.depth_mm - below), slip
    share = depth / tank.depth_mm
    if share < 0.03:
        return Observation(day, twin, mark=LevelMark.DRY), slip
    seems = share + float(rng.normal(0.0, 0.05))
    for edge, mark in ((0.36, LevelMark.QUARTER), (0.63, LevelMark.HALF),
                       (0.93, LevelMark.THREE_QUARTERS)):  # fmt: skip
        if seems < edge:
            return Observation(day, twin, mark=mark), slip
    return Observation(day, twin, mark=LevelMark.FULL), slip
