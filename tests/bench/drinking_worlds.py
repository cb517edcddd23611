"""When the law of drinking is wrong. Run: python -m tests.bench.drinking_worlds [--tuning]

Four truths of when animals drink, none of which the tool knows exactly: the table it once
had, the trade's season, the trade's season ten days late and narrow, and a dry summer
(where the keeper has chosen 'dry summer' for the tract). The peak of every year has a
height and a day of its own that the stations of a tract share in part, and in some green
weeks hardly anybody comes. Everything else of the truth strays as in `twin_world`.

Twelve stations begin in April of the year before, and are followed through one whole
season and the next up to 13 October on the weather as it was. From there the outlook takes
the weather of all other years of the record and says whether water lasts through the
heavy-use weeks. Readings: none, one in September of each year, the same with a camera that
counts animals from August on, one a month from May.

The bands are those of the level of a later day on the weather as it was, when no more
readings come after the first of July or 13 October.

The law and its priors were set on New York and Champion (`--tuning`); the table is of the
headwaters of the Shenandoah, on which nothing was tuned.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from zlib import crc32

import numpy as np

from store.records import StationFacts
from store.vocabulary import ApronSurface, DrinkingSeason, ExpectedUse, Exposure
from store.water.balance import Change, run_balance
from store.water.drinking import season_day
from store.water.filter_run import FilterRun
from store.water.filtering import follow
from store.water.forcing import ARRAYS, Forcing
from store.water.look_ahead import forecast_errors, forecast_start
from store.water.observing import Observation, UseCount
from store.water.parameters import Parameters, TankSite, tank_site_of
from store.water.priors import StationPriors, draw_parameters, station_priors, unknown_start_l
from store.water.sharing import weights_by_neighbours
from store.weather.days import FloatArray
from tests.bench.places import HALF_DRUM, TANK_110, TANK_118, TANK_160, station, table
from tests.bench.scores import brier, covered, crps, randomised_pit
from tests.bench.twin_world import Noise, _gamma, _reading, _storms, record_forcing

MONTHS = (np.arange(12) + 0.5) * 365.25 / 12.0
BEGIN, SUMMER, ISSUE, END = (4, 1), (7, 1), (10, 13), (12, 31)
HEAVY_USE = (10, 20), (11, 10)
PLANS: Mapping[str, tuple[tuple[int, int], ...]] = {
    "none": (),
    "September": ((9, 20),),
    "September and a camera": ((9, 20),),
    "monthly": ((5, 15), (6, 15), (7, 15), (8, 15), (9, 20), (10, 15), (11, 15)),
}
COUNTED = (8, 10), (11, 20)
NEXT_D, LONG_D = 14, (30, 45, 60, 75)
MEMBERS = 500
USES = (ExpectedUse.LIGHT, ExpectedUse.AVERAGE, ExpectedUse.AVERAGE, ExpectedUse.HEAVY)


@dataclass(frozen=True)
class Truth:
    """How animals drink: litres a day at average use by day of the year."""

    name: str
    litres: Callable[[FloatArray, float], FloatArray]
    """From days of the year and the days by which this year's peak comes later."""
    chosen: DrinkingSeason = DrinkingSeason.GREEN_SUMMER


def _by_month(values: tuple[float, ...]) -> Callable[[FloatArray], FloatArray]:
    return lambda day: np.interp(day, MONTHS, values, period=365.25)


def _bell(day: FloatArray, peak: float, before_d: float, after_d: float) -> FloatArray:
    apart = day - peak
    return np.exp(-0.5 * (apart / np.where(apart < 0.0, before_d, after_d)) ** 2)


