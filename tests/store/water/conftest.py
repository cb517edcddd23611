"""Weather records and stations shared by the water tests."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from store.records import StationFacts, TankMeasures
from store.units import m2_from_ft2
from store.vocabulary import ApronSurface
from store.weather.days import FloatArray

DATA = Path(__file__).parents[2] / "data"


@dataclass(frozen=True)
class Record:
    """A daily record of tests/data with its place."""

    latitude_deg: float
    elevation_m: float
    first_day: date
    columns: dict[str, FloatArray]

    def __getitem__(self, name: str) -> FloatArray:
        return self.columns[name]

    @property
    def dates(self) -> list[date]:
        start = self.first_day.toordinal()
        return [date.fromordinal(start + day) for day in range(len(self["rain_mm"]))]

    @property
    def day_of_year(self) -> FloatArray:
        return np.array([day.timetuple().tm_yday for day in self.dates], dtype=np.float64)


def read_record(name: str, latitude_deg: float, elevation_m: float) -> Record:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    names = lines[0].split(",")[1:]
    rows = [line.split(",") for line in lines[1:]]
    values = np.array([row[1:] for row in rows], dtype=np.float64)
    columns = {name: values[:, index] for index, name in enumerate(names)}
    return Record(latitude_deg, elevation_m, date.fromisoformat(rows[0][0]), columns)


@pytest.fixture(scope="session")
def champion() -> Record:
    return read_record("champion_daily.csv", 40.4, 1000.0)


@pytest.fixture(scope="session")
def new_york() -> Record:
    return read_record("new_york_daily.csv", 40.8, 40.0)


@pytest.fixture(scope="session")
def shenandoah() -> Record:
    return read_record("shenandoah_daily.csv", 38.3, 911.0)


def make_station(tank: TankMeasures, **changes: object) -> StationFacts:
    """A station with a 150 ft2 apron of sculpted soil in part shade."""
    facts: dict[str, object] = {
        "station_id": "s",
        "tract_id": "t",
        "name": "Hollow tank",
        "tank": tank,
        "apron_area_m2": m2_from_ft2(150.0),
        "apron_surface": ApronSurface.SCULPTED_SOIL,
    }
    return StationFacts(**(facts | changes))  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def station():  # type: ignore[no-untyped-def]
    """The function `make_station`."""
    return make_station
