"""When each contaminated tank is expected back in use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from store.answers.futures import Fill, Future, futures
from store.answers.levels import Levels
from store.answers.snapshot import Snapshot
from store.contamination.causes import CAUSE_PARAMETERS
from store.contamination.events import EventHistory
from store.contamination.recovery import Recovery, recovery, recovery_without_weather
from store.contamination.washout import TankWater
from store.records import StationFacts
from store.water.dilution import weather_dilution
from store.weather.days import FloatArray


@dataclass(frozen=True)
class EventRecovery:
    """An open event with both ways out of it.

    `rounds` of bailing and refilling take `refill_l` litres in all; None where the
    tank's size is unknown to the model.
    """

    station: StationFacts
    event: EventHistory
    recovery: Recovery
    rounds: int
    refill_l: float | None

    @property
    def expected(self) -> date | None:
        """The median date of use again, as things stand."""
        return self.recovery.waiting.median


def recoveries(
    snapshot: Snapshot, answer: Levels, ahead: Mapping[str, Future]
) -> dict[str, EventRecovery]:
    """The recovery of every open event, by event id.

    `ahead` holds the futures from today's levels, by station id.
    """
    events = snapshot.open_events()
    stations = {station.station_id for station, _ in events}
    to_the_rim = {station_id: Fill(snapshot.today) for station_id in stations}
    filled = dict(futures(answer, snapshot.today, fills=to_the_rim, only=stations))
    return {
        event.event_id: _event_recovery(snapshot, answer, ahead, filled, station, event)
        for station, event in events
    }


def _event_recovery(
    snapshot: Snapshot,
    answer: Levels,
    ahead: Mapping[str, Future],
    filled: Mapping[str, Future],
    station: StationFacts,
    event: EventHistory,
) -> EventRecovery:
    cause = CAUSE_PARAMETERS[event.cause]
    rounds = cause.clear_rounds if cause.dissolved else 1
    full_event = snapshot.histories[station.station_id].with_chores(event)
    future = ahead.get(station.station_id)
    if future is None or event.found < future.station.first:
        by_thumb = recovery_without_weather(full_event, cause, bail_on=snapshot.today)
        return EventRecovery(station, event, by_thumb, rounds, None)
    found = recovery(
        full_event,
        cause,
        _tank_water(answer, future, event.found),
        bail_on=snapshot.today,
        over=future.basis,
        rounds=rounds,
        refilled_water=_tank_water(answer, filled[station.station_id], event.found),
    )
    return EventRecovery(station, event, found, rounds, rounds * future.station.tank.capacity_l)


def _tank_water(answer: Levels, future: Future, found: date) -> TankWater:
    """The weather's dilution from the find to today, then on through every course."""
    source, balance = answer.run
    column = source.stations.index(future.station)
    start = (found - source.first_day).days
    members = future.volume_l.shape[1]
    past = weather_dilution(balance.of_stations(column, column + 1))[start:, 0]
    ahead = weather_dilution(future.balance)[:, 0]
    return TankWater(
        dilution=np.concatenate([_spread(past, members), ahead]),
        volume_l=_mornings(balance.volume_l[:, column], future.volume_l, start),
        capacity_l=future.station.tank.capacity_l,
    )


def _mornings(past_l: FloatArray, ahead_l: FloatArray, start: int) -> FloatArray:
    """Volumes at the start of each day, before its hand work, (days, members)."""
    first = past_l[start - 1] if start else past_l[0]
    evenings = np.concatenate([_spread(past_l[start:], ahead_l.shape[1]), ahead_l])
    return np.concatenate([_spread(first[np.newaxis], ahead_l.shape[1]), evenings[:-1]])


def _spread(values: FloatArray, members: int) -> FloatArray:
    return np.broadcast_to(values, (len(values), members))
