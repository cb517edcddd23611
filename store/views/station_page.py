"""Everything one station's page tells."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.errors import NotFound
from store.model.board import Board
from store.model.recoveries import EventRecovery
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.season.history import RampSeen
from store.season.prompt import Prompt
from store.season.site import SitePoint
from store.views.level_series import LevelSeries, level_series
from store.views.log_lines import LogLine, log_lines
from store.views.overview import LevelNow, overview_row
from store.views.site_check import capacity_of, site_state
from store.weather.gaps import gap_count


@dataclass(frozen=True)
class WeatherUsed:
    """The record behind a level: of `days` days from `first` to today `filled` were filled."""

    record_name: str
    first: date
    last_known: date
    days: int
    filled: int
    gauge_days: int


@dataclass(frozen=True)
class Place:
    """Where a station is; `whose` says whose latitude it is, in words."""

    latitude_deg: float
    longitude_deg: float | None
    whose: str


@dataclass(frozen=True, eq=False)
class StationPage:
    """A station today; None where the log or the model has nothing to say.

    `number` of `count` is its place in the list, both counted from 1.
    """

    today: date
    facts: StationFacts
    label: str
    tract: str
    number: int
    count: int
    capacity_l: float | None
    installed: date | None
    install_logged: bool
    retired: date | None
    place: Place | None
    weather: WeatherUsed | None
    level: LevelNow | None
    no_level: str
    """Why there is no level, or empty."""
    ice: bool
    """Whether the model has ice on the water today that keeps animals off it."""
    covered_since: date | None
    ramp: RampSeen | None
    events: tuple[EventRecovery, ...]
    prompts: tuple[Prompt, ...]
    level_series: LevelSeries | None
    lines: tuple[LogLine, ...]
    weak: tuple[SitePoint, ...]
    """The weak points of its site and tank."""


def station_page(board: Board, station_id: str) -> StationPage:
    """The page of a station.

    Raises:
        NotFound: the logbook holds no such station.
    """
    snapshot = board.snapshot
    if station_id not in snapshot.places.stations:
        raise NotFound("This station is no longer in the logbook; go back and choose another.")
    facts = snapshot.places.stations[station_id]
    history = snapshot.histories[station_id]
    row = overview_row(board, facts)
    order = list(snapshot.places.stations)
    return StationPage(
        today=snapshot.today,
        facts=facts,
        label=row.label,
        tract=row.tract,
        number=order.index(station_id) + 1,
        count=len(order),
        capacity_l=capacity_of(facts),
        installed=history.installed,
        install_logged=history.install_logged,
        retired=history.retired,
        place=_place(snapshot, facts),
        weather=_weather(board, facts),
        level=row.level,
        no_level=row.no_level,
        ice=_ice(board, station_id),
        covered_since=history.covered_since,
        ramp=history.last_ramp_check,
        events=tuple(board.recoveries.of_station(station_id)),
        prompts=row.prompts,
        level_series=level_series(board, station_id),
        lines=log_lines(snapshot, station_id),
        weak=site_state(snapshot, station_id).weak,
    )


def next_station(snapshot: Snapshot, station_id: str, steps: int) -> str:
    """The station so many steps on in the list of all, round and round; itself without any."""
    order = list(snapshot.places.stations)
    if not order:
        return station_id
    here = order.index(station_id) if station_id in order else 0
    return order[(here + steps) % len(order)]


def _place(snapshot: Snapshot, facts: StationFacts) -> Place | None:
    if facts.latitude_deg is not None:
        return Place(facts.latitude_deg, facts.longitude_deg, "its own")
    tract = snapshot.places.tract_of(facts)
    if tract.latitude_deg is not None:
        return Place(tract.latitude_deg, tract.longitude_deg, "of the tract")
    weather = snapshot.weather_of(facts)
    if weather is None or weather.latitude_deg is None:
        return None
    return Place(weather.latitude_deg, None, "of the weather record")


def _weather(board: Board, facts: StationFacts) -> WeatherUsed | None:
    """Counted over the days modeled, or over this year where there is no level."""
    used, today = board.snapshot.weather_of(facts), board.snapshot.today
    if used is None:
        return None
    levels = board.levels.by_station.get(facts.station_id)
    first = today.replace(month=1, day=1) if levels is None else levels.first_day
    count = gap_count(used.weather, first, today)
    return WeatherUsed(
        record_name=used.record_name,
        first=first,
        last_known=used.weather.last_day,
        days=count.days,
        filled=max(count.without_rain, count.without_temperature),
        gauge_days=used.gauge_days,
    )


def _ice(board: Board, station_id: str) -> bool:
    levels = board.levels.by_station.get(station_id)
    if levels is None or levels.station.last < board.snapshot.today:
        return False
    today = board.snapshot.today
    return bool(levels.station.site.forcing(today, today).ice[-1, 0, 0])
