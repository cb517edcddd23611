"""The facts of the trade over all years. Run: python -m tests.bench.facts

Common practice, no source: half a drum is dry within two weeks without rain, a large
tank is not; a tank with a good apron wants a fill or two an autumn at most; a light wide
pool loses its water to the air. Parameters stand at the defaults and none is tuned to
the records. The fill rule: on the evening of any day from September to November on
which less than a quarter is left, the tank is topped to the rim.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from store.records import StationFacts, TankMeasures
from store.vocabulary import ApronSurface, Exposure, Shape
from store.water.accounts import budget
from store.water.balance import run_balance
from store.water.forcing import Forcing
from store.water.parameters import default_parameters, tank_site_of
from store.weather.days import FloatArray
from tests.bench.places import (
    HALF_DRUM,
    IN,
    POOL,
    TANK_110,
    TANK_160,
    Place,
    champion,
    new_york,
    shenandoah,
    station,
    table,
)

STRAIGHT = TankMeasures(Shape.ROUND, 30 * IN, diameter_mm=32.8 * IN)
"""30 in deep and as much water as the pool, three times as deep."""
STARTS = ((10, 1), (10, 15), (11, 1))
DRY_DAYS = 60
FILL_BELOW = 0.25
APRONS = (
    ("110 gal, rim too high for an apron", TANK_110, 0.0, ApronSurface.SCULPTED_SOIL),
    ("110 gal, 60 ft2 of sculpted soil", TANK_110, 60.0, ApronSurface.SCULPTED_SOIL),
    ("110 gal, 150 ft2 of sculpted soil", TANK_110, 150.0, ApronSurface.SCULPTED_SOIL),
    ("110 gal, 300 ft2 of sculpted soil", TANK_110, 300.0, ApronSurface.SCULPTED_SOIL),
    (
        "110 gal straight, 100 ft2 of sculpted soil",
        STRAIGHT,
        100.0,
        ApronSurface.SCULPTED_SOIL,
    ),
    (
        "110 gal straight, 250 ft2 of sculpted soil",
        STRAIGHT,
        250.0,
        ApronSurface.SCULPTED_SOIL,
    ),
    ("110 gal, 150 ft2 of grass", TANK_110, 150.0, ApronSurface.GRASS),
    ("110 gal, 150 ft2 of liner", TANK_110, 150.0, ApronSurface.LINER),
    ("160 gal, 150 ft2 of sculpted soil", TANK_160, 150.0, ApronSurface.SCULPTED_SOIL),
    ("half drum, 150 ft2 of sculpted soil", HALF_DRUM, 150.0, ApronSurface.SCULPTED_SOIL),
)


def without_rain(forcing: Forcing) -> Forcing:
    none = np.zeros_like(forcing.rain_mm)
    return replace(forcing, rain_mm=none, snow_mm=none, apron_mm=none)


def days_until(place: Place, facts: StationFacts, left_share: float) -> FloatArray:
    """Days without rain until no more than a share of a full tank is left, by start.

    `DRY_DAYS` where it lasts so long. Starts near the end of the record, and those
    after which ice closes the tank within two weeks, are left out."""
    tank_site, parameters = tank_site_of(facts), default_parameters([facts])
    capacity, dry = tank_site.tank.capacity_l, without_rain(place.forcing)
    result = []
    for year in place.years:
        for month, day in STARTS:
            start = place.index(year, month, day)
            if dry.days - start < DRY_DAYS or dry.ice[start : start + 14].any():
                continue
            ahead = dry.between(start, start + DRY_DAYS)
            volume = run_balance([tank_site], ahead, parameters, capacity).volume_l[:, 0, 0]
            low = np.flatnonzero(volume <= left_share * capacity)
            result.append(float(low[0] + 1) if len(low) else float(DRY_DAYS))
    return np.array(result)


def autumn_fills(place: Place, facts: StationFacts) -> FloatArray:
    """Fills of each autumn under the rule, the tank full on 1 January of the first year."""
    tank_site, parameters = tank_site_of(facts), default_parameters([facts])
    capacity, fills = tank_site.tank.capacity_l, []
    volume, at = capacity, 0
    for year in place.years:
        first, stop = place.index(year, 9, 1), place.index(year, 12, 1)
        volume = float(_volumes(place, tank_site, parameters, volume, at, first)[-1])
        at, count = first, 0
        while at < stop:
            rest = _volumes(place, tank_site, parameters, volume, at, stop)
            low = np.flatnonzero(rest < FILL_BELOW * capacity)
            if not len(low):
                volume, at = float(rest[-1]), stop
                break
            count += 1
            volume, at = capacity, at + int(low[0]) + 1
        fills.append(count)
    return np.array(fills, dtype=np.float64)


def _volumes(place, tank_site, parameters, volume_l, start, stop) -> FloatArray:  # type: ignore[no-untyped-def]
    forcing = place.forcing.between(start, stop)
    return run_balance([tank_site], forcing, parameters, volume_l).volume_l[:, 0, 0]


def july_losses(place: Place) -> FloatArray:
    """Share of the water of the pool and of a straight tank that a July without rain takes.

    Open sky, nobody drinking, both full on the first; shape (years, 2)."""
    stations = [station(tank, 0.0, exposure=Exposure.OPEN) for tank in (POOL, STRAIGHT)]
    tank_sites = [tank_site_of(facts) for facts in stations]
    parameters = replace(default_parameters(stations), drinking=np.zeros((2, 1)))
    full = np.array([[tank_site.tank.capacity_l] for tank_site in tank_sites])
    dry = without_rain(place.forcing)
    return np.array(
        [
            budget(
                run_balance(
                    tank_sites,
                    dry.between(place.index(year, 7, 1), place.index(year, 8, 1)),
                    parameters,
                    full,
                )
            ).evaporation_l
            / full[:, 0]
            for year in place.years
        ]
    )


def spread(values: FloatArray, digits: int = 0) -> list[str]:
    """Least, 10 percent, median, 90 percent and greatest, in words for a table."""
    return [f"{value:.{digits}f}" for value in np.quantile(values, (0.0, 0.1, 0.5, 0.9, 1.0))]


def main() -> None:
    print("python -m tests.bench.facts\n")
    places = (new_york(), shenandoah(), champion())
    head = ["", "least", "10 %", "median", "90 %", "most", "cases"]
    print(f"Days without rain, average use, part shade, full on {len(STARTS)} dates of every")
    print("autumn:\n")
    spells = (("half drum until dry", HALF_DRUM, 0.0), ("110 gal to a quarter", TANK_110, 0.25))
    rows = []
    for place in places:
        for name, tank, share in spells:
            days = days_until(place, station(tank, 0.0), share)
            rows.append([f"{name}, {place.name}", *spread(days), str(len(days))])
    print(table(head, rows))
    print("\nAutumn fills a year under the rule, average use, part shade:\n")
    rows = []
    for name, tank, apron_ft2, surface in APRONS:
        cells = [name]
        for place in places:
            fills = autumn_fills(place, station(tank, apron_ft2, surface))
            error = fills.std(ddof=1) / np.sqrt(len(fills))
            cells += [f"{fills.mean():.2f} ± {error:.2f}", f"{fills.min():.0f}-{fills.max():.0f}"]
            cells.append(f"{(fills == 0).mean():.2f}")
        rows.append(cells)
    columns = [f"{what}, {p.name}" for p in places for what in ("mean", "range", "years without")]
    print(table(["tank and apron", *columns], rows))
    print("\nPercent of the water a July without rain takes, open sky, nobody drinking:\n")
    rows = []
    for place in places:
        lost = 100.0 * july_losses(place)
        rows.append([f"pool 10 in deep, {place.name}", *spread(lost[:, 0]), str(len(lost))])
        rows.append([f"tank 30 in deep, {place.name}", *spread(lost[:, 1]), str(len(lost))])
    print(table(head, rows))


if __name__ == "__main__":
    main()