_OLD = _by_month((2.0, 2.0, 2.0, 2.0, 3.0, 3.0, 4.0, 5.0, 7.5, 8.5, 8.5, 5.0))
_GREEN = _by_month((2.0, 2.0, 2.0, 1.5, 1.0, 0.7, 0.5, 0.5, 0.8, 1.0, 1.5, 2.0))
_DRY = _by_month((1.5, 1.5, 2.0, 3.0, 6.0, 9.0, 9.5, 8.0, 6.5, 5.0, 3.0, 2.0))
TRUTHS = (
    Truth("a flat autumn", lambda day, _: _OLD(day)),
    Truth("the trade's", lambda day, late: _GREEN(day) + 11.0 * _bell(day, 306 + late, 22, 16)),
    Truth("late and narrow", lambda day, late: _GREEN(day) + 15.0 * _bell(day, 316 + late, 12, 9)),
    Truth(
        "dry summer",
        lambda day, late: _DRY(day) + 3.0 * _bell(day, 306 + late, 22, 16),
        chosen=DrinkingSeason.DRY_SUMMER,
    ),
)


@dataclass(frozen=True, eq=False)
class Place:
    """A record under both laws, and the seasons to be judged in it."""

    name: str
    forcings: Mapping[DrinkingSeason, Forcing]
    years: range

    def index(self, year: int, month_day: tuple[int, int]) -> int:
        first = self.forcings[DrinkingSeason.GREEN_SUMMER].first_day
        return (date(year, *month_day) - first).days


@dataclass(frozen=True, eq=False)
class Hidden:
    """What the truth runs on, and the tool does not know."""

    forcing: Forcing
    parameters: Parameters
    start_l: FloatArray
    rain_error: FloatArray
    demand_error: FloatArray

    def water_l(self, tank_sites: list[TankSite], changes: Sequence[Change] = ()) -> FloatArray:
        """The true volumes, shape (days, stations), with water brought."""
        return run_balance(
            tank_sites,
            self.forcing,
            self.parameters,
            self.start_l,
            changes=changes,
            rain_error=self.rain_error,
            demand_error=self.demand_error,
        ).volume_l[:, :, 0]


@dataclass(frozen=True, eq=False)
class Season:
    """One tract in one season of a truth; `truth_l` has shape (days, stations)."""

    place: Place
    year: int
    chosen: DrinkingSeason
    facts: list[StationFacts]
    tank_sites: list[TankSite]
    ids: list[str]
    priors: StationPriors
    truth_l: FloatArray
    readings: list[Observation]
    """Of every day in some plan."""
    counts: list[UseCount]
    """Animals a day on a camera at every station, every two weeks from August on."""
    hidden: Hidden | None = None

    def day(self, month_day: tuple[int, int], years_on: int = 1) -> int:
        """Which day of the run that is; the year judged is one on from the first."""
        begin = self.place.index(self.year - 1, BEGIN)
        return self.place.index(self.year - 1 + years_on, month_day) - begin

    @property
    def forcing(self) -> Forcing:
        begin = self.place.index(self.year - 1, BEGIN)
        whole = self.place.forcings[self.chosen]
        return whole.between(begin, self.place.index(self.year, END) + 1)

    @property
    def capacity_l(self) -> FloatArray:
        return np.array([site.tank.capacity_l for site in self.tank_sites])

    @property
    def dry_l(self) -> FloatArray:
        return np.array([site.dry_l for site in self.tank_sites])


@dataclass(frozen=True, eq=False)
class Result:
    """What was said of one season under one plan: chances and truths of every station."""

    chance: FloatArray
    held: FloatArray
    members: dict[int, FloatArray]
    """By days since the last reading: shares of the capacity, (cases, members)."""
    levels: dict[int, FloatArray]


