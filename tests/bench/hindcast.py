"""Would the outlooks have been right? Run: python -m tests.bench.hindcast

Each year of the Champion record is left out in turn. From 1 March, full, every station
runs on that year's own weather up to the day of issue; from there on the outlook takes
the weather of all other years, earlier and later. It speaks of the heavy-use weeks, 20
October to 10 November: the lowest level in them, and whether the tank falls dry or low.
(Ground moisture of the first five days ahead is that of the other year.)

weather: the truth is the model itself with its default parameters, so only the weather
is unknown. The other two have a truth with parameters hidden, new for every year and
tank, drawn from the priors, and with errors of rain and demand of the size the method
assumes (`tests/bench/twins.py` tries others): untaught knows the facts of the station
alone, taught has had a tape reading on the first of every month since April.

The climatology it is measured against is the truth of the same station in all other
years: with hidden parameters, that of other tanks like it. Leaving a year out tilts
both a little against themselves: where the event is missing from the year, it is more
frequent in the others.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from zlib import crc32

import numpy as np

from store.records import Reading, StationFacts
from store.units import inches_from_mm
from store.vocabulary import ApronSurface, ExpectedUse, Exposure
from store.water.balance import run_balance
from store.water.filtering import follow
from store.water.forcing import ARRAYS, Forcing
from store.water.geometry import below_rim_mm, depth_at_volume_mm
from store.water.look_ahead import forecast_errors, forecast_start
from store.water.model_errors import Errors, blank_state, carry_errors, wet_days
from store.water.observing import Observation, observation_of
from store.water.parameters import Parameters, TankSite, default_parameters, tank_site_of
from store.water.priors import draw_parameters, station_priors
from store.weather.days import FloatArray
from tests.bench.places import (
    HALF_DRUM,
    TANK_110,
    TANK_160,
    Place,
    champion,
    station,
    table,
)
from tests.bench.scores import brier, covered, crps, randomised_pit

ISSUES = {"1 July": (7, 1), "1 September": (9, 1), "1 October": (10, 1)}
FIRST, LAST = (10, 20), (11, 10)
DRY_SHARE, LOW_SHARE = 0.05, 0.25
BIN_EDGES = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0)
TURNS = 6
"""Forecast members for each other year, where parameters are uncertain."""
READING_SPREAD_MM = 13.0
RESAMPLES = 400


class Mode(StrEnum):
    WEATHER = "weather"
    UNTAUGHT = "untaught"
    TAUGHT = "taught"


def stations() -> list[StationFacts]:
    """Tanks and aprons that run from mostly dry to mostly full by November."""
    soil, liner = ApronSurface.SCULPTED_SOIL, ApronSurface.LINER
    part, deep = Exposure.PART_SHADE, Exposure.DEEP_SHADE
    light, average = ExpectedUse.LIGHT, ExpectedUse.AVERAGE
    return [
        station(TANK_110, 150.0, soil, deep, light, "110 gal, 150 ft2 of soil, light use"),
        station(TANK_110, 150.0, soil, part, average, "110 gal, 150 ft2 of soil"),
        station(TANK_110, 600.0, soil, part, average, "110 gal, 600 ft2 of soil"),
        station(TANK_110, 200.0, liner, deep, light, "110 gal, 200 ft2 of liner, light use"),
        station(TANK_160, 200.0, liner, part, average, "160 gal, 200 ft2 of liner"),
        station(HALF_DRUM, 400.0, liner, deep, light, "half drum, 400 ft2 of liner, light use"),
    ]


@dataclass(frozen=True, eq=False)
class Outlooks:
    """Lowest volumes in the heavy-use weeks, as shares of the capacity and in inches.

    `truth_*` has shape (years, stations), `said_*` (years, stations, members).
    """

    truth_share: FloatArray
    said_share: FloatArray
    truth_in: FloatArray
    said_in: FloatArray


def outlooks(
    place: Place, facts: list[StationFacts], issue: tuple[int, int], mode: Mode, turns: int = TURNS
) -> Outlooks:
    """Outlooks issued on a day of every year of the record."""
    years = list(place.years)
    rows = [(year, number) for year in years for number in range(len(facts))]
    tank_sites = [tank_site_of(facts[number]) for _, number in rows]
    known_days = place.index(years[0], *issue) - place.index(years[0], 3, 1)
    ahead_days = place.index(years[0], *LAST) + 1 - place.index(years[0], *issue)
    window = slice(place.index(years[0], *FIRST) - place.index(years[0], *issue), ahead_days)
    own = _side_by_side(place, [[year] for year, _ in rows], (3, 1), known_days + ahead_days)
    others = [[year for year in years if year != left_out] for left_out, _ in rows]
    ahead = _side_by_side(place, others, issue, ahead_days)
    capacity = np.array([[tank_site.tank.capacity_l] for tank_site in tank_sites])

    if mode is Mode.WEATHER:
        parameters = default_parameters([facts[number] for _, number in rows])
        truth = run_balance(tank_sites, own, parameters, capacity).volume_l[:, :, 0]
        now = truth[known_days - 1][:, np.newaxis]
        said = run_balance(tank_sites, ahead, parameters, now).volume_l
    else:
        names = [f"{facts[number].name} in {year}" for year, number in rows]
        priors = station_priors([facts[number] for _, number in rows])
        rng = np.random.default_rng(crc32(f"{issue} {place.name}".encode()))
        spread = rng.standard_normal(priors.log_median.shape) * priors.log_spread
        hidden = Parameters(*np.exp(priors.log_median + spread).T[:, :, np.newaxis])
        strayed = _errors(rng, own, len(rows))
        truth = run_balance(
            tank_sites,
            own,
            hidden,
            capacity,
            rain_error=strayed.rain,
            demand_error=strayed.demand,
        ).volume_l[:, :, 0]
        seen = _readings(rng, place, tank_sites, truth, issue) if mode is Mode.TAUGHT else []
        followed = follow(
            names,
            tank_sites,
            own.between(0, known_days),
            draw_parameters(names, priors),
            capacity,
            observations=seen,
        )
        turned = _repeated(ahead, turns)
        begun = forecast_start(followed, turns * (len(years) - 1))
        errors = forecast_errors(begun, turned)
        said = run_balance(
            tank_sites,
            turned,
            begun.parameters,
            begun.volume_l,
            rain_error=errors.rain,
            demand_error=errors.demand,
        ).volume_l

    lowest_truth = truth[known_days:][window].min(axis=0)
    lowest_said = said[window].min(axis=0)
    shape = (len(years), len(facts))
    return Outlooks(
        (lowest_truth / capacity[:, 0]).reshape(shape),
        (lowest_said / capacity).reshape(*shape, -1),
        _inches(tank_sites, lowest_truth[:, np.newaxis]).reshape(shape),
        _inches(tank_sites, lowest_said).reshape(*shape, -1),
    )


def _side_by_side(
    place: Place, years_of_row: list[list[int]], first: tuple[int, int], days: int
) -> Forcing:
    """Days of several years over each other, shape (days, rows, years of a row)."""
    starts = np.array([[place.index(year, *first) for year in row] for row in years_of_row])
    at = starts + np.arange(days)[:, np.newaxis, np.newaxis]
    arrays = {name: getattr(place.forcing, name)[at, 0, 0] for name in ARRAYS}
    return Forcing(place.forcing.first_day, **arrays)


def _repeated(forcing: Forcing, turns: int) -> Forcing:
    arrays = {name: np.tile(getattr(forcing, name), (1, 1, turns)) for name in ARRAYS}
    return Forcing(forcing.first_day, **arrays)


def _errors(rng: np.random.Generator, forcing: Forcing, rows: int) -> Errors:
    """Errors of the truth: one course for every row."""
    fresh = rng.standard_normal((2, forcing.days, rows, 1), dtype=np.float32)
    begins = np.zeros((forcing.days, rows), dtype=bool)
    begins[0] = True
    return carry_errors(blank_state(rows, 1), fresh, wet_days(forcing), begins)[0]


def _readings(
    rng: np.random.Generator,
    place: Place,
    tank_sites: list[TankSite],
    truth_l: FloatArray,
    issue: tuple[int, int],
) -> list[Observation]:
    """Tape readings on the eve of the first of each month, April to the day of issue."""
    year = place.years[0]
    march = place.index(year, 3, 1)
    days = [place.index(year, month, 1) - march - 1 for month in range(4, issue[0] + 1)]
    readings = []
    for day in days:
        for row, tank_site in enumerate(tank_sites):
            tank = tank_site.tank
            below = float(below_rim_mm(tank, truth_l[day, row])) + rng.normal(0, READING_SPREAD_MM)
            reading = Reading("bench", below_rim_mm=float(np.clip(below, 0.0, tank.depth_mm)))
            readings.append(observation_of(reading, tank_sites[row], day, row))
    return readings


def _inches(tank_sites: list[TankSite], volume_l: FloatArray) -> FloatArray:
    """Water depths in inches, shape (rows, members)."""
    return np.stack(
        [
            inches_from_mm(1.0) * depth_at_volume_mm(tank_site.tank, row)
            for tank_site, row in zip(tank_sites, volume_l, strict=True)
        ]
    )


@dataclass(frozen=True)
class Score:
    """Skills against climatology and the coverage of the 80 percent band, by year.

    A skill is one minus the score over that of climatology: 1 perfect, 0 no better.
    """

    dry: tuple[float, float]
    low: tuple[float, float]
    level: tuple[float, float]
    coverage: tuple[float, float]
    crps_in: float
    climatology_in: float


def score(result: Outlooks) -> Score:
    """Each figure with its standard error, from drawing whole years anew."""
    others = ~np.eye(len(result.truth_in), dtype=bool)
    usual_in = np.stack([result.truth_in[row].T for row in others])
    ours = crps(result.truth_in, result.said_in, estimator="fair")
    theirs = crps(result.truth_in, usual_in, estimator="fair")
    pit = randomised_pit(result.truth_in, result.said_in, np.random.default_rng(5))
    inside = np.abs(pit - 0.5) <= 0.4
    briers = {}
    for share in (DRY_SHARE, LOW_SHARE):
        happened = result.truth_share < share
        said = (result.said_share < share).mean(axis=2)
        usual = np.stack([happened[row].mean(axis=0) for row in others])
        briers[share] = brier(happened, said), brier(happened, usual)
    rng = np.random.default_rng(11)
    drawn = rng.integers(0, len(pit), (RESAMPLES, len(pit)))

    def skill(mine: FloatArray, usual: FloatArray) -> tuple[float, float]:
        again = 1.0 - mine[drawn].mean(axis=(1, 2)) / usual[drawn].mean(axis=(1, 2))
        return float(1.0 - mine.mean() / usual.mean()), float(again.std())

    return Score(
        dry=skill(*briers[DRY_SHARE]),
        low=skill(*briers[LOW_SHARE]),
        level=skill(ours, theirs),
        coverage=(covered(pit, 0.8), float(inside[drawn].mean(axis=(1, 2)).std())),
        crps_in=float(ours.mean()),
        climatology_in=float(theirs.mean()),
    )


def reliability(results: list[Outlooks], share: float) -> list[list[str]]:
    """Rows of the reliability table: what was said, how often it came true, how many."""
    happened = np.concatenate([r.truth_share < share for r in results])
    said = np.concatenate([(r.said_share < share).mean(axis=2) for r in results])
    year = np.concatenate([np.arange(len(r.truth_share)) for r in results])
    chosen = np.digitize(said, BIN_EDGES[1:-1])
    rng = np.random.default_rng(17)
    rows = []
    for number, (low, high) in enumerate(pairwise(BIN_EDGES)):
        inside = chosen == number
        if not inside.any():
            continue
        count = np.bincount(year, inside.sum(axis=1))
        hits = np.bincount(year, (inside & happened).sum(axis=1))
        drawn = rng.integers(0, len(count), (RESAMPLES, len(count)))
        again = hits[drawn].sum(axis=1) / np.maximum(count[drawn].sum(axis=1), 1)
        rows.append(
            [
                f"{100 * low:.0f}-{100 * high:.0f}",
                f"{100 * said[inside].mean():.0f}",
                f"{100 * happened[inside].mean():.0f} ± {100 * again.std():.0f}",
                str(int(inside.sum())),
            ]
        )
    return rows


def main() -> None:
    place, facts = champion(), stations()
    print("python -m tests.bench.hindcast\n")
    rows, kept = [], {}
    for mode in Mode:
        for name, issue in ISSUES.items():
            result = outlooks(place, facts, issue, mode)
            kept[mode, name] = result
            got = score(result)
            rows.append(
                [f"{mode}, {name}"]
                + [f"{value:.2f} ± {error:.2f}" for value, error in (got.dry, got.low, got.level)]
                + [f"{got.crps_in:.2f} / {got.climatology_in:.2f}"]
                + [f"{got.coverage[0]:.2f} ± {got.coverage[1]:.2f}"]
            )
    head = ["truth and knowledge, issued", "Brier skill, dry", "Brier skill, below a quarter"]
    head += ["CRPS skill, level", "CRPS / climatology, in", "in the 80 % band"]
    cases = len(list(place.years)) * len(facts)
    print(f"{cases} outlooks a row ({len(list(place.years))} years, {len(facts)} stations):\n")
    print(table(head, rows))
    for mode in Mode:
        print(f"\nReliability, {mode}, below a quarter in the heavy-use weeks, all issues:\n")
        results = [kept[mode, name] for name in ISSUES]
        head = ["percent said", "said on average", "happened, percent", "cases"]
        print(table(head, reliability(results, LOW_SHARE)))


if __name__ == "__main__":
    main()
