"""What the tool's prompts are worth. Run: python -m tests.bench.decisions

Twelve stations a season in the world where animals drink as the trade says
(`drinking_worlds`), of which every second is reached by a vehicle; first on the headwaters of
the Shenandoah, on which nothing was tuned, then on the two records the laws were tuned on. A
fill tops up to the rim. Wet days are those of the heavy-use weeks, of the reached stations
alone: nothing can be brought to the others. A visit in the quiet weeks is counted apart too.

never: nobody goes. all: every reached station is filled on 13 October. monthly: they are
walked to on the 15th of every month from May to October and filled in October when seen
low. prompts: nobody looks; on 13 October those are filled that the model has low or rather
dry than not in heavy use, and on 27 October, in the quiet weeks, those that are both then
and where the water brings more wet days than the visit costs. one look: the same after a
look on 20 September. foresight: those fills on the two days that save a day, by somebody
who knows the truth.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.season.look_value import visit_costs
from store.season.windows import DEFAULT_SEASON
from store.units import gallons_from_litres
from store.vocabulary import DrinkingSeason
from store.water.balance import Change, ChangeKind
from store.water.drinking import LAWS, use_weights
from store.water.filter_run import FilterRun
from store.weather.days import BoolArray, FloatArray
from tests.bench.drinking_worlds import (
    HEAVY_USE,
    ISSUE,
    PLANS,
    TRUTHS,
    Place,
    Season,
    Truth,
    fill_gain,
    followed,
    hold_chance,
    make_season,
    places,
)
from tests.bench.places import table

AGAIN = (10, 27)
QUIET = (10, 19), (11, 17)
REACHED = np.arange(0, 12, 2)


@dataclass(frozen=True, eq=False)
class Outcome:
    """Of one season and the reached stations: sums over them."""

    wet_days: float
    visits: int
    quiet_visits: int
    gallons: float
    lost_days: float
    """Days of heavy use that the visits cost, as the program reckons it."""


def outcome(
    season: Season,
    fills: Mapping[tuple[int, int], BoolArray],
    looks: Mapping[tuple[int, int], int],
) -> Outcome:
    """What came of filling stations on some days; a fill is a visit too, a look never quiet."""
    quiet = sum(int(chosen.sum()) for on, chosen in fills.items() if QUIET[0] <= on <= QUIET[1])
    assert season.hidden is not None
    changes = _fills(season, fills)
    water = season.hidden.water_l(season.tank_sites, changes)
    heavy = water[season.day(HEAVY_USE[0]) : season.day(HEAVY_USE[1]) + 1]
    brought, so_far = 0.0, []
    for change in changes:
        before = season.hidden.water_l(season.tank_sites, so_far)
        brought += season.capacity_l[change.station] - before[change.day, change.station]
        so_far.append(change)
    wet = (heavy >= season.dry_l)[:, REACHED]
    gallons = float(gallons_from_litres(brought))
    visits = Counter(looks)
    for on, chosen in fills.items():
        visits[on] += int(chosen.sum())
    lost = sum(count * costs(on) for on, count in visits.items())
    return Outcome(float(wet.sum()), visits.total(), quiet, gallons, lost)


def _fills(season: Season, fills: Mapping[tuple[int, int], BoolArray]) -> list[Change]:
    """To the rim, at the stations chosen on each day."""
    return [
        Change(season.day(on), station, ChangeKind.ADD)
        for on, chosen in fills.items()
        for station in np.flatnonzero(chosen).tolist()
    ]


def _reached(chosen: BoolArray) -> BoolArray:
    only = np.zeros_like(chosen)
    only[REACHED] = chosen[REACHED]
    return only


def never(season: Season) -> Outcome:
    return outcome(season, {}, {})


def fill_all(season: Season) -> Outcome:
    return outcome(season, {ISSUE: _reached(np.ones(12, dtype=bool))}, {})


def monthly(season: Season) -> Outcome:
    on = (10, 15)
    low = season.truth_l[season.day(on)] < DEFAULT_SEASON.fill_below_share * season.capacity_l
    # The look and the fill of October are one visit.
    looks = {(month, 15): len(REACHED) for month in range(5, 10)}
    looks[on] = len(REACHED) - int(low[REACHED].sum())
    return outcome(season, {on: _reached(low)}, looks)


def prompts(season: Season, plan: str = "none") -> Outcome:
    """By the model alone; after a fill it knows what stands in the tank."""
    seen_on = {season.day(day, on) for on in (0, 1) for day in PLANS[plan]}
    readings = [one for one in season.readings if one.day in seen_on]
    run = followed(season, 0, season.day(ISSUE) + 1, readings)
    first = _reached(_wanted(season, run, ISSUE))
    later = followed(
        season, 0, season.day(AGAIN) + 1, readings, changes=_fills(season, {ISSUE: first})
    )
    second = _reached(_wanted(season, later, AGAIN))
    looks = {(month, day): len(REACHED) for month, day in PLANS[plan]}
    return outcome(season, {ISSUE: first, AGAIN: second}, looks)


def _wanted(season: Season, run: FilterRun, on: tuple[int, int]) -> BoolArray:
    """Low or rather dry than not in heavy use; in the quiet weeks low and dry, and worth it."""
    low = np.median(run.volume_l, axis=1) < DEFAULT_SEASON.fill_below_share * season.capacity_l
    dry = 1.0 - hold_chance(season, run, on) > DEFAULT_SEASON.dry_chance_most
    if on == ISSUE:
        return np.asarray(low | dry)
    return np.asarray(low & dry & (fill_gain(season, run, on) > costs(on)))


def costs(on: tuple[int, int]) -> float:
    """Days of heavy use that a visit costs, as the program reckons it."""
    first = date(2025, *on).timetuple().tm_yday
    days = first + np.arange(round(DEFAULT_SEASON.visit_days), dtype=np.float64)
    return visit_costs(use_weights(LAWS[DrinkingSeason.GREEN_SUMMER], days))


def foresight(season: Season) -> Outcome:
    none: FloatArray = _dry_days(season, {})
    first = none > _dry_days(season, {ISSUE: np.ones(12, dtype=bool)})
    left = _dry_days(season, {ISSUE: first})
    second = left > _dry_days(season, {ISSUE: first, AGAIN: np.ones(12, dtype=bool)})
    return outcome(season, {ISSUE: _reached(first), AGAIN: _reached(second)}, {})


def _dry_days(season: Season, fills: Mapping[tuple[int, int], BoolArray]) -> FloatArray:
    assert season.hidden is not None
    changes = _fills(season, fills)
    water = season.hidden.water_l(season.tank_sites, changes)
    heavy = water[season.day(HEAVY_USE[0]) : season.day(HEAVY_USE[1]) + 1]
    return np.asarray((heavy < season.dry_l).sum(axis=0), dtype=np.float64)


POLICIES: Mapping[str, Callable[[Season], Outcome]] = {
    "never": never,
    "all on 13 October": fill_all,
    "walk monthly": monthly,
    "prompts, no look": prompts,
    "prompts, one look": lambda season: prompts(season, "September"),
    "foresight": foresight,
}


def main() -> None:
    print("python -m tests.bench.decisions\n")
    (truth,) = [one for one in TRUTHS if one.name == "the trade's"]
    for tuning in (False, True):
        for place in places(tuning=tuning):
            _print_place(place, truth, tuning)


def _print_place(place: Place, truth: Truth, tuning: bool) -> None:
    seasons = [make_season(place, year, truth) for year in place.years]
    days = season_days(seasons[0])
    told = "the laws were tuned on it" if tuning else "nothing was tuned on it"
    print(f"{place.name}, {told}\n")
    rows = []
    for name, policy in POLICIES.items():
        outcomes = [policy(season) for season in seasons]
        count = len(REACHED) * len(seasons)
        rows.append(
            [
                name,
                f"{sum(one.wet_days for one in outcomes) / count:.1f}",
                f"{sum(one.visits for one in outcomes) / count:.2f}",
                f"{sum(one.quiet_visits for one in outcomes) / count:.2f}",
                f"{sum(one.gallons for one in outcomes) / count:.0f}",
                f"{sum(one.wet_days - one.lost_days for one in outcomes) / count:.1f}",
            ]
        )
    print(f"{len(seasons)} seasons, {len(REACHED)} reached stations, {days} days of heavy use:\n")
    print(
        table(["a station and season", "wet days", "visits", "quiet", "gallons", "less lost"], rows)
    )


def season_days(season: Season) -> int:
    return season.day(HEAVY_USE[1]) - season.day(HEAVY_USE[0]) + 1


if __name__ == "__main__":
    main()