def make_season(place: Place, year: int, truth: Truth) -> Season:
    rng = np.random.default_rng(crc32(f"{place.name} {year} {truth.name}".encode()))
    tanks = (TANK_110, TANK_110, TANK_118, TANK_160, TANK_110, HALF_DRUM)
    surfaces = (ApronSurface.SCULPTED_SOIL, ApronSurface.SCULPTED_SOIL, ApronSurface.LINER)
    facts = [
        station(
            tanks[number % len(tanks)],
            float(rng.uniform(40.0, 200.0)),
            surfaces[int(rng.integers(len(surfaces)))],
            list(Exposure)[int(rng.integers(3))],
            USES[int(rng.integers(len(USES)))],
            f"{place.name} {year} {truth.name} {number}",
        )
        for number in range(12)
    ]
    tank_sites, ids = [tank_site_of(one) for one in facts], [one.station_id for one in facts]
    priors = station_priors(facts)
    season = Season(place, year, truth.chosen, facts, tank_sites, ids, priors, np.empty(0), [], [])
    forcing = _with_truth(season.forcing, truth, rng)
    spread = rng.standard_normal(priors.log_median.shape) * priors.log_spread
    hidden = Parameters(*np.exp(priors.log_median + spread).T[:, :, np.newaxis])
    use = np.exp(priors.log_median[:, 2] + 0.4 * rng.standard_normal(len(ids)))
    hidden = replace(hidden, drinking=use[:, np.newaxis], rut=np.ones((len(ids), 1)))
    noise = Noise()
    weeks = _weeks(rng, forcing.days, len(ids))
    truth_run = Hidden(
        forcing,
        hidden,
        rng.uniform(0.2, 1.0, (len(ids), 1)) * season.capacity_l[:, np.newaxis],
        _storms(rng, _for_each(forcing, len(ids)), noise),
        weeks,
    )
    volume = truth_run.water_l(tank_sites)
    season = replace(season, truth_l=volume, hidden=truth_run)
    days = {season.day(day, on) for on in (0, 1) for plan in PLANS.values() for day in plan}
    readings = [
        _reading(rng, site, day, number, float(volume[day, number]), noise)[0]
        for day in sorted(days)
        for number, site in enumerate(tank_sites)
    ]
    wanted = forcing.demand_l[:, :, 0] * use * weeks[:, :, 0]
    return replace(season, readings=readings, counts=_counts(rng, season, wanted))


def _counts(rng: np.random.Generator, season: Season, wanted_l: FloatArray) -> list[UseCount]:
    """What cameras counted in the two weeks before each of their days; no two see alike."""
    visit_l = 2.0 * np.exp(0.5 * rng.standard_normal(len(season.ids)))
    counts = []
    for on in (0, 1):
        first, last = season.day(COUNTED[0], on), season.day(COUNTED[1], on)
        for day in range(first, min(last, len(wanted_l)), 14):
            visits = wanted_l[day - 13 : day + 1].mean(axis=0) / visit_l
            seen = visits * np.exp(0.4 * rng.standard_normal(len(visits)))
            counts += [UseCount(day - 7, row, round(float(one), 1)) for row, one in enumerate(seen)]
    return counts


def _with_truth(forcing: Forcing, truth: Truth, rng: np.random.Generator) -> Forcing:
    """The forcing with what animals of that truth want; no peak of the tool's is left."""
    first = forcing.first_day.toordinal()
    dates = [date.fromordinal(first + day) for day in range(forcing.days)]
    day = season_day([one.timetuple().tm_yday for one in dates], 40.0)
    wanted = np.empty(forcing.days)
    for year in {one.year for one in dates}:
        own = np.array([one.year == year for one in dates])
        late, height = rng.normal(0.0, 4.0), rng.lognormal(0.0, 0.3)
        base, whole = truth.litres(day, 365.0 * 9), truth.litres(day, late)
        wanted[own] = (base + height * (whole - base))[own]
    usual = np.where(forcing.ice[:, 0, 0], 0.0, wanted)[:, np.newaxis, np.newaxis]
    return replace(
        forcing,
        demand_l=usual * np.ones_like(forcing.demand_l),
        rut_l=np.zeros_like(forcing.rut_l),
    )


def _for_each(forcing: Forcing, stations: int) -> Forcing:
    return replace(
        forcing, **{name: np.repeat(getattr(forcing, name), stations, axis=1) for name in ARRAYS}
    )


