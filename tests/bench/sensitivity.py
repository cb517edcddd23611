"""Which parameter moves the October level most? Run: python -m tests.bench.sensitivity

One at a time, from the 10 to the 90 percent value of its prior, all others at their
medians: the 110-gallon tank with 150 ft2 of sculpted soil in part shade, full on 1
March, its level on 15 October; the median over the years of the record, and how many
inches it moves in the middle half of them. Fact has no prior is moved by hand: the
apron by a fifth either way, its surface from grass to liner, the depth by an inch (the
wall profile stretched with it).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from store.records import StationFacts
from store.units import gallons_from_litres, inches_from_mm
from store.vocabulary import ApronSurface
from store.water.balance import run_balance
from store.water.geometry import depth_at_volume_mm
from store.water.parameters import Parameters, tank_site_of
from store.water.priors import PARAMETER_NAMES, station_priors
from store.weather.days import FloatArray
from tests.bench.places import IN, TANK_110, Place, champion, new_york, station, table

APRON_FT2 = 150.0
START, ASKED = (3, 1), (10, 15)
LABEL = {
    "apron_yield": "apron yield",
    "shelter": "shelter from sun and wind",
    "drinking": "drinking beside the rut",
    "leak_mm_d": "leak",
    "rain": "rain multiplier",
    "snow_catch": "snow catch",
    "rut": "drinking in the rut",
    "rut_day": "day of the rut",
    "rut_width": "length of the rut",
}


@dataclass(frozen=True)
class Swing:
    """A parameter, its low and high setting in words, and the station or place of each."""

    name: str
    words: tuple[str, str]
    facts: tuple[StationFacts, StationFacts]
    scores: tuple[dict[str, float], dict[str, float]] = ({}, {})
    """Standard scores of priors that are not at their median."""


def swings() -> list[Swing]:
    """All that is moved, each between two tank_sites."""
    usual = station(TANK_110, APRON_FT2)
    low, high = NormalDist().inv_cdf(0.1), NormalDist().inv_cdf(0.9)
    priors = station_priors([usual])
    values = np.exp(priors.log_median + np.array([[low], [high]]) * priors.log_spread)
    by_prior = [
        Swing(
            LABEL[name],
            (f"{values[0, column]:.2f}", f"{values[1, column]:.2f}"),
            (usual, usual),
            ({name: low}, {name: high}),
        )
        for column, name in enumerate(PARAMETER_NAMES)
        if name in LABEL
    ]
    areas = (0.8 * APRON_FT2, 1.2 * APRON_FT2)
    surfaces = (ApronSurface.GRASS, ApronSurface.LINER)
    depths = (29.0, 31.0)
    return [
        *by_prior,
        Swing(
            "apron area",
            (f"{areas[0]:.0f} ft2", f"{areas[1]:.0f} ft2"),
            (station(TANK_110, areas[0]), station(TANK_110, areas[1])),
        ),
        Swing(
            "apron surface (curve number)",
            (surfaces[0].value, surfaces[1].value),
            (station(TANK_110, APRON_FT2, surfaces[0]), station(TANK_110, APRON_FT2, surfaces[1])),
        ),
        Swing(
            "depth",
            (f"{depths[0]:.0f} in", f"{depths[1]:.0f} in"),
            (
                station(replace(TANK_110, depth_mm=depths[0] * IN), APRON_FT2),
                station(replace(TANK_110, depth_mm=depths[1] * IN), APRON_FT2),
            ),
        ),
    ]


def october(
    place: Place, facts: StationFacts, scores: dict[str, float]
) -> tuple[FloatArray, FloatArray]:
    """Volume in gallons and depth in inches on the day asked, both of shape (years,)."""
    priors, tank_site = station_priors([facts]), tank_site_of(facts)
    spread = np.array([[scores.get(name, 0.0) for name in PARAMETER_NAMES]]) * priors.log_spread
    parameters = Parameters(*np.exp(priors.log_median + spread).T[:, :, np.newaxis])
    volume = np.array(
        [
            run_balance(
                [tank_site],
                place.forcing.between(place.index(year, *START), place.index(year, *ASKED) + 1),
                parameters,
                tank_site.tank.capacity_l,
            ).volume_l[-1, 0, 0]
            for year in place.years
        ]
    )
    return (
        gallons_from_litres(1.0) * volume,
        inches_from_mm(1.0) * depth_at_volume_mm(tank_site.tank, volume),
    )


def rows_of(place: Place) -> list[list[str]]:
    """Table rows of a place, the parameter that moves the level most first."""
    moved = []
    for swing in swings():
        low, high = (
            october(place, facts, scores)
            for facts, scores in zip(swing.facts, swing.scores, strict=True)
        )
        inches = high[1] - low[1]
        quarter, three_quarters = np.quantile(inches, (0.25, 0.75))
        moved.append(
            (
                -abs(float(np.median(inches))),
                [
                    f"{place.name}: {swing.name}",
                    " to ".join(swing.words),
                    f"{np.median(high[0] - low[0]):+.1f}",
                    f"{np.median(inches):+.1f}",
                    f"{quarter:+.1f} to {three_quarters:+.1f}",
                ],
            )
        )
    return [row for _, row in sorted(moved, key=lambda pair: pair[0])]


def main() -> None:
    print("python -m tests.bench.sensitivity\n")
    rows = []
    for place in (new_york(), champion()):
        volume, depth = october(place, station(TANK_110, APRON_FT2), {})
        print(
            f"{place.name}, {len(volume)} years, all at their medians: "
            f"{np.median(volume):.0f} gal, {np.median(depth):.1f} in of water (median)."
        )
        rows += rows_of(place)
    head = ["parameter", "low to high", "gal", "in", "in, middle half of years"]
    print("\n" + table(head, rows))


if __name__ == "__main__":
    main()
