"""What a season was like at a station: water, work, visits, fouling, use, and its fills."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from store.model.known_levels import Levels
from store.model.levels import StationLevels
from store.model.snapshot import Snapshot
from store.season.history import FillDone, StationHistory
from store.season.windows import Window
from store.vocabulary import UseSeen, WindowKind
from store.water.balance import Change, ChangeKind, run_balance
from store.weather.days import FloatArray


@dataclass(frozen=True)
class FillReview:
    """One fill; `litres` as logged, or what the model says it took to the rim.

    `brought_days` are wet days of that season's heavy-use weeks that there would not have
    been without it; None where the model cannot say.
    """

    on: date
    litres: float | None
    brought_days: float | None


@dataclass(frozen=True)
class StationSeason:
    """One station in one season, up to today.

    `wet_days` of the `heavy_days` gone by had water within reach: by the 10 percent, the
    median and the 90 percent quantile of each day, so the edges are wider than a band of the
    count would be; None without a level. `animals_a_day` is the mean of the cameras.
    """

    station_id: str
    year: int
    heavy_days: int
    wet_days: tuple[int, int, int] | None
    dry_spells: int
    dry_days: int
    fills: tuple[FillReview, ...]
    visits: int
    quiet_visits: int
    fouled_days: int
    fouled_heavy_days: int
    use_seen: int
    """Looks that saw light or heavy sign of use."""
    animals_a_day: float | None

    @property
    def hauled_l(self) -> float:
        return sum(fill.litres or 0.0 for fill in self.fills)

    @property
    def brought_days(self) -> float:
        return sum(fill.brought_days or 0.0 for fill in self.fills)

    @property
    def animals_per_wet_share(self) -> float | None:
        """Animals a day on the camera for each share of heavy use with water."""
        if self.animals_a_day is None or self.wet_days is None or not self.wet_days[1]:
            return None
        return self.animals_a_day * self.heavy_days / self.wet_days[1]


def review_years(snapshot: Snapshot, station_id: str) -> tuple[int, ...]:
    """The season years that a station has stood in, oldest first."""
    history, season = snapshot.histories[station_id], snapshot.season_of(station_id)
    if history.installed is None:
        return ()
    last = min(history.retired or snapshot.today, snapshot.today)
    first_year, last_year = season.year_of(history.installed), season.year_of(last)
    return tuple(range(first_year, last_year + 1))


def station_season(snapshot: Snapshot, levels: Levels, station_id: str, year: int) -> StationSeason:
    """One season of a station."""
    history, season = snapshot.histories[station_id], snapshot.season_of(station_id)
    begins = season.starts.in_season(year, season.starts)
    ends = min(season.starts.in_season(year + 1, season.starts) - timedelta(days=1), snapshot.today)
    weeks, quiet = (season.window(k, year) for k in (WindowKind.HEAVY_USE, WindowKind.QUIET))
    own = levels.by_station.get(station_id)
    past = _days(weeks.first, min(weeks.last, snapshot.today))
    stood = [day for day in past if history.stood_on(day)]
    spells = (
        [] if own is None else [(a, b) for a, b in own.dry_spells() if a <= ends and b >= begins]
    )
    fouled = _fouled(history, snapshot.today)
    visits = {day for day in history.looks if begins <= day <= ends}
    cameras = [
        seen.camera_per_day
        for seen in history.uses
        if begins <= seen.on <= ends and seen.camera_per_day is not None
    ]
    return StationSeason(
        station_id=station_id,
        year=year,
        heavy_days=len(stood),
        wet_days=_wet_days(own, stood),
        dry_spells=len(spells),
        dry_days=sum((last - first).days + 1 for first, last in spells),
        fills=tuple(
            _fill(snapshot, levels, station_id, fill, weeks)
            for fill in history.fills
            if begins <= fill.on <= ends
        ),
        visits=len(visits),
        quiet_visits=sum(day in quiet for day in visits),
        fouled_days=sum(begins <= day <= ends for day in fouled),
        fouled_heavy_days=len(fouled.intersection(stood)),
        use_seen=sum(
            begins <= seen.on <= ends and seen.use in (UseSeen.LIGHT, UseSeen.HEAVY)
            for seen in history.uses
        ),
        animals_a_day=float(np.mean(cameras)) if cameras else None,
    )


def _days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def _wet_days(own: StationLevels | None, days: Iterable[date]) -> tuple[int, int, int] | None:
    if own is None:
        return None
    indices = [(day - own.first_day).days for day in days]
    known = [index for index in indices if 0 <= index < len(own.volume_l)]
    if not known:
        return None
    dry_l = own.station.tank_site.dry_l

    def wet(volumes: FloatArray) -> int:
        return int((volumes[known] >= dry_l).sum())

    low, middle, high = wet(own.low_l), wet(own.volume_l), wet(own.high_l)
    return min(low, middle), middle, max(middle, high)


def _fouled(history: StationHistory, today: date) -> set[date]:
    """Days on which any contamination event was open."""
    return {
        day
        for event in history.events
        for day in _days(event.found, (event.closed or today) - timedelta(days=1))
    }


def _fill(
    snapshot: Snapshot, levels: Levels, station_id: str, fill: FillDone, weeks: Window
) -> FillReview:
    own = levels.by_station.get(station_id)
    before = -1 if own is None else (fill.on - own.first_day).days - 1
    if own is None or not 0 <= before < len(own.volume_l) - 1:
        return FillReview(fill.on, fill.volume_l, None)
    start_l = float(own.volume_l[before])
    took_l = max(own.station.tank.capacity_l - start_l, 0.0)
    litres = took_l if fill.volume_l is None else fill.volume_l
    return FillReview(fill.on, litres, _brought(snapshot, levels, station_id, fill, start_l, weeks))


def _brought(
    snapshot: Snapshot,
    levels: Levels,
    station_id: str,
    fill: FillDone,
    start_l: float,
    weeks: Window,
) -> float | None:
    """Wet days of heavy use with the fill less those without, from the evening before it.

    Both are run with what is learned of the station now, in the weather that came.
    """
    last = min(weeks.last, snapshot.today)
    if last < weeks.first or fill.on > last:
        return None
    station = levels.of(station_id).station
    forcing = station.site.forcing(fill.on, last)
    parameters = levels.followed[station_id].parameters
    heavy = slice(max((weeks.first - fill.on).days, 0), None)

    def wet(changes: tuple[Change, ...]) -> float:
        run = run_balance([station.tank_site], forcing, parameters, start_l, changes=changes)
        return float((run.volume_l[heavy] >= station.tank_site.dry_l).mean(axis=2).sum())

    return wet((Change(0, 0, ChangeKind.ADD, fill.volume_l),)) - wet(())
