"""Everything one station's page tells."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from store.errors import NotFound
from store.model.board import Board
from store.model.known_levels import LevelNow
from store.model.recovery import EventRecovery
from store.model.snapshot import Snapshot
from store.records import StationFacts
from store.season.cautions import OPEN_WATER, Caution
from store.season.history import RampSeen, StationHistory
from store.season.prompt import Prompt
from store.season.site import SitePoint
from store.views.learned import doubted_readings
from store.views.level_series import LevelSeries, level_series
from store.views.level_summary import LevelSummary, level_summary
from store.views.log_lines import LogLine, log_lines
from store.views.overview import overview_row
from store.views.site_check import site_state, tank_of
from store.water.geometry import Tank
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
    tank: Tank | None
    """Its geometry; None where the measures do not make a tank."""
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
    summary: LevelSummary | None
    """What the series shows, in numbers."""
    lines: tuple[LogLine, ...]
    weak: tuple[SitePoint, ...]
    """The weak points of its site and tank."""
    doubts: Mapping[str, str]
    """Why readings are doubted, by entry."""
    cautions: tuple[Caution, ...]
    """What is to be minded of water that stands open today."""


def station_page(board: Board, station_id: str, since: date | None = None) -> StationPage:
    """The page of a station, with its levels from that day's year on, else from this year's.

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
    series = level_series(board, station_id, since)
    doubted = doubted_readings(snapshot, board.levels, station_id)
    return StationPage(
        today=snapshot.today,
        facts=facts,
        label=row.label,
        tract=row.tract,
        number=order.index(station_id) + 1,
        count=len(order),
        tank=tank_of(facts),
        installed=history.installed,
        install_logged=history.install_logged,
        retired=history.retired,
        place=_place(snapshot, facts),
        weather=_weather(board, facts),
        level=row.level,
        no_level=row.no_level,
        ice=ice_today(board, station_id),
        covered_since=history.covered_since,
        ramp=history.last_ramp_check,
        events=tuple(board.recoveries.of_station(station_id)),
        prompts=row.prompts,
        level_series=series,
        summary=None if series is None else level_summary(board, station_id, series),
        lines=log_lines(snapshot, station_id),
        weak=site_state(snapshot, station_id).weak,
        doubts={one.entry_id: one.text for one in doubted if one.entry_id is not None},
        cautions=_cautions(history),
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


def _cautions(history: StationHistory) -> tuple[Caution, ...]:
    """Open water can drown a child: said of every tank in use that no cover is on."""
    in_use = history.installed is not None and history.retired is None
    return (OPEN_WATER,) if in_use and history.covered_since is None else ()


def ice_today(board: Board, station_id: str) -> bool:
    """Whether the model has ice on the water today that keeps animals off it."""
    levels = board.levels.by_station.get(station_id)
    if levels is None or levels.station.last < board.snapshot.today:
        return False
    today = board.snapshot.today
    return bool(levels.station.site.forcing(today, today).ice[-1, 0, 0])
