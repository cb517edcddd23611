"""What the tool's prompts are worth. Run: python -m tests.bench.decisions

Twelve stations a season in the world where animals drink as the trade says
(`drinking_worlds`), of which every second is reached by a vehicle; on the headwaters of
the Shenandoah, on which nothing was tuned. A fill tops up to the rim. Wet days are those
of the heavy-use weeks, of the reached stations alone: nothing can be brought to the others.

never: nobody goes. all: every reached station is filled on 13 October. monthly: they are
walked to on the 15th of every month from May to October and filled in October when seen
below three quarters. prompts: nobody looks; on 13 October those are filled that the model
has below three quarters or rather dry than not in heavy use, and again on 27 October those
that it has so then. one look: the same after a look on 20 September. foresight: those
fills on the two days that save a day, by somebody who knows the truth.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from store.units import gallons_from_litres
from store.water.balance import Change, ChangeKind
from store.water.filtering import FilterRun
from store.weather.days import BoolArray, FloatArray
from tests.bench.drinking_worlds import (
    HEAVY_USE,
    ISSUE,
    PLANS,
    TRUTHS,
    Season,
    followed,
    hold_chance,
    make_season,
    places,
)
from tests.bench.places import table

AGAIN = (10, 27)
FILL_BELOW = 0.75
REACHED = np.arange(0, 12, 2)


@dataclass(frozen=True, eq=False)
class Outcome:
    """Of one season and the reached stations: sums over them."""

    wet_days: float
    visits: int
    gallons: float


def outcome(season: Season, fills: Mapping[tuple[int, int], BoolArray], looks: int) -> Outcome:
    """What came of filling stations on some days; a fill is a visit too."""
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
    return Outcome(float(wet.sum()), looks + len(changes), float(gallons_from_litres(brought)))


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
    return outcome(season, {}, 0)


def fill_all(season: Season) -> Outcome:
    return outcome(season, {ISSUE: _reached(np.ones(12, dtype=bool))}, 0)


def monthly(season: Season) -> Outcome:
    on = (10, 15)
    low = season.truth_l[season.day(on)] < FILL_BELOW * season.capacity_l
    # The look and the fill of October are one visit.
    return outcome(season, {on: _reached(low)}, 6 * len(REACHED) - int(low[REACHED].sum()))


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
    return outcome(season, {ISSUE: first, AGAIN: second}, len(PLANS[plan]) * len(REACHED))


def _wanted(season: Season, run: FilterRun, on: tuple[int, int]) -> BoolArray:
    """Low or rather dry than not in heavy use; the second time low and dry."""
    low = np.median(run.volume_l, axis=1) < FILL_BELOW * season.capacity_l
    dry = hold_chance(season, run, on) < 0.5
    return np.asarray(low | dry if on == ISSUE else low & dry)


def foresight(season: Season) -> Outcome:
    none: FloatArray = _dry_days(season, {})
    first = none > _dry_days(season, {ISSUE: np.ones(12, dtype=bool)})
    left = _dry_days(season, {ISSUE: first})
    second = left > _dry_days(season, {ISSUE: first, AGAIN: np.ones(12, dtype=bool)})
    return outcome(season, {ISSUE: _reached(first), AGAIN: _reached(second)}, 0)


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
    (place,) = places(tuning=False)
    (truth,) = [one for one in TRUTHS if one.name == "the trade's"]
    seasons = [make_season(place, year, truth) for year in place.years]
    days = season_days(seasons[0])
    rows = []
    for name, policy in POLICIES.items():
        outcomes = [policy(season) for season in seasons]
        count = len(REACHED) * len(seasons)
        rows.append(
            [
                name,
                f"{sum(one.wet_days for one in outcomes) / count:.1f}",
                f"{sum(one.visits for one in outcomes) / count:.2f}",
                f"{sum(one.gallons for one in outcomes) / count:.0f}",
            ]
        )
    print(f"{len(seasons)} seasons, {len(REACHED)} reached stations, {days} days of heavy use:\n")
    print(table(["a station and season", "wet days", "visits", "gallons"], rows))


def season_days(season: Season) -> int:
    return season.day(HEAVY_USE[1]) - season.day(HEAVY_USE[0]) + 1


if __name__ == "__main__":
    main()
