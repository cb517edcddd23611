"""Where the weather comes from, how far it reaches, and how much was filled or invented."""

from __future__ import annotations

from datetime import date

from store.model.snapshot import Snapshot
from store.model.weather_said import WeatherState


def weather_states(snapshot: Snapshot, first: date | None = None) -> tuple[WeatherState, ...]:
    """The state of each record in use, from `first` or the start of this year to today."""
    first = first or snapshot.today.replace(month=1, day=1)
    states = (weather.state(first, snapshot.today) for weather in snapshot.weather.values())
    return tuple({state.record_name: state for state in states}.values())


def weather_notes(snapshot: Snapshot, first: date | None = None) -> tuple[str, ...]:
    """For each record with missing days, a sentence that says how many and what stood in."""
    states = weather_states(snapshot, first)
    return tuple(_note(state, snapshot.today) for state in states if state.missing)


def _note(state: WeatherState, today: date) -> str:
    if state.from_normals:
        return (
            f"Weather {state.record_name}: {state.missing} of {state.days} days to {today} are "
            "in no record and were invented like the normals, so look at the bands of the "
            "levels, not at single days; import a weather record to do better."
        )
    return (
        f"Weather {state.record_name}: {state.missing} of {state.days} days to {today} are "
        "missing and were filled from the same calendar days of other years; the record ends "
        f"on {state.last_day}."
    )
