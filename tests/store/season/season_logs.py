"""Logs in short for the season's tests."""

from dataclasses import replace
from datetime import UTC, date, datetime

from store.records import Chore, Entry, Fact, RampCheck, StationFacts, TankMeasures
from store.season.history import StationHistory, station_history
from store.vocabulary import Access, ChoreKind, Shape

FACTS = StationFacts(
    station_id="s1",
    tract_id="t1",
    name="Upper bench",
    tank=TankMeasures(Shape.ROUND, depth_mm=762.0, diameter_mm=900.0),
    apron_area_m2=14.0,
    access=Access.VEHICLE,
)


def entries(*log: tuple[str, Fact]) -> list[Entry]:
    """Live entries from (ISO date, what), their ids in the order given."""
    return [
        Entry(f"{number:04}", "b", date.fromisoformat(on), datetime(2026, 1, 1, tzinfo=UTC), what)
        for number, (on, what) in enumerate(log)
    ]


def chore(on: str, kind: ChoreKind, volume_l: float | None = None) -> tuple[str, Chore]:
    return on, Chore("s1", kind, volume_l)


def install(on: str) -> tuple[str, Chore]:
    return chore(on, ChoreKind.INSTALL)


def ramp(on: str, in_place: bool = True) -> tuple[str, RampCheck]:
    return on, RampCheck("s1", in_place)


def history(*log: tuple[str, Fact], today: str = "2026-12-31", **facts: object) -> StationHistory:
    return station_history(
        replace(FACTS, **facts),  # type: ignore[arg-type]
        entries(*log),
        date.fromisoformat(today),
    )
