"""A station as it is and as it might be, over all the weather years on file.

Each member lives through one year from the start of the season with what the readings
taught of the station; the station changes, the weather and the habits of animals do not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from store.model.known_levels import Levels
from store.model.modeled import Modeled
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.season.windows import Season, Window
from store.vocabulary import WindowKind
from store.water.balance import Balance, Change, ChangeKind, run_balance
from store.water.forcing import ARRAYS, Forcing
from store.water.look_ahead import forecast_errors, forecast_start
from store.water.parameters import SHELTER, Parameters, TankSite, tank_site_of
from store.weather.days import BoolArray, FloatArray

MEMBERS = 200
START_SHARE = 0.5
"""How full a tank stands when its year begins; the months to heavy use make it forget."""
MOST_FILLS = 12


@dataclass(frozen=True, eq=False)
class Variant:
    """What came of one form of a station; arrays have shape (members,).

    `wet_days` are those of the heavy-use weeks without any fill. `fills` are those needed
    from the day for topping up on, so that it never stands dry, and `brought_l` their water.
    """

    name: str
    facts: StationFacts
    capacity_l: float
    heavy_days: int
    wet_days: FloatArray
    fills: FloatArray
    brought_l: FloatArray

    @property
    def hold_chance(self) -> float:
        """That it holds water on every day of heavy use without a fill."""
        return float((self.wet_days >= self.heavy_days).mean())


@dataclass(frozen=True)
class WhatIf:
    """The station as it is, first, and its variants; `basis` says where the weather is from."""

    variants: tuple[Variant, ...]
    basis: str


def what_if(
    snapshot: Snapshot,
    levels: Levels,
    station_id: str,
    others: Sequence[tuple[str, StationFacts]] = (),
) -> WhatIf:
    """The station as it is and in other forms, by name.

    Raises:
        BadValue: the station has no level, or a form is no possible tank.
    """
    station = levels.of(station_id).station
    season = snapshot.season_of(station_id)
    days = _Year.of(season, snapshot.today)
    weather = station.site.ahead(days.before, days.length, MEMBERS)
    start = forecast_start(levels.followed[station_id], weather.forcing.rain_mm.shape[2])
    errors = forecast_errors(start, weather.forcing)
    run = _Run(
        station, days, _across(weather.forcing), start.parameters.map(np.transpose),
        _turned(errors.rain), _turned(errors.demand),
    )  # fmt: skip
    forms = [("as it is", station.facts), *others]
    return WhatIf(tuple(run.variant(name, facts) for name, facts in forms), weather.basis)


@dataclass(frozen=True)
class _Year:
    """The days of a season year, up to the end of heavy use."""

    before: date
    length: int
    top_up: int
    weeks: slice

    @staticmethod
    def of(season: Season, today: date) -> _Year:
        """The season under way; its first day may lie ahead of no record at all."""
        year = season.year_of(today)
        weeks = season.window(WindowKind.HEAVY_USE, year)
        first = season.starts.in_season(year, season.starts)
        top_up = season.window(WindowKind.FILL, year).first
        return _Year(
            before=first - timedelta(days=1),
            length=(weeks.last - first).days + 1,
            top_up=(top_up - first).days,
            weeks=_days(weeks, first),
        )


def _days(window: Window, first: date) -> slice:
    return slice((window.first - first).days, (window.last - first).days + 1)


@dataclass(frozen=True, eq=False)
class _Run:
    """What all forms of a station share; members lie along the axis of stations.

    So each of them can be filled on days of its own.
    """

    station: Modeled
    days: _Year
    forcing: Forcing
    parameters: Parameters
    rain_error: FloatArray | None
    demand_error: FloatArray | None

    def variant(self, name: str, facts: StationFacts) -> Variant:
        site = tank_site_of(facts)
        shelter = SHELTER[facts.exposure] / SHELTER[self.station.facts.exposure]
        parameters = replace(self.parameters, shelter=self.parameters.shelter * shelter)
        untouched = self._balance(site, parameters, ())
        weeks = self._dry(untouched, site)[self.days.weeks]
        fills = self._fills(site, parameters, untouched)
        count, brought_l = np.zeros(len(weeks[0])), np.zeros(len(weeks[0]))
        for applied in fills.applied:
            count[applied.change.station] += 1
            brought_l[applied.change.station] += float((applied.after_l - applied.before_l).mean())
        return Variant(
            name=name,
            facts=facts,
            capacity_l=site.tank.capacity_l,
            heavy_days=len(weeks),
            wet_days=np.asarray((~weeks).sum(axis=0), dtype=np.float64),
            fills=count,
            brought_l=brought_l,
        )

    def _fills(self, site: TankSite, parameters: Parameters, balance: Balance) -> Balance:
        """The run in which each member is filled whenever it falls dry after the top-up day."""
        changes: list[Change] = []
        filled_on = np.full(balance.volume_l.shape[1], self.days.top_up - 1)
        for _ in range(MOST_FILLS):
            dry = self._dry(balance, site)
            dry[np.arange(len(dry))[:, np.newaxis] <= filled_on] = False
            first = np.where(dry.any(axis=0), dry.argmax(axis=0), -1)
            wanting = np.flatnonzero(first >= 0)
            if not len(wanting):
                break
            changes += [Change(int(first[one]), int(one), ChangeKind.ADD) for one in wanting]
            filled_on[wanting] = first[wanting]
            balance = self._balance(site, parameters, changes)
        return balance

    def _balance(
        self, site: TankSite, parameters: Parameters, changes: Sequence[Change]
    ) -> Balance:
        members = self.forcing.rain_mm.shape[1]
        return run_balance(
            [site] * members,
            self.forcing,
            parameters,
            START_SHARE * site.tank.capacity_l,
            changes=changes,
            rain_error=self.rain_error,
            demand_error=self.demand_error,
        )

    def _dry(self, balance: Balance, site: TankSite) -> BoolArray:
        return np.asarray(balance.volume_l[:, :, 0] < site.dry_l)


def _turned(values: FloatArray | None) -> FloatArray | None:
    return None if values is None else np.ascontiguousarray(np.swapaxes(values, 1, 2))


def _across(forcing: Forcing) -> Forcing:
    """Members along the axis of stations."""
    turned = {name: np.swapaxes(getattr(forcing, name), 1, 2) for name in ARRAYS}
    return replace(forcing, **turned)
