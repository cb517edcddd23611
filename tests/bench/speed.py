"""Speed of the balance against a compiled loop. Run: python -m tests.bench.speed

Needs numba (`pip install "brimbook[bench]"`). One core; the time is that of the thread,
so neighbours on the machine count less; the best of several rounds, all methods in turn.
Every method starts from the weather terms at hand or works them out, and makes the
arrays it hands back. "Screen" is what a screen shows of each station and day: the 10,
50 and 90 percent quantiles of the volume over the members, the mean overflow, and for
one station in ten the share of a contaminant left in every member.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from time import thread_time
from typing import Any

import numpy as np

from store.water.accounts import budget
from store.water.balance import Balance, run_balance
from store.water.dilution import weather_dilution
from store.water.forcing import ARRAYS, Forcing
from store.water.parameters import Parameters, TankSite, default_parameters, tank_site_of
from store.water.quantiles import member_quantiles
from store.weather.days import FloatArray
from tests.bench.compiled import OUTPUTS, depth_bins_mm, everything, inputs, volume_alone
from tests.bench.places import HALF_DRUM, TANK_110, TANK_118, champion, station, table

SIZES = ((12, 40), (12, 1000), (500, 40))
DAYS = 730
ROUNDS = 9
FOULED_ONE_IN = 10
OUTLOOK_SIZES = (12, 36)
OUTLOOK_DAYS = 400


@dataclass(frozen=True, eq=False)
class Case:
    tank_sites: list[TankSite]
    forcing: Forcing
    parameters: Parameters

    def run(self) -> Balance:
        return run_balance(self.tank_sites, self.forcing, self.parameters, 200.0)


def make_case(stations: int, members: int, days: int = DAYS) -> Case:
    """Stations of three makes on one record, every parameter uncertain."""
    rng = np.random.default_rng(1)
    makes = [tank_site_of(station(tank, 110.0)) for tank in (TANK_110, HALF_DRUM, TANK_118)]

    def draw(low: float, high: float) -> FloatArray:
        return rng.uniform(low, high, (stations, members))

    return Case(
        tank_sites=[makes[row % len(makes)] for row in range(stations)],
        forcing=champion().forcing.between(0, days).for_stations([0] * stations),
        parameters=Parameters(
            apron_yield=draw(0.5, 1.5),
            shelter=draw(0.4, 1.0),
            drinking=draw(0.5, 2.0),
            leak_mm_d=draw(0.0, 1.0),
            rain=draw(0.8, 1.2),
            snow_catch=draw(0.5, 1.0),
        ),
    )


def outlook_case(stations: int, days: int = OUTLOOK_DAYS) -> Case:
    """What an outlook runs: the weather of every past year, parameters at their defaults."""
    place = champion()
    starts = np.array([place.index(year, 9, 1) for year in place.years[:-2]])
    at = starts + np.arange(days)[:, np.newaxis, np.newaxis]
    arrays = {name: getattr(place.forcing, name)[at, 0, 0] for name in ARRAYS}
    facts = [
        station((TANK_110, HALF_DRUM, TANK_118)[row % 3], 100.0 + row) for row in range(stations)
    ]
    return Case(
        tank_sites=[tank_site_of(one) for one in facts],
        forcing=Forcing(place.forcing.first_day, **arrays),
        parameters=default_parameters(facts),
    )


def screen(case: Case) -> tuple[FloatArray, FloatArray, list[FloatArray]]:
    """Volume quantiles, mean overflow, and what is left of a contaminant where fouled."""
    balance = case.run()
    left = [
        np.cumprod(weather_dilution(balance.of_stations(row, row + 1)), axis=0)
        for row in range(0, len(case.tank_sites), FOULED_ONE_IN)
    ]
    return member_quantiles(balance.volume_l), balance.overflow_l, left


def seconds(methods: dict[str, Callable[[], Any]], rounds: int = ROUNDS) -> dict[str, float]:
    """Best thread time of each method, all methods in turn in every round."""
    best = dict.fromkeys(methods, np.inf)
    for _ in range(rounds):
        for name, method in methods.items():
            began = thread_time()
            method()
            best[name] = min(best[name], thread_time() - began)
    return best


def methods_of(case: Case, alone: Callable[..., None], carrying: Callable[..., None]) -> Any:
    """What is timed, by name; `alone` and `carrying` are the compiled loops."""
    balance = case.run()
    given, shape = inputs(balance), balance.volume_l.shape
    depth = depth_bins_mm(balance, case.tank_sites)
    return {
        "volume": case.run,
        "screen": lambda: screen(case),
        "loop_volume": lambda: alone(*given, np.empty(shape)),
        "loop_all": lambda: carrying(*given, depth, *(np.empty(shape) for _ in range(OUTPUTS))),
        "budget": lambda: budget(balance),
        "dilution": lambda: weather_dilution(balance),
    }


def main() -> None:
    from numba import njit

    alone, carrying = njit(volume_alone), njit(everything)
    rows = []
    for stations, members in SIZES:
        case = make_case(stations, members)
        methods = methods_of(case, alone, carrying)
        seconds(methods, 1)
        took = seconds(methods)
        cells = stations * members * DAYS
        speed = {name: cells / second / 1e6 for name, second in took.items()}
        rows.append(
            [f"{stations} x {members:,}"]
            + [f"{speed[name]:.0f}" for name in methods]
            + [
                f"{speed['volume'] / speed['loop_volume']:.2f}",
                f"{speed['screen'] / speed['loop_all']:.2f}",
                f"{1000 * took['screen']:.0f}",
            ]
        )
    print("python -m tests.bench.speed\n")
    print("Million station-member-days a second, two years, float64, one core:\n")
    head = ["stations x members", "volume", "screen", "(a) loop, volume", "(b) loop, all"]
    head += ["budget", "dilution of all", "volume / (a)", "screen / (b)", "screen, ms"]
    print(table(head, rows))
    print(
        f"\nThe weather of every past year, {OUTLOOK_DAYS} days ahead, with all a screen shows:\n"
    )
    rows = []
    for stations in OUTLOOK_SIZES:
        case = outlook_case(stations)
        took = seconds({"screen": partial(screen, case)})
        rows.append(
            [f"{stations} x {case.forcing.rain_mm.shape[2]}", f"{1000 * took['screen']:.0f}"]
        )
    print(table(["stations x weather years", "screen, ms"], rows))


if __name__ == "__main__":
    main()
