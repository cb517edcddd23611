"""When each contaminated tank is expected clear and in use again, by every way out.

The water of a fouled tank is run anew from the day of the find, with the members the
readings left and little drinking, through what is known and every course ahead: as
it is, filled today, and emptied today.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from datetime import date

import numpy as np

from store.contamination.choices import Plan
from store.contamination.estimates import Choice, RecoveryForecast
from store.contamination.events import EventHistory
from store.contamination.recovery_forecast import Waters, event_forecast, station_outlook
from store.contamination.rule_of_thumb import forecast_without_weather
from store.contamination.tank_weather import (
    DRINKING_WHILE_FOULED,
    TankWeather,
    spilled_volumes,
)
from store.model.assimilation import FilterCache
from store.model.ensembles import EnsembleRun, ensemble_runs
from store.model.known_levels import Levels
from store.model.recovery import EventRecovery, Recoveries
from store.model.snapshot import Snapshot
from store.model.water_input import WaterInput, water_input
from store.records import StationFacts
from store.water.balance import Balance, run_balance
from store.water.dilution import weather_dilution
from store.water.geometry import tank_from_measures
from store.water.parameters import Parameters
from store.water.priors import unknown_start_l
from store.water.quantiles import members_of_band
from store.water.seeds import Purpose, station_rng
from store.weather.days import FloatArray


def recoveries_of(
    snapshot: Snapshot,
    levels: Levels,
    plan: Plan | None = None,
    *,
    only: Collection[str] | None = None,
    digests: Mapping[str, str] | None = None,
    memory: FilterCache | None = None,
) -> Recoveries:
    """The recovery of every open event.

    `plan` is the work to weigh, today's bailing of nine tenths if not given; `only` names
    the stations wanted. `memory` carries what was worked out before, where `digests` of the
    days ahead of stations are given; it holds what was asked for in the end.
    """
    plan = plan or Plan(snapshot.today)
    events: dict[str, list[EventHistory]] = {}
    for station, event in snapshot.open_events():
        if only is None or station.station_id in only:
            events.setdefault(station.station_id, []).append(event)
    keys = {
        event.event_id: _key(snapshot, station_id, event, plan, (digests or {}).get(station_id))
        for station_id, own in events.items()
        for event in own
    }
    known: dict[str, RecoveryForecast] = {} if memory is None else dict(memory.recovered)
    new = {
        station_id
        for station_id, own in events.items()
        if any(keys[event.event_id] not in known for event in own)
    }
    for station_id, run in _runs(levels, snapshot.today, new):
        station, wanted = snapshot.places.stations[station_id], snapshot.wanted_by(station_id)
        for event in events[station_id]:
            found = _event_forecast(snapshot, levels, run, station, event, plan, wanted)
            known[keys[event.event_id]] = found
    by_event = {
        event.event_id: EventRecovery(
            snapshot.places.stations[station_id],
            event,
            known[keys[event.event_id]],
            snapshot.wanted_by(station_id),
        )
        for station_id in _in_order(levels, snapshot.today, events)
        for event in events[station_id]
    }
    if memory is not None:
        memory.recovered = {key: known[key] for key in keys.values()}
    by_station: dict[str, Choice] = {}
    for station_id in {recovery.station.station_id for recovery in by_event.values()}:
        wanted = snapshot.wanted_by(station_id)
        own = [r.outlook for r in by_event.values() if r.station.station_id == station_id]
        combined = station_outlook(own, wanted) if len(own) > 1 else own[0].waiting
        if combined is None:
            combined = max((one.waiting for one in own), key=lambda c: c.used.median or date.max)
        by_station[station_id] = combined
    return Recoveries(by_event, by_station)


def _key(
    snapshot: Snapshot, station_id: str, event: EventHistory, plan: Plan, digest: str | None
) -> str:
    """What the recovery of an event depends on, beside the days ahead of its station."""
    history = snapshot.histories[station_id]
    priors = snapshot.cause_priors[event.cause]
    said = digest, history.retired, history.with_chores(event), priors, plan
    return repr((said, snapshot.wanted_by(station_id), snapshot.places.stations[station_id]))


def _in_order(levels: Levels, today: date, wanted: Collection[str]) -> list[str]:
    """Stations with a future first, in the order of their levels; the others by id."""
    ahead = [key for key, own in levels.by_station.items() if own.station.last >= today]
    return [key for key in dict.fromkeys((*ahead, *sorted(wanted))) if key in wanted]


def _runs(
    levels: Levels, today: date, wanted: Collection[str]
) -> Iterator[tuple[str, EnsembleRun | None]]:
    """The run ahead of every station wanted, one at a time; None where there is none."""
    missing = set(wanted)
    for station_id, run in ensemble_runs(levels, today, only=wanted):
        missing.discard(station_id)
        yield station_id, run
    for station_id in sorted(missing):
        yield station_id, None


def _event_forecast(
    snapshot: Snapshot,
    levels: Levels,
    run: EnsembleRun | None,
    station: StationFacts,
    event: EventHistory,
    plan: Plan,
    wanted: date,
) -> RecoveryForecast:
    priors = snapshot.cause_priors[event.cause]
    full_event = snapshot.histories[station.station_id].with_chores(event)
    if run is None or event.found < run.future.station.first:
        capacity_l = tank_from_measures(station.tank).capacity_l
        why = _why_by_thumb(snapshot, run, station)
        return forecast_without_weather(full_event, priors, station, capacity_l, plan, why=why)
    fouled = _Fouled(snapshot, levels, run, event.found)
    return event_forecast(
        full_event,
        priors,
        station,
        Waters(fouled.water(None), fouled.water(1.0), fouled.water(0.0)),
        plan,
        over=run.future.basis,
        before=wanted,
        closed=fouled.closed,
    )


def _why_by_thumb(snapshot: Snapshot, run: EnsembleRun | None, station: StationFacts) -> str:
    if run is not None:
        return "found before its levels begin"
    retired = snapshot.histories[station.station_id].retired is not None
    return "the station is retired" if retired else "no weather"


class _Fouled:
    """The water of a fouled station from the day of a find on."""

    def __init__(self, snapshot: Snapshot, levels: Levels, run: EnsembleRun, found: date) -> None:
        self._ahead, future = run, run.future
        self._station = future.station
        source = water_input([levels.waters[future.station.facts.station_id]])
        self._start, self._days = source.index(found), source.days - source.index(found)
        self._parameters = _little_drinking(run.balance.parameters)
        self._past = self._run_past(source, self._morning(levels, found))
        known = self._station.site.known(found, snapshot.today)
        past_c = ((known.tmin_c + known.tmax_c) / 2.0)[:, np.newaxis]
        members = future.volume_l.shape[1]
        self._temperature_c = np.concatenate(
            [np.broadcast_to(past_c, (self._days, members)), run.temperature_c]
        )
        covered = source.covered[self._start :, 0]
        self.closed = np.concatenate([covered, np.full(len(future.volume_l), covered[-1])])

    def _morning(self, levels: Levels, found: date) -> FloatArray:
        """Members of the water on the evening before the find, as it was known then."""
        station, members = self._station, self._ahead.future.volume_l.shape[1]
        before = (found - station.first).days - 1
        if before < 0:
            return unknown_start_l(station.facts.station_id, station.tank.capacity_l, members)
        run = levels.followed[station.facts.station_id]
        known = [quantiles[before, 0] for quantiles in (run.p10_l, run.p50_l, run.p90_l)]
        rng = station_rng(station.facts.station_id, Purpose.DEAL, found.toordinal())
        return members_of_band(known, station.tank.capacity_l, members, rng)

    def _run_past(self, source: WaterInput, morning: FloatArray) -> Balance:
        """From the find to today: the members' water and parameters, the log's hand work."""
        return run_balance(
            [self._station.tank_site],
            source.forcing.between(self._start, source.days),
            self._parameters,
            morning,
            changes=[
                replace(change, day=change.day - self._start)
                for change in source.changes
                if change.day >= self._start
            ],
            in_place=source.in_place[self._start :],
            covered=source.covered[self._start :],
        )

    def water(self, share: float | None) -> TankWeather:
        """The water as it is, or set to a share of the tank this evening."""
        ahead, capacity_l = self._ahead, self._station.tank.capacity_l
        start_l = self._past.volume_l[-1] if share is None else share * capacity_l
        run = run_balance(
            [self._station.tank_site],
            ahead.forcing,
            self._parameters,
            start_l,
            covered=ahead.covered,
            rain_error=ahead.balance.rain_error,
            demand_error=ahead.balance.demand_error,
        )
        unspilled = self._joined(
            weather_dilution(self._past, mixed_share=0.0), weather_dilution(run, mixed_share=0.0)
        )
        washed = self._joined(weather_dilution(self._past), weather_dilution(run))
        return TankWeather(
            unspilled=unspilled,
            spilled=spilled_volumes(unspilled, washed),
            volume_l=self._mornings(run),
            capacity_l=capacity_l,
            dry_l=self._station.tank_site.dry_l,
            temperature_c=self._temperature_c,
        )

    def _joined(self, past: FloatArray, ahead: FloatArray) -> FloatArray:
        members = self._ahead.future.volume_l.shape[1]
        known = np.broadcast_to(past[:, 0], (len(past), members))
        return np.concatenate([known, np.broadcast_to(ahead[:, 0], (len(ahead), members))])

    def _mornings(self, run: Balance) -> FloatArray:
        """Volumes at the start of each day, before its hand work, (days, members)."""
        evenings = self._joined(self._past.volume_l, run.volume_l)
        first = np.broadcast_to(self._past.start_volume_l, (1, evenings.shape[1]))
        today = len(self._past.volume_l)
        mornings = np.concatenate([first, evenings[:-1]])
        mornings[today] = run.start_volume_l[0]
        return mornings


def _little_drinking(parameters: Parameters) -> Parameters:
    return replace(
        parameters,
        drinking=parameters.drinking * DRINKING_WHILE_FOULED,
        rut=parameters.rut * DRINKING_WHILE_FOULED,
    )
