"""What is believed about a station's parameters before anybody reads its level.

Every parameter is lognormal: a median, and a spread that is the standard deviation
of its logarithm. Two of three stations lie within a factor exp(spread) of the median.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cache
from statistics import NormalDist
from types import MappingProxyType

import numpy as np

from store.errors import BadValue
from store.records import StationFacts
from store.water.parameters import Parameters, default_parameters
from store.water.seeds import Purpose, station_rng
from store.weather.days import FloatArray

MEMBERS = 500
"""Members that follow a station. In the tuning worlds of tests/bench/twins.py the 80
percent band covered 73 percent with 50 members, 77 with 200, 79 with 500 and 1,000."""
PARAMETER_NAMES = tuple(field.name for field in fields(Parameters))


@dataclass(frozen=True)
class Prior:
    """A lognormal prior; a median of None is the default of the station's facts."""

    spread: float
    evidence: str
    median: float | None = None


PRIORS: Mapping[str, Prior] = MappingProxyType(
    {
        "apron_yield": Prior(
            0.45,
            "assumed; wide enough that sculpted soil reaches the 31 to 43 percent of all rain "
            "that compacted earth shed in Texas (published: Texas Water Resources Institute "
            "TR-46, 1972) and the 10 to 30 percent of untreated soil",
        ),
        "shelter": Prior(
            0.30,
            "assumed; pans alone differ by factors of 0.35 to 0.85 with their surroundings "
            "(published: FAO Irrigation and Drainage Paper 56, Table 5)",
        ),
        "drinking": Prior(
            1.2,
            "assumed; a deer takes 3 to 6 quarts a day (published: Alabama, Biology and "
            "Management of White-tailed Deer), and nobody knows how many come while browse is "
            "green: wide enough for a summer in which they drink ten times as much (tuned, "
            "tests/bench/drinking_worlds.py)",
        ),
        "leak_mm_d": Prior(
            1.0, "assumed; one tank in a hundred loses more than 1 mm a day", median=0.1
        ),
        "rain": Prior(0.12, "assumed; a gauge some miles off, over a season"),
        "snow_catch": Prior(0.35, "assumed; gauges miss snow, wind carries it"),
        "rut": Prior(0.60, "assumed; how many animals come in the rut is not told by the summer"),
        "rut_day": Prior(
            0.04,
            "height of the rut about 2 November (common practice, no source), twelve days earlier "
            "or later in two years of three (assumed, tuned as above)",
        ),
        "rut_width": Prior(0.40, "assumed; the weeks of most use are longer in some years"),
        "visit_l": Prior(0.6, "assumed; who comes by day and night, and how many a camera sees"),
    }
)


KEPT_OVER_A_YEAR: Mapping[str, float] = MappingProxyType(
    {"drinking": 0.8, "rut": 0.8, "rut_day": 0.5, "rut_width": 0.5}
)
"""How much of a year's habit the next one keeps, as a correlation of logarithms (assumed);
what is not named is of the tank and its place, and stays."""


@dataclass(frozen=True, eq=False)
class StationPriors:
    """Priors of stations; both arrays have shape (stations, parameters).

    Parameters stand in the order of `PARAMETER_NAMES`.
    """

    log_median: FloatArray
    log_spread: FloatArray


def station_priors(stations: Sequence[StationFacts]) -> StationPriors:
    """The documented prior of every station."""
    defaults = default_parameters(stations)
    median = [
        np.full(len(stations), prior.median)
        if prior.median is not None
        else getattr(defaults, name)[:, 0]
        for name, prior in PRIORS.items()
    ]
    spread = [np.full(len(stations), prior.spread) for prior in PRIORS.values()]
    return StationPriors(np.log(np.stack(median, axis=1)), np.stack(spread, axis=1))


def draw_parameters(
    station_ids: Sequence[str], priors: StationPriors, members: int = MEMBERS
) -> Parameters:
    """Members drawn from the priors, every array of shape (stations, members).

    Each parameter takes every quantile once, in an order of its own, so few members
    spread as evenly as many. A station's draws depend on its id alone.

    Raises:
        BadValue: fewer than two members.
    """
    if members < 2:
        raise BadValue(f"{members} members cannot show a spread; ask for at least two.")
    scores = normal_scores(members)
    values = np.empty((len(PARAMETER_NAMES), len(station_ids), members))
    for row, station_id in enumerate(station_ids):
        rng = station_rng(station_id, Purpose.PRIOR)
        for column in range(len(PARAMETER_NAMES)):
            spread = priors.log_spread[row, column] * rng.permutation(scores)
            values[column, row] = np.exp(priors.log_median[row, column] + spread)
    return Parameters(*values)


def renewed(
    parameters: FloatArray, priors: StationPriors, station: int, rng: np.random.Generator
) -> FloatArray:
    """A station's members as a new year may find them, shape (parameters, members).

    What animals do drifts back towards its prior by `KEPT_OVER_A_YEAR`, each member by
    chance of its own, so that last year teaches this one and does not bind it.
    """
    result = parameters.copy()
    for name, kept in KEPT_OVER_A_YEAR.items():
        row = PARAMETER_NAMES.index(name)
        middle, spread = priors.log_median[station, row], priors.log_spread[station, row]
        fresh = spread * rng.standard_normal(parameters.shape[1])
        apart = kept * (np.log(parameters[row]) - middle) + np.sqrt(1.0 - kept**2) * fresh
        result[row] = np.exp(middle + apart)
    return result


def unknown_start_l(station_id: str, capacity_l: float, members: int) -> FloatArray:
    """Members of a start volume nobody knows: every level alike, shape (members,)."""
    even = (np.arange(members) + 0.5) / members * capacity_l
    return station_rng(station_id, Purpose.START).permutation(even)


@cache
def normal_scores(count: int) -> FloatArray:
    """Standard normal quantiles in the middle of `count` equal shares, shape (count,)."""
    normal = NormalDist()
    return np.array([normal.inv_cdf((k + 0.5) / count) for k in range(count)])
