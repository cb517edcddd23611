from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from store.logbook.journal import write
from store.logbook.opening import Logbook
from store.records import Draft, StationFacts, TankMeasures, TractFacts
from store.vocabulary import Shape
from tests.new_logbook import new_logbook

TODAY = date(2026, 10, 1)
TANK = TankMeasures(Shape.RECTANGULAR, depth_mm=762.0, length_mm=1219.2, width_mm=914.4)


@dataclass
class OneStation:
    """A logbook with one tract and one station, and their ids."""

    logbook: Logbook
    tract_id: str
    station_id: str

    def facts(self, **changes: object) -> StationFacts:
        given = {"station_id": self.station_id, "tract_id": self.tract_id, "name": "Oak flat"}
        return StationFacts(**given | {"tank": TANK, "apron_area_m2": 14.0} | changes)


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Logbook]:
    logbook = new_logbook(tmp_path / "book.db")
    logbook.fixed_today = TODAY
    yield logbook
    logbook.close()


@pytest.fixture
def one(empty: Logbook) -> OneStation:
    one = OneStation(empty, empty.new_id(), empty.new_id())
    tract = TractFacts(one.tract_id, "North ridge", latitude_deg=42.0)
    write(empty, "Set up", [Draft(TODAY, tract), Draft(TODAY, one.facts())])
    return one