def _weeks(rng: np.random.Generator, days: int, stations: int) -> FloatArray:
    """Demand that jumps from week to week, and green weeks in which hardly anybody comes."""
    weeks = -(-days // 7)
    level = _gamma(rng, 0.45, (weeks, stations, 1))
    green = rng.random((weeks, 1, 1)) < 0.1
    return np.repeat(np.where(green, 0.2 * level, level), 7, axis=0)[:days]


def judged(season: Season, name: str) -> Result:
    """The outlook of 13 October, and the levels later on, under one plan of readings."""
    plan = PLANS[name]
    issue, summer = season.day(ISSUE), season.day(SUMMER)
    counts = season.counts if "camera" in name else []
    seen_on = {season.day(day, on) for on in (0, 1) for day in plan}
    readings = [one for one in season.readings if one.day in seen_on]
    taught = followed(season, 0, issue, readings, counts=counts)
    if readings:
        everyone = np.ones(len(season.ids), dtype=bool)
        weights = weights_by_neighbours(season.facts, season.priors, taught.parameters, everyone)
        taught = taught.drawn_again(weights)
    first, last = (season.day(day) for day in HEAVY_USE)
    truth = season.truth_l[first : last + 1].min(axis=0)
    members: dict[int, list[FloatArray]] = {}
    levels: dict[int, list[FloatArray]] = {}
    before = [one for one in readings if one.day < summer]
    early = followed(season, 0, summer, before, counts=counts)
    for start, run in ((summer, early), (issue, taught)):
        at = start
        for later in (NEXT_D, *LONG_D):
            run = followed(season, at, start + later, (), run)
            at = start + later
            share = run.volume_l / season.capacity_l[:, np.newaxis]
            members.setdefault(later, []).append(share)
            levels.setdefault(later, []).append(season.truth_l[at - 1] / season.capacity_l)
    return Result(
        hold_chance(season, taught),
        (truth >= season.dry_l).astype(float),
        {later: np.concatenate(values) for later, values in members.items()},
        {later: np.concatenate(values) for later, values in levels.items()},
    )


def followed(
    season: Season,
    start: int,
    stop: int,
    readings: Sequence[Observation],
    before: FilterRun | None = None,
    counts: Sequence[UseCount] = (),
    changes: Sequence[Change] = (),
) -> FilterRun:
    july = season.day(SUMMER, 1)
    run = before or _begun(season)
    return follow(
        season.ids,
        season.tank_sites,
        season.forcing.between(start, stop),
        run.parameters,
        run.volume_l,
        observations=[
            replace(one, day=one.day - start) for one in readings if start <= one.day < stop
        ],
        counts=[replace(one, day=one.day - start) for one in counts if start <= one.day < stop],
        changes=changes,
        errors=run.errors,
        new_years=[july - start] if start <= july < stop else [],
        priors=season.priors,
    )


def _begun(season: Season) -> FilterRun:
    """Members of a level nobody knows, on the evening before the first day."""
    start = np.array(
        [
            unknown_start_l(name, capacity, MEMBERS)
            for name, capacity in zip(season.ids, season.capacity_l, strict=True)
        ]
    )
    return follow(
        season.ids,
        season.tank_sites,
        season.forcing.between(0, 1),
        draw_parameters(season.ids, season.priors, MEMBERS),
        start,
    )


def hold_chance(season: Season, taught: FilterRun, issue: tuple[int, int] = ISSUE) -> FloatArray:
    """Chance of water all through the heavy-use weeks that are left, from a day of issue on."""
    heavy = heavy_use_ahead(season, taught, issue)
    return np.asarray((heavy.min(axis=0) >= season.dry_l[:, np.newaxis]).mean(axis=1))


def fill_gain(season: Season, taught: FilterRun, issue: tuple[int, int]) -> FloatArray:
    """Wet days of the weeks left that a fill to the rim on a day is expected to bring."""
    wet = [
        (heavy_use_ahead(season, taught, issue, full=full) >= season.dry_l[:, np.newaxis])
        .mean(axis=2)
        .sum(axis=0)
        for full in (False, True)
    ]
    return np.asarray(wet[1] - wet[0])


def heavy_use_ahead(
    season: Season, taught: FilterRun, issue: tuple[int, int] = ISSUE, *, full: bool = False
) -> FloatArray:
    """Litres on the days left of heavy use from a day of issue on: (days, stations, members).

    Each member lives in another year's weather; `full` fills every tank on that day.
    """
    place, whole = season.place, season.place.forcings[season.chosen]
    others = [year for year in place.years if year != season.year]
    starts = [place.index(year, issue) for year in others]
    days = place.index(season.year, HEAVY_USE[1]) + 1 - place.index(season.year, issue)
    count = len(others) * (MEMBERS // len(others) or 1)
    ahead = Forcing(
        whole.first_day,
        **{
            name: np.concatenate(
                [
                    getattr(whole, name)[starts[member % len(others)] :][:days]
                    for member in range(count)
                ],
                axis=2,
            )
            for name in ARRAYS
        },
    )
    start = forecast_start(taught, count)
    errors = forecast_errors(start, ahead)
    volume = run_balance(
        season.tank_sites,
        ahead,
        start.parameters,
        season.capacity_l[:, np.newaxis] + 0.0 * start.volume_l if full else start.volume_l,
        rain_error=errors.rain,
        demand_error=errors.demand,
    ).volume_l
    return volume[max(season.day(HEAVY_USE[0]) - season.day(issue), 0) :]


def row_of(name: str, results: list[Result]) -> list[str]:
    """One line: bands and errors of levels, and the worth of what was said on 13 October."""
    rng = np.random.default_rng(9)
    chance = np.concatenate([one.chance for one in results])
    held = np.concatenate([one.held for one in results])
    usual = brier(held, np.full(held.shape, held.mean())).mean()
    skill = 1.0 - brier(held, chance).mean() / usual
    sure = chance >= 0.9
    cells = [name]
    for days in ((NEXT_D,), LONG_D):
        truth = np.concatenate([one.levels[day] for one in results for day in days])
        said = np.concatenate([one.members[day] for one in results for day in days])
        pit = randomised_pit(truth, said, rng)
        cells += [f"{covered(pit, 0.8):.2f}", f"{100.0 * crps(truth, said).mean():.1f}"]
    return [
        *cells,
        f"{held.mean():.2f}",
        f"{skill:+.2f}",
        f"{held[sure].mean():.2f}" if sure.any() else "-",
        f"{sure.mean():.2f}",
    ]


def places(tuning: bool) -> list[Place]:
    def place(name: str, file: str, latitude: float, elevation: float, years: range) -> Place:
        laws = {law: record_forcing(file, latitude, elevation, law) for law in DrinkingSeason}
        return Place(name, laws, years)

    if tuning:
        return [
            place("New York", "new_york_daily.csv", 40.8, 40.0, range(2013, 2015)),
            place("Champion", "champion_daily.csv", 40.4, 1000.0, range(1983, 2018)),
        ]
    return [place("Shenandoah", "shenandoah_daily.csv", 38.3, 911.0, range(1981, 2014))]


HEAD = [
    "truth, readings",
    "band next",
    "CRPS",
    "band 1-3 months",
    "CRPS",
    "held",
    "skill",
    "said 90+ % held",
    "share so said",
]


def main() -> None:
    tuning = "--tuning" in sys.argv
    for place in places(tuning):
        print(f"\n{place.name}: {len(place.years)} seasons of 12 stations\n")
        rows = []
        for truth in TRUTHS:
            seasons = [make_season(place, year, truth) for year in place.years]
            for name in PLANS:
                results = [judged(season, name) for season in seasons]
                rows.append(row_of(f"{truth.name}, {name}", results))
        print(table(HEAD, rows))


if __name__ == "__main__":
    main()
