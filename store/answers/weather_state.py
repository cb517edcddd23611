"""How far the weather reaches, and how many days had to be filled."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.answers.snapshot import Snapshot
from store.weather.gaps import gap_count


@dataclass(frozen=True)
class WeatherState:
    """A weather record from a first day to today; `missing` days were filled."""

    record_name: str
    last_day: date
    days: int
    missing: int


def weather_states(snapshot: Snapshot, first: date | None = None) -> tuple[WeatherState, ...]:
    """The state of each record in use, from `first` or the start of this year to today."""
    first = first or snapshot.today.replace(month=1, day=1)
    states = {}
    for weather in snapshot.weather.values():
        count = gap_count(weather.weather, first, snapshot.today)
        missing = max(count.without_rain, count.without_temperature)
        states[weather.record_name] = WeatherState(
            weather.record_name, weather.weather.last_day, count.days, missing
        )
    return tuple(states.values())


def weather_notes(snapshot: Snapshot, first: date | None = None) -> tuple[str, ...]:
    """For each record with missing days, a sentence that says how many were filled."""
    return tuple(
        f"Weather {state.record_name}: {state.missing} of {state.days} days to "
        f"{snapshot.today} are missing and were filled from the same calendar days of other "
        f"years; the record ends on {state.last_day}."
        for state in weather_states(snapshot, first)
        if state.missing
    )
